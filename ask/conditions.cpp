#include "ask/conditions.hpp"

#include <fmt/format.h>

namespace bellhole::ask {
namespace {

constexpr Temperature air_otherwise = Temperature::from_si(273.15);
constexpr Temperature ground_otherwise = Temperature::from_si(288.15);
constexpr double hour_otherwise = 7.0;
constexpr double gravity_otherwise = 0.6;

template <class T>
Result<T> or_assumed(const Question& question, Result<std::optional<T>> given, T otherwise,
                     std::string_view says) {
  if (!given) return std::unexpected(given.error());
  if (*given) return **given;
  if (!says.empty()) question.assumed.emplace_back(says);
  return otherwise;
}

}  // namespace

Result<Weather> weather_of(const Question& question, network::LoadCase otherwise,
                           const OfPlan& plan) {
  const wire::Object& request = question.request;
  Weather weather;
  BELLHOLE_TRY(
      air,
      or_assumed(
          question, request.quantity<kinds::Temperature>("temperature"),
          plan.air.value_or(air_otherwise),
          plan.air
              ? "air temperature as the plan was made for, since none was given"
              : "air temperature 0 degC (32 degF), since none was given: loads rise as it gets "
                "colder"));
  BELLHOLE_TRY(
      hour, or_assumed(question, request.number("hour"), plan.hour.value_or(hour_otherwise),
                       plan.hour_given ? ""
                       : plan.hour     ? "the hour that the plan was made for, since none was given"
                                   : "the hour from 7 to 8 in the morning, since none was given"));
  BELLHOLE_TRY(gravity, or_assumed(question, request.number("gravity"), gravity_otherwise,
                                   "gas gravity 0.6 (air = 1), since none was given"));
  BELLHOLE_TRY(
      ground,
      or_assumed(question, request.quantity<kinds::Temperature>("ground_temperature"),
                 ground_otherwise,
                 "gas in the ground at 15 degC (59 degF), since no ground temperature was given"));
  BELLHOLE_TRY(gas, gas::from_gravity(gravity));
  weather.conditions.gas = gas;
  weather.conditions.ground = ground;
  weather.scenario.air = air;
  weather.scenario.hour = hour;
  weather.scenario.load = otherwise;
  BELLHOLE_TRY(law, request.text("law"));
  if (law) {
    BELLHOLE_TRY(which, wire::one_of(*law, {"general", "fuel_gas_code"}, "law"));
    weather.conditions.law = which == 0 ? gas::Law::general : gas::Law::fuel_gas_code;
  }
  BELLHOLE_TRY(load, request.text("load"));
  if (load) {
    BELLHOLE_TRY(which, wire::one_of(*load, {"low", "expected", "high"}, "load"));
    weather.scenario.load = static_cast<network::LoadCase>(which);
  }
  return weather;
}

network::Network held_to(const procedure::Profile& profile, network::Network network,
                         std::vector<std::string>& assumed) {
  for (std::size_t t = 0; t < network.tiers.size(); ++t) {
    procedure::Case in;
    in[procedure::Listed::tier] = network.tiers.id[t];
    const auto least = profile.ruling("plan.pressure_least", in).as<kinds::GaugePressure>();
    if (!least || *least <= network.tiers.least[t]) continue;
    network.tiers.least[t] = *least;
    assumed.push_back(
        fmt::format("least pressure of tier {}: the procedure's, which is higher than the map's",
                    network.tiers.id[t]));
  }
  return network;
}

}  // namespace bellhole::ask
