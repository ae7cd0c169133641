// The sheet of a rehearsal: what goes wrong and until when one can go back, each gauge through
// time, and the clock of the steps.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "findings/trouble.hpp"
#include "sheets/options.hpp"

namespace bellhole::sheets {

/// A rehearsal's reply as a PDF. Errors: unreadable_document naming what is not as the contract
/// says.
Result<std::string> rehearse_sheet(const nlohmann::json& reply, const Options& options);

/// Its gauges through time alone, as SVG.
Result<std::string> rehearse_svg(const nlohmann::json& reply, const Options& options);

}  // namespace bellhole::sheets
