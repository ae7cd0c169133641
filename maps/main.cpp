// bellhole-maps: the program that knows map files.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <exception>
#include <nlohmann/json.hpp>

#include "maps/export_job.hpp"
#include "maps/export_network.hpp"
#include "maps/files.hpp"
#include "maps/import.hpp"
#include "maps/write.hpp"
#include "network/check.hpp"
#include "wire/json.hpp"
#include "wire/network_file.hpp"

namespace bellhole::maps {
namespace {

/// Rows of one rule that are printed before the rest is only counted.
constexpr std::size_t most_rows = 12;

/// No reply or network is larger.
constexpr std::size_t most_bytes = std::size_t{1} << 30;

struct Arguments {
  ImportRequest import;
  std::string in, out, report, mapping;
  bool json = false;
};

int refuse(const Trouble& trouble, bool json) {
  const wire::Json document = {{"engine", wire::engine_version()},
                               {"trouble", wire::to_json(trouble)}};
  if (json) fmt::print("{}\n", document.dump(2, ' ', false, wire::Json::error_handler_t::replace));
  fmt::print(stderr, "{} {}: {}{}{}\n  {}\n", static_cast<int>(trouble.code),
             to_string(trouble.code), trouble.where, trouble.value.empty() ? "" : ": ",
             trouble.value, trouble.fix);
  return trouble.code == Code::bug ? 3 : 2;
}

int import(const Arguments& arguments) {
  const auto imported = import_map(arguments.import);
  if (!imported) return refuse(imported.error(), arguments.json);
  const Report& report = imported->report;
  const std::string document = report_json(report, imported->summary);
  if (!report.has_halt()) {
    if (const auto written = write_file(arguments.out, wire::write_network(imported->network));
        !written) {
      return refuse(written.error(), arguments.json);
    }
  }
  if (!arguments.report.empty()) {
    if (const auto written = write_file(arguments.report, document); !written)
      return refuse(written.error(), arguments.json);
  }
  fmt::print("{}", arguments.json ? document : report_text(report, imported->summary, most_rows));
  if (report.has_halt()) {
    fmt::print(stderr,
               "No network was written: correct the map or the mapping, or let a halt pass by name "
               "with --accept RULE.\n");
  }
  const Verdict verdict = report.verdict();
  return verdict == Verdict::halt || verdict == Verdict::undecided ? 1 : 0;
}

void add_import(CLI::App& app, Arguments& arguments) {
  CLI::App* sub =
      app.add_subcommand("import", "read a map into a network file, and say what was found on it");
  sub->add_option("MAP", arguments.import.map,
                  "any vector source: GeoPackage, shapefiles, GeoJSON, geodatabase …")
      ->required();
  sub->add_option("--mapping", arguments.import.mapping,
                  "file that says which layers and columns mean what")
      ->required();
  sub->add_option("--out", arguments.out, "network file to write")->required();
  sub->add_option("--report", arguments.report,
                  "also write what was found, every row, as a document");
  sub->add_option("--accept", arguments.import.accept,
                  "let the halts of this rule pass, and say so in the network");
  sub->add_flag("--json", arguments.json, "print the report as a document");
}

Result<bool> export_plan(const Arguments& arguments) {
  BELLHOLE_TRY(bytes, read_file(arguments.in, most_bytes));
  BELLHOLE_TRY(plan, reply_tables(bytes, base_name(arguments.in)));
  if (arguments.out.ends_with(".gpkg"))
    return write_geopackage(arguments.out, plan.crs, plan.tables);
  if (arguments.out.ends_with(".geojson")) {
    if (plan.crs == degrees) return write_geojson(arguments.out, nullptr, plan.tables);
    BELLHOLE_TRY(projection, Projection::of(plan.crs, plan.lon, plan.lat));
    return write_geojson(arguments.out, &projection, plan.tables);
  }
  return trouble(Code::unreadable_value, "--out", arguments.out,
                 "name a file that ends in .gpkg or .geojson");
}

Result<bool> export_network(const Arguments& arguments) {
  if (!arguments.out.ends_with(".gpkg"))
    return trouble(Code::unreadable_value, "--out", arguments.out,
                   "name a file that ends in .gpkg");
  BELLHOLE_TRY(bytes, read_file(arguments.in, most_bytes));
  BELLHOLE_TRY(network, wire::read_network(bytes, base_name(arguments.in)));
  BELLHOLE_TRY(fits, network::check_columns(network));
  static_cast<void>(fits);
  BELLHOLE_TRY(written, write_geopackage(arguments.out, network.crs, network_tables(network)));
  if (arguments.mapping.empty()) return written;
  return write_file(arguments.mapping, network_mapping(network));
}

void add_exports(CLI::App& app, Arguments& arguments) {
  CLI::App* plan = app.add_subcommand(
      "export", "write a reply of `bellhole plan --json` or `job state --json` as a map");
  plan->add_option("PLAN", arguments.in, "reply document")->required();
  plan->add_option("--out", arguments.out, "map to write: FILE.gpkg or FILE.geojson")->required();
  CLI::App* network = app.add_subcommand("export-network", "write a network as a map again");
  network->add_option("NETWORK", arguments.in, "network file, as `import` wrote it")->required();
  network->add_option("--out", arguments.out, "map to write: FILE.gpkg")->required();
  network->add_option("--mapping", arguments.mapping, "also write the mapping that reads it back");
}

int main_of(int argc, char** argv) {
  CLI::App app("Bellhole's maps: from a company's map to a network, and back.", "bellhole-maps");
  app.set_version_flag("--version", std::string(wire::engine_version()));
  app.require_subcommand(1);
  Arguments arguments;
  add_import(app, arguments);
  add_exports(app, arguments);
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? 0 : 2;
  }
  if (app.got_subcommand("import")) return import(arguments);
  const auto done =
      app.got_subcommand("export") ? export_plan(arguments) : export_network(arguments);
  return done ? 0 : refuse(done.error(), false);
}

}  // namespace
}  // namespace bellhole::maps

int main(int argc, char** argv) {
  try {
    return bellhole::maps::main_of(argc, argv);
  } catch (const std::exception& error) {
    fmt::print(stderr, "A fault of Bellhole's own: {}. Nothing was half-written.\n", error.what());
    return 3;
  }
}
