// A plan that a question plays through time: laid on its network, with a clock.
#pragma once

#include <optional>

#include "ask/conditions.hpp"
#include "ask/plan_given.hpp"
#include "plan/rehearse.hpp"

namespace bellhole::ask {

struct LaidPlan {
  PlanGiven given;
  plan::Script script;
};

/// The plan under "plan" and "rank", laid on the network; nothing where the request gives none.
/// Errors: those of plan_given and wire::read_script.
Result<std::optional<LaidPlan>> laid_plan(const Question& question, const LoadedNetwork& loaded);

/// Weather as weather_of; what the request leaves out is that of the plan. "start" ("07:30", the
/// clock when the first step begins) stands in place of "hour". Errors: contradiction where both
/// are given.
Result<Weather> weather_of_plan(const Question& question, const LaidPlan& plan,
                                network::LoadCase otherwise);

/// "temperature_course": "09:00 24degF", each from its time on, in the order of the day; the first
/// that lies before the start is of the next day. Errors: unreadable_value; contradiction (not in
/// order).
Result<std::vector<network::Weather>> temperature_course(const Question& question,
                                                         double begins_hour);

/// "takes": "cut=2h", by a step's id or kind. Errors: unreadable_value; unknown_element (no such
/// step in the plan); out_of_range.
Result<plan::Takes> times_said(const Question& question, const plan::Script& script);

/// The closings that the plan has no pace for, said: they are taken to close at once.
void say_no_pace(const plan::Script& script, std::vector<std::string>& assumed);

}  // namespace bellhole::ask
