// The part of a plan that a request goes on from, on the network that it was made for.
#pragma once

#include "ask/plan_given.hpp"
#include "plan/part.hpp"

namespace bellhole::ask {

/// `riders`: letters of ends with a valve past them. Errors: unknown_element where the network has
/// not what the plan names, or the plan no such letter; missing_value where the plan names no work.
Result<plan::Part> part_given(const network::Network& network, const PlanGiven& given,
                              const std::vector<std::string>& riders);

}  // namespace bellhole::ask
