// The part of a plan that a request goes on from, on the network that it was made for.
#pragma once

#include "ask/conditions.hpp"
#include "ask/plan_given.hpp"
#include "plan/part.hpp"

namespace bellhole::ask {

/// `riders`: letters of ends with a valve past them. Errors: unknown_element where the network has
/// not what the plan names, or the plan no such letter; missing_value where the plan names no work.
Result<plan::Part> part_given(const network::Network& network, const PlanGiven& given,
                              const std::vector<std::string>& riders);

/// What every question about putting the part of a plan back begins with: the keys network, units,
/// procedure, plan, rank, rider and those of weather_of(). Errors: missing_value without a plan.
struct PutBackGiven {
  units::System system = units::System::us;
  procedure::Profile profile;
  network::Network network;  ///< held to the profile
  PlanGiven plan;
  plan::Part part;
  Weather weather;  ///< of the plan where the request does not say it
};
Result<PutBackGiven> put_back_given(const Question& question);

/// The keys of a reply that say what it was asked with.
void put_given(wire::Json& reply, const PutBackGiven& given, const char* question);

}  // namespace bellhole::ask
