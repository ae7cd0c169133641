// What the questions about one closed length, or one hole, have in common: units, base, barometer,
// temperature, gas and volume. What is missing is taken and said.
#pragma once

#include <initializer_list>
#include <nlohmann/json_fwd.hpp>
#include <string_view>

#include "linepack/closed.hpp"
#include "units/print.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// "us" or "metric" under "units"; else by the unit in which one of `keys` is typed (psi, ft3: us;
/// bar, mm: metric); else us.
Result<units::System> read_system(const Object& request,
                                  std::initializer_list<std::string_view> keys);

/// "base_pressure" and "base_temperature"; else the custom of the units.
Result<gas::Base> read_base(const Object& request, units::System system);

/// "barometer"; else 1.01325 bar(a).
Result<AbsolutePressure> read_barometer(const Object& request);

/// "temperature" of the gas; else the base's. Errors: out_of_range outside -40 to 60 degC.
Result<Temperature> read_gas_temperature(const Object& request, const gas::Base& base);

/// "gravity"; else 0.6.
Result<gas::Gas> read_gas(const Object& request);

/// "volume", or "bore" and "length".
Result<Volume> read_volume(const Object& request);

/// All of it. Without "gravity" the gas counts as an ideal one (Z 1), which holds a little less.
Result<linepack::Closed> read_closed(const Object& request, units::System system);

nlohmann::json base_json(const gas::Base& base);
std::string_view word_of(units::System system);

}  // namespace bellhole::wire
