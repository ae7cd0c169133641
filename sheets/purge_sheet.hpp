// The sheet of a purge: how fast, how long, through what stack; what the readings must be and room
// for them; for a plan, each leg from its feed to its vent in order, and each service.
#pragma once

#include <string>

#include "findings/trouble.hpp"
#include "sheets/options.hpp"
#include "wire/json.hpp"

namespace bellhole::sheets {

/// PDF bytes of the sheet of a "purge" reply. Errors: unreadable_document when a part of the reply
/// is not as the contract says.
Result<std::string> purge_sheet(const wire::Json& reply, const Options& options);

}  // namespace bellhole::sheets
