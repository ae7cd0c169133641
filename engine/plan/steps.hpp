// The steps of a plan: an order laid over its shut-offs, its stations and its gauges, with the
// pressures, limits and ways back of the state that each step leaves.
//
// A gauge's limits: low is the least pressure of its tier, of the customers on its main or of the
// station's inlet, whichever is higher; high is the tier's MAOP, or the station's relief where that
// is lower. What is to lose its gas may read down to nought once anything is shut, and at most
// steps.vented_most once it is vented down. A limit that is not set is an undecided finding.
//
// Undo is the time back to the state before; while the main is cut there is none. What the base
// order does not know (is the bypass needed? which tool?) is said under `assumed`.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "findings/watch.hpp"
#include "plan/order.hpp"
#include "plan/plan.hpp"
#include "plan/stages.hpp"
#include "plan/step.hpp"

namespace bellhole::plan {

struct StepsQuestion {
  const Question& question;
  const network::SteadyState& before;  ///< high load, nothing shut
  const ShutoffPlan& plan;
  const Order& order;
  std::optional<bool> bypass;  ///< asked for, or asked not to; missing: as the order says
};

/// The steps of a plan, checked. The list's findings hold those of the states, each once, what is
/// not set, and what breaks the contract (step_check.hpp). `stages` is of the same plan.
/// Errors: cancelled, and those of Model::solve.
Result<StepList> steps_of(const StepsQuestion& in, Stages& stages, Watch& watch);

/// The steps for states whose numbers are known already; posts, points and states as
/// prepare_steps() gave them.
void write_steps(const StepsQuestion& in, const std::vector<StageNumbers>& numbers, StepList& list);

}  // namespace bellhole::plan
