// Reply documents as plain text for a terminal: the verdict and its reasons first, then the
// numbers.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "units/print.hpp"

namespace bellhole::sheets {

/// A whole reply: verdict, findings with what to do, the body of its "question", assumptions. A
/// question without a body of its own here shows only the rest.
std::string terminal_text(const nlohmann::json& reply, units::System system);

/// A trouble document {code, number, where, value, fix} as lines.
std::string refusal_text(const nlohmann::json& trouble);

}  // namespace bellhole::sheets
