// The timeline of a plan as a chart: time to the right, crews as lanes, hold points as marks, the
// critical path in black, customers out as a hatched band.
#pragma once

#include <string>

#include "findings/trouble.hpp"
#include "sheets/options.hpp"
#include "wire/json.hpp"

namespace bellhole::sheets {

/// PDF bytes: chart, numbers, every step, who is out how long, the other plans; the same reply
/// gives the same bytes. Errors: unreadable_document when a part of the reply is not as the
/// contract says.
Result<std::string> timeline_sheet(const wire::Json& reply, const Options& options);

/// The chart alone, as SVG. Errors: as timeline_sheet().
Result<std::string> timeline_svg(const wire::Json& reply);

}  // namespace bellhole::sheets
