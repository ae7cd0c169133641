// The squeeze sheet: what a crew needs at one hole, on one page. Verdict and who decides; stop and
// gap; what the gap does to the wall; pace to close and to open; places in the hole; what to look
// to before, during and after; room for what is measured; findings and what was taken for granted.
//
// It prints what the reply says. When findings are so many that one page cannot hold them at a size
// that can be read, they go on overleaf; they are never dropped and never made smaller.
#pragma once

#include <string>

#include "findings/trouble.hpp"
#include "sheets/options.hpp"
#include "wire/json.hpp"

namespace bellhole::sheets {

/// PDF bytes of the squeeze sheet of a "squeeze" reply; the same reply gives the same bytes.
/// Errors: unreadable_document when a part of the reply is not as the contract says.
Result<std::string> squeeze_sheet(const wire::Json& reply, const Options& options);

}  // namespace bellhole::sheets
