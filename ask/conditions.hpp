// The weather, the hour and the gas that a question about a network is asked for.
#pragma once

#include <optional>

#include "ask/questions.hpp"
#include "network/steady.hpp"
#include "procedure/profile.hpp"

namespace bellhole::ask {

struct Weather {
  network::Conditions conditions;  ///< gas, ground temperature, pipe law
  network::Scenario scenario;      ///< air temperature, hour, load; nothing shut
};

/// What stands in for a key that the request leaves out, where a plan says it.
struct OfPlan {
  std::optional<Temperature> air;
  std::optional<double> hour;
  bool hour_given = false;  ///< the request gives it another way
};

/// Keys "temperature" (of the air), "hour" (0 to below 24), "load" (low, expected, high),
/// "gravity", "ground_temperature", "law" (general, fuel_gas_code). What is missing is taken and
/// said: air 0 degC, 7 in the morning, `otherwise` for the load, gravity 0.6, ground 15 degC, the
/// general law. With `plan`, air and hour are those that the plan was made for.
Result<Weather> weather_of(const Question& question, network::LoadCase otherwise,
                           const OfPlan& plan = {});

/// The network with the least pressures that the procedure sets by tier, where they are higher than
/// the map's.
network::Network held_to(const procedure::Profile& profile, network::Network network,
                         std::vector<std::string>& assumed);

}  // namespace bellhole::ask
