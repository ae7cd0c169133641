// The weather, the hour and the gas that a question about a network is asked for.
#pragma once

#include "ask/questions.hpp"
#include "network/steady.hpp"

namespace bellhole::ask {

struct Weather {
  network::Conditions conditions;  ///< gas, ground temperature, pipe law
  network::Scenario scenario;      ///< air temperature, hour, load; nothing shut
};

/// Keys "temperature" (of the air), "hour" (0 to below 24), "load" (low, expected, high),
/// "gravity", "ground_temperature", "law" (general, fuel_gas_code). What is missing is taken and
/// said: air 0 degC, 7 in the morning, `otherwise` for the load, gravity 0.6, ground 15 degC, the
/// general law.
Result<Weather> weather_of(const Question& question, network::LoadCase otherwise);

}  // namespace bellhole::ask
