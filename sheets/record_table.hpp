// The tables of a job's record as CSV (RFC 4180): SI units, named in the head as documents name
// them.
#pragma once

#include <string>
#include <string_view>

#include "sheets/record_sheet.hpp"

namespace bellhole::sheets {

/// The table of a sheet: record (every deviation), squeeze (measured points), test, purge, outage
/// (visits), as-laid, handover. Errors: unreadable_value (no such sheet).
Result<std::string> record_csv(const Record& record, std::string_view sheet);

}  // namespace bellhole::sheets
