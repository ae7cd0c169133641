// The watches of a plan: for how long a hold point's gauge must be watched, on the plan's own part.
//
// Two steps have one. The last hold before the part is vented asks `fed_elsewhere`: is the part,
// with everything shut, still fed? Its customers draw, in planned work only until their meters are
// shut; where nothing draws a steady gauge says nothing, and the step has no watch. That for let-by
// asks `shut_off_tight` of the part vented down, which no service may feed or draw from.
//
// Rules steps.gauge_step, steps.vented_gauge_step (not set: undecided, and no time is named);
// squeeze.let_by is the let-by that must be seen.
#pragma once

#include "plan/step.hpp"
#include "plan/steps.hpp"

namespace bellhole::plan {

/// Puts the watches into the steps; what a watch has to say is found with its step, and a step of a
/// gauge that is not set among the list's findings.
void add_watches(const StepsQuestion& in, StepList& list);

}  // namespace bellhole::plan
