#include "apps/cli/outputs.hpp"

#include <CLI/CLI.hpp>
#include <nlohmann/json.hpp>

#include "apps/cli/files.hpp"
#include "apps/cli/maps.hpp"
#include "sheets/flatten_picture.hpp"
#include "sheets/map.hpp"
#include "sheets/purge_sheet.hpp"
#include "sheets/rehearse_sheet.hpp"
#include "sheets/relight_lists.hpp"
#include "sheets/run_sheet.hpp"
#include "sheets/squeeze_sheet.hpp"
#include "sheets/terminal/terminal.hpp"
#include "sheets/test_sheet.hpp"
#include "sheets/timeline_sheet.hpp"
#include "wire/json.hpp"

namespace bellhole::cli {
namespace {

/// The sheet that belongs to the question of a reply.
Result<std::string> sheet_of(const nlohmann::json& reply, const sheets::Options& options) {
  const std::string question = reply.value("question", "");
  if (question == "plan") return sheets::run_sheet(reply, options);
  if (question == "rehearse") return sheets::rehearse_sheet(reply, options);
  if (question == "pressure-test") return sheets::test_sheet(reply, options);
  if (question == "purge") return sheets::purge_sheet(reply, options);
  if (question == "relight") return sheets::relight_sheet(reply, options);
  if (question == "timeline") return sheets::timeline_sheet(reply, options);
  return sheets::squeeze_sheet(reply, options);
}

/// The picture that belongs to the question of a reply.
Result<std::string> picture_of(const nlohmann::json& reply, units::System system) {
  const std::string question = reply.value("question", "");
  if (question == "rehearse") return sheets::rehearse_svg(reply, {sheets::Paper::a4, system});
  if (question == "timeline") return sheets::timeline_svg(reply);
  if (question == "flatten") return sheets::flatten_svg(reply);
  sheets::MapOptions picture;
  picture.system = system;
  return sheets::map_svg(reply, picture);
}

}  // namespace

void add_outputs(CLI::App& app, const Command& command, Outputs& outputs) {
  if (command.geography)
    app.add_option("--export", outputs.geography,
                   "also write the plans as a map: FILE.gpkg or FILE.geojson");
  if (command.table) app.add_option("--csv", outputs.csv, "write the list as a table to this file");
  if (!command.picture.empty())
    app.add_option("--svg", outputs.svg, "write " + command.picture + " to this file, as SVG");
  if (command.solid)
    app.add_option("--vtk", outputs.vtk, "write the bricks to this file, as legacy VTK text");
  if (!command.paper) return;
  auto* pdf = app.add_option("--pdf", outputs.pdf, "write the sheet for the crew to this file");
  app.add_option("--paper", outputs.paper,
                 "a4 or letter; otherwise letter with us units, a4 with metric")
      ->check(CLI::IsMember({"a4", "letter"}))
      ->needs(pdf);
}

Result<bool> write_outputs(const Outputs& outputs, const nlohmann::json& reply,
                           units::System system) {
  if (!outputs.geography.empty()) {
    BELLHOLE_TRY(exported, export_plan(outputs.geography, reply.dump()));
    static_cast<void>(exported);
  }
  if (!outputs.svg.empty()) {
    BELLHOLE_TRY(svg, picture_of(reply, system));
    BELLHOLE_TRY(written, write_file(outputs.svg, svg));
    static_cast<void>(written);
  }
  if (!outputs.vtk.empty()) {
    BELLHOLE_TRY(solid, sheets::flatten_vtk(reply));
    BELLHOLE_TRY(written, write_file(outputs.vtk, solid));
    static_cast<void>(written);
  }
  if (!outputs.csv.empty()) {
    BELLHOLE_TRY(table, sheets::relight_csv(reply));
    BELLHOLE_TRY(written, write_file(outputs.csv, table));
    static_cast<void>(written);
  }
  if (outputs.pdf.empty()) return true;
  const bool us = system == units::System::us;
  BELLHOLE_TRY(paper,
               sheets::paper_from(outputs.paper.empty() ? (us ? "letter" : "a4") : outputs.paper));
  BELLHOLE_TRY(bytes, sheet_of(reply, {paper, system}));
  return write_file(outputs.pdf, bytes);
}

}  // namespace bellhole::cli
