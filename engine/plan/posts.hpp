// Before the steps of a plan: which shut-off is closed first and why, who must stand where, where
// the gauges are, and in which states the network stands between two closings.
#pragma once

#include <string>
#include <vector>

#include "plan/order.hpp"
#include "plan/plan.hpp"
#include "plan/stages.hpp"
#include "plan/step.hpp"

namespace bellhole::plan {

/// The order of closing by a rule of an order document other than least_harm, which asks the
/// network (Stages::closing_order). What the rule cannot tell apart (no times set) is closed as
/// lettered, and the reason says so.
ClosingOrder closing_by(const Question& question, const ShutoffPlan& plan, First rule);

/// On which side of a shut main the part lies: +1 towards its `to` node, -1 towards `from`, 0 where
/// the shut-off is no place on a main.
int part_side(const network::Network& network, const Work& work, const ShutoffPlan& plan,
              std::size_t shutoff);

/// Stations that the job can upset, each of which needs a person; ascending, without those that are
/// themselves shut off by the plan. By the map: the inlet, the outlet or the sensing tap is on the
/// part; the sensing is not known and the station feeds a tier of the part; it stands at an end of
/// a main that is shut.
std::vector<network::Index> stations_near(const network::Network& network, const ShutoffPlan& plan);

/// Everything of a step list but the steps. `upset` are stations that the stages found besides.
/// Errors: those of Model::solve.
Result<StepList> prepare_steps(const Question& question, const network::SteadyState& before,
                               const ShutoffPlan& plan, const ClosingOrder& closing, Opened opened,
                               const std::vector<network::Index>& upset);

/// "main M-12 at 863.7 ft", "valve V-06 on main M-0108", for posts and steps.
std::string where_of(const Question& question, const Place& place);

}  // namespace bellhole::plan
