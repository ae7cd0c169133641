// bellhole-maps: the program that knows map files.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <cstdio>
#include <exception>
#include <nlohmann/json.hpp>

#include "maps/files.hpp"
#include "maps/import.hpp"
#include "wire/json.hpp"
#include "wire/network_file.hpp"

namespace bellhole::maps {
namespace {

/// Rows of one rule that are printed before the rest is only counted.
constexpr std::size_t most_rows = 12;

struct Arguments {
  ImportRequest import;
  std::string out, report;
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

int main_of(int argc, char** argv) {
  CLI::App app("Bellhole's maps: from a company's map to a network, and back.", "bellhole-maps");
  app.set_version_flag("--version", std::string(wire::engine_version()));
  app.require_subcommand(1);
  Arguments arguments;
  add_import(app, arguments);
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    return app.exit(error) == 0 ? 0 : 2;
  }
  return import(arguments);
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
