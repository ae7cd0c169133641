// The sheet of a pressure test: between which pressures, what to fill to, for how long, what closes
// the ends and how far people keep off; room for the readings and the instruments; the judgement;
// signatures.
#pragma once

#include <string>

#include "findings/trouble.hpp"
#include "sheets/options.hpp"
#include "wire/json.hpp"

namespace bellhole::sheets {

/// PDF bytes of the sheet of a "pressure-test" reply. Errors: unreadable_document when a part of
/// the reply is not as the contract says.
Result<std::string> test_sheet(const wire::Json& reply, const Options& options);

}  // namespace bellhole::sheets
