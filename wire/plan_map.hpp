// The surroundings of a plan as lines and points, so that a reply alone can be drawn years later.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <vector>

#include "plan/plan.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// Mains, backdrop and equipment around the work and everything that the plans shut or lose.
Json plan_map(const network::Network& network, const plan::Work& work, const plan::Answer& answer);

/// Mains and valves that were passed over and lie on what some plan isolates or shuts.
std::vector<plan::PassedOver> passed_over_nearby(const plan::Answer& answer);

}  // namespace bellhole::wire
