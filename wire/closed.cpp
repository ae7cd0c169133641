#include "wire/closed.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

namespace bellhole::wire {
namespace {

constexpr double coldest_k = 233.15, warmest_k = 333.15;  // what gas/gas.hpp holds for, and a pipe
constexpr double gravity_otherwise = 0.6;
constexpr auto barometer_otherwise = AbsolutePressure::from_si(101325.0);

std::string lower_unit(const std::string& text) {
  const auto from = text.find_last_of("0123456789.");
  std::string unit = from == std::string::npos ? text : text.substr(from + 1);
  // "ft3", "m3": the digit belongs to the unit.
  if (unit.empty() && from != std::string::npos && from > 1) unit = text.substr(from - 2);
  std::ranges::transform(unit, unit.begin(),
                         [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return unit;
}

std::optional<units::System> system_of(const std::string& unit) {
  constexpr std::array us{"psi", "inwc", "inh2o", "inhg", "ft", "in", "scf", "cfh", "degf"};
  constexpr std::array metric{"bar", "pa", "mm", "std m3", "stdm3", "m3", "cm", "degc"};
  const auto holds = [&](const char* word) { return unit.find(word) != std::string::npos; };
  if (std::ranges::any_of(us, holds)) return units::System::us;
  if (std::ranges::any_of(metric, holds)) return units::System::metric;
  return std::nullopt;
}

void assume(const Object& request, std::string says) {
  if (request.assumed() != nullptr) request.assumed()->push_back(std::move(says));
}

}  // namespace

Result<units::System> read_system(const Object& request,
                                  std::initializer_list<std::string_view> keys) {
  BELLHOLE_TRY(text, request.text("units"));
  if (text) {
    BELLHOLE_TRY(which, one_of(*text, {"us", "metric"}, request.at("units")));
    return which == 0 ? units::System::us : units::System::metric;
  }
  for (const auto key : keys) {
    const auto found = request.json().find(std::string(key));
    if (found == request.json().end() || !found->is_string()) continue;
    if (const auto system = system_of(lower_unit(found->get<std::string>()))) return *system;
  }
  return units::System::us;
}

Result<gas::Base> read_base(const Object& request, units::System system) {
  BELLHOLE_TRY(pressure, request.quantity<kinds::AbsolutePressure>("base_pressure"));
  BELLHOLE_TRY(temperature, request.quantity<kinds::Temperature>("base_temperature"));
  const gas::Base custom = system == units::System::us ? gas::us_base : gas::metric_base;
  const gas::Base base{pressure.value_or(custom.pressure),
                       temperature.value_or(custom.temperature)};
  if (!(base.pressure.si() > 0.0) || !(base.temperature.si() > 0.0)) {
    return trouble(Code::out_of_range, request.at("base_pressure"),
                   fmt::format("{:g} Pa (abs), {:g} K", base.pressure.si(), base.temperature.si()),
                   "no base can be that");
  }
  if (!pressure || !temperature) {
    assume(request,
           system == units::System::us
               ? "standard volumes at 14.73 psia and 60 degF, the custom of the units"
               : "standard volumes at 1.01325 bar(a) and 15 degC, the custom of the units");
  }
  return base;
}

Result<AbsolutePressure> read_barometer(const Object& request) {
  BELLHOLE_TRY(barometer, request.quantity<kinds::AbsolutePressure>("barometer"));
  if (!barometer) {
    assume(request, "barometer 1.01325 bar(a) (14.696 psia, sea level), since none was given");
    return barometer_otherwise;
  }
  constexpr double least_pa = 40000.0, most_pa = 110000.0;  // from the highest town to a deep low
  if (!(barometer->si() >= least_pa && barometer->si() <= most_pa)) {
    return trouble(Code::out_of_range, request.at("barometer"),
                   fmt::format("{:g} Pa (abs)", barometer->si()),
                   "give the pressure of the air at the place, not reduced to sea level");
  }
  return *barometer;
}

Result<Temperature> read_gas_temperature(const Object& request, const gas::Base& base) {
  BELLHOLE_TRY(temperature, request.quantity<kinds::Temperature>("temperature"));
  if (!temperature) {
    assume(request, fmt::format("gas at {} ({}), since no temperature was given",
                                units::print(base.temperature, units::System::us),
                                units::print(base.temperature, units::System::metric)));
    return base.temperature;
  }
  if (!(temperature->si() >= coldest_k && temperature->si() <= warmest_k)) {
    return trouble(Code::out_of_range, request.at("temperature"),
                   fmt::format("{:g} K", temperature->si()),
                   "gas in the ground is between -40 and 60 degC: correct the value or its unit");
  }
  return *temperature;
}

Result<gas::Gas> read_gas(const Object& request) {
  BELLHOLE_TRY(gravity, request.number("gravity"));
  if (!gravity) assume(request, "gas gravity 0.6 (air = 1), since none was given");
  return gas::from_gravity(gravity.value_or(gravity_otherwise));
}

Result<Volume> read_volume(const Object& request) {
  BELLHOLE_TRY(volume, request.quantity<kinds::Volume>("volume"));
  BELLHOLE_TRY(bore, request.quantity<kinds::Length>("bore"));
  BELLHOLE_TRY(length, request.quantity<kinds::Length>("length"));
  if (volume && (bore || length)) {
    return trouble(Code::contradiction, request.at("volume"), fmt::format("{:g} m3", volume->si()),
                   "give the volume, or bore and length, not both");
  }
  if (!volume && !(bore && length)) {
    return trouble(Code::missing_value, request.at(bore ? "length" : "volume"), "",
                   "give the volume that is closed in (1738ft3), or its bore and length");
  }
  if (bore && (!(bore->si() > 0.0) || !(length->si() > 0.0))) {
    return trouble(Code::out_of_range, request.at("bore"),
                   fmt::format("{:g} m, {:g} m", bore->si(), length->si()),
                   "bore and length are more than nought");
  }
  const Volume value = volume ? *volume : linepack::volume_of(*bore, *length);
  if (!(value.si() > 0.0)) {
    return trouble(Code::out_of_range, request.at("volume"), fmt::format("{:g} m3", value.si()),
                   "give the inside volume of the closed length");
  }
  return value;
}

Result<linepack::Closed> read_closed(const Object& request, units::System system) {
  linepack::Closed closed;
  BELLHOLE_TRY(volume, read_volume(request));
  BELLHOLE_TRY(base, read_base(request, system));
  BELLHOLE_TRY(barometer, read_barometer(request));
  BELLHOLE_TRY(temperature, read_gas_temperature(request, base));
  closed.volume = volume;
  closed.base = base;
  closed.barometer = barometer;
  closed.temperature = temperature;
  if (request.has("gravity")) {
    BELLHOLE_TRY(gas, read_gas(request));
    closed.k_per_pa = gas::flowing(gas, temperature).k_per_pa;
  } else {
    request.know("gravity");
    assume(request,
           "Z 1 (ideal gas), since no gravity was given: natural gas at 60 psig holds some 2 % "
           "more, so its needle moves that much slower");
  }
  return closed;
}

Json base_json(const gas::Base& base) {
  Json json;
  json["pa_abs"] = base.pressure.si();
  json["k"] = base.temperature.si();
  return json;
}

std::string_view word_of(units::System system) {
  return system == units::System::us ? "us" : "metric";
}

}  // namespace bellhole::wire
