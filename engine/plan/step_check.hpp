// What an ordered list of steps must never be, whoever wrote it: an order of a company, a plan
// changed by hand. Each rule has an id of its own (docs/rules.md, "steps."); what breaks one is a
// halt that names the step.
//
// The rules lean on the kinds of steps, on the list of shut-offs and stations of the plan and on
// what a step says it needs before it (`after`), never on its words.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "findings/finding.hpp"
#include "plan/plan.hpp"
#include "plan/step.hpp"

namespace bellhole::plan {

/// A shut-off as the check needs it.
struct CheckedShutoff {
  std::string letter, element;
  bool squeeze = false;
  bool two = false;  ///< two squeezes with a vent between are wanted, or undecided
};

/// A list of steps with what it must answer to. It can be read from a document as well.
struct Checked {
  Kind kind = Kind::planned;
  std::vector<CheckedShutoff> shutoffs;
  std::vector<std::string> stations;  ///< ids of regulators that each need a person
  std::int64_t customers_out = 0;
  std::vector<Post> posts;
  std::vector<GaugePoint> points;  ///< `shutoff` indexes `shutoffs`
  std::vector<Step> steps;
};

Checked checked_of(const Question& question, const ShutoffPlan& plan, const StepList& list);

/// Everything that is wrong, in the order of the rules; empty where nothing was found against it.
Findings check_steps(const Checked& list);

}  // namespace bellhole::plan
