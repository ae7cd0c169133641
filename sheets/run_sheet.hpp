// The run sheet of a plan: what a crew carries to the holes. First page: what, where, verdict,
// limits, map, shut-offs in order. Then: what to do if one fails, other pipes by each dig,
// customers, equipment, hold points, findings, what was assumed and not checked. Then a squeeze
// sheet for each squeeze.
#pragma once

#include <cstddef>
#include <string>

#include "findings/trouble.hpp"
#include "sheets/options.hpp"
#include "wire/json.hpp"

namespace bellhole::sheets {

/// PDF bytes of the run sheet for the plan at position `plan` of a plan reply; the same reply gives
/// the same bytes. A reply without any plan gives a sheet that says so, with map and findings.
/// Errors: unreadable_document when a part of the reply is not as the contract says, contradiction
/// when the reply has plans but not this one.
Result<std::string> run_sheet(const wire::Json& plan_reply, const Options& options,
                              std::size_t plan = 0);

}  // namespace bellhole::sheets
