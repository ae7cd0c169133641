// One shut-off of a plan: where exactly, what else is there, and what if it does not hold.
#pragma once

#include <vector>

#include "plan/plan.hpp"

namespace bellhole::plan {

/// The shut-offs of a cut in the order of work: valves and outlets first (nothing to dig), then
/// squeezes, those that take longest last; named A, B, C … Errors: those of the cut search.
Result<std::vector<Shutoff>> shutoffs_of(const Question& question, const Places& places,
                                         const isolate::Cut& cut,
                                         const network::SteadyState& before, Watch& watch);

/// How long until all hold when `crews` work in parallel (schedule.hpp). Nothing when a time is not
/// set.
std::optional<Duration> time_to_stop(const std::vector<Shutoff>& shutoffs, std::int64_t crews);

/// "squeeze main M-12 at 41.2 m", for sentences.
std::string describe(const network::Network& network, const Place& place, units::System system);

}  // namespace bellhole::plan
