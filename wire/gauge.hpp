// The questions "gauge" (which pipes would have read like this) and "refit" (what a pump log says
// of the yield on record) as documents. The layouts are schema/gauge.*.schema.json and
// schema/refit.*.schema.json.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "squeeze/gauge.hpp"
#include "squeeze/refit.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// Readings are "2.5in 1800psi", gap and pump pressure.
Result<squeeze::GaugeQuestion> read_gauge(const Object& request);
nlohmann::json gauge_json(const squeeze::GaugeQuestion& asked, const squeeze::GaugeAnswer& answer);

/// A table of text with the columns size, dr or wall, material, temperature, gap, pump, ram, bar
/// radius, closing, and line pressure where there is one. Errors: those of read_table() and of the
/// sizes and units, naming the line.
Result<std::vector<squeeze::LoggedSqueeze>> read_pump_log(const std::string& text);
nlohmann::json refit_json(const squeeze::Refit& refit);

}  // namespace bellhole::wire
