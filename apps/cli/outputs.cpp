#include "apps/cli/outputs.hpp"

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "apps/cli/files.hpp"
#include "sheets/run_sheet.hpp"
#include "sheets/squeeze_sheet.hpp"

namespace bellhole::cli {
namespace {

/// The sheet that belongs to the question of a reply.
Result<std::string> sheet_of(const nlohmann::json& reply, const sheets::Options& options) {
  if (reply.value("question", "") == "plan") return sheets::run_sheet(reply, options);
  return sheets::squeeze_sheet(reply, options);
}

}  // namespace

void add_outputs(CLI::App& app, const Command& command, Outputs& outputs) {
  if (!command.paper) return;
  auto* pdf = app.add_option("--pdf", outputs.pdf, "write the sheet for the crew to this file");
  app.add_option("--paper", outputs.paper,
                 "a4 or letter; otherwise letter with us units, a4 with metric")
      ->needs(pdf);
}

Result<bool> write_outputs(const Outputs& outputs, const nlohmann::json& reply,
                           units::System system) {
  if (outputs.pdf.empty()) return true;
  const bool us = system == units::System::us;
  BELLHOLE_TRY(paper,
               sheets::paper_from(outputs.paper.empty() ? (us ? "letter" : "a4") : outputs.paper));
  BELLHOLE_TRY(bytes, sheet_of(reply, {paper, system}));
  return write_file(outputs.pdf, bytes);
}

}  // namespace bellhole::cli
