// The lists of a relight, for the people who walk the streets: what is to be shut, to sign; who is
// lit again, by rounds.
#pragma once

#include <string>

#include "findings/trouble.hpp"
#include "sheets/options.hpp"
#include "wire/json.hpp"

namespace bellhole::sheets {

/// PDF bytes of both lists of a "relight" reply; the same reply gives the same bytes. Errors:
/// unreadable_document when a part of the reply is not as the contract says.
Result<std::string> relight_sheet(const wire::Json& reply, const Options& options);

/// The relight list as a table (RFC 4180), one line a visit, for a spreadsheet; read back by
/// `relight --shut` once how, time and by are filled in. A cell that a spreadsheet would take for a
/// formula begins with an apostrophe. Errors: as relight_sheet().
Result<std::string> relight_csv(const wire::Json& reply);

}  // namespace bellhole::sheets
