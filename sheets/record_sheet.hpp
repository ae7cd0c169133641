// Paper from the log of a job: the whole record, one squeeze, tests, purges, the outage, what was
// laid, the hand-over. It prints the replies of job-state, job-audit and job-handover and computes
// nothing; there is no clock in it, so the same log prints the same bytes years later.
#pragma once

#include <string>
#include <string_view>

#include "findings/trouble.hpp"
#include "sheets/options.hpp"
#include "wire/json.hpp"

namespace bellhole::sheets {

struct Record {
  const wire::Json& state;
  const wire::Json& audit;
  const wire::Json& handover;
};

/// PDF bytes. `sheet` is record, squeeze, test, purge, outage, as-laid or handover.
/// Errors: unreadable_value (no such sheet), unreadable_document.
Result<std::string> record_sheet(const Record& record, std::string_view sheet,
                                 const Options& options);

}  // namespace bellhole::sheets
