// The command line: flags into a request, the reply onto the terminal or into files.
#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include <algorithm>
#include <cstdio>
#include <map>
#include <nlohmann/json.hpp>

#include "apps/cli/command.hpp"
#include "apps/cli/commands/job.hpp"
#include "apps/cli/files.hpp"
#include "apps/cli/lanes.hpp"
#include "apps/cli/maps.hpp"
#include "apps/cli/outputs.hpp"
#include "apps/cli/refuse.hpp"
#include "apps/cli/serve.hpp"
#include "ask/ask.hpp"
#include "sheets/terminal/terminal.hpp"
#include "wire/json.hpp"

namespace bellhole::cli {
namespace {

using wire::Json;

/// What the flags of one command were given, by key.
struct Given {
  std::map<std::string, std::string> text;
  std::map<std::string, std::vector<std::string>> texts;
  std::map<std::string, double> number;
  std::map<std::string, std::int64_t> whole;
  std::map<std::string, bool> yes;
  std::string network;
  bool json = false;
  std::string units;
  Outputs outputs;
};

void add_flags(CLI::App& app, const Command& command, Given& given) {
  if (command.network)
    app.add_option("NETWORK", given.network, "network file, as `import` wrote it")
        ->required(!command.network_may_miss);
  for (const Flag& flag : command.flags) {
    switch (flag.takes) {
      case Takes::text:
      case Takes::contents:
      case Takes::document:
        app.add_option(flag.name, given.text[flag.key], flag.help);
        break;
      case Takes::texts:
        app.add_option(flag.name, given.texts[flag.key], flag.help)
            ->take_all()
            ->allow_extra_args(false);
        break;
      case Takes::number:
        app.add_option(flag.name, given.number[flag.key], flag.help);
        break;
      case Takes::whole:
        app.add_option(flag.name, given.whole[flag.key], flag.help);
        break;
      case Takes::yes:
        app.add_flag(flag.name, given.yes[flag.key], flag.help);
        break;
    }
  }
  app.add_flag("--json", given.json, "print the reply document");
  app.add_option("--units", given.units, "us or metric: units of what is printed")
      ->check(CLI::IsMember({"us", "metric"}));
  add_outputs(app, command, given.outputs);
}

Result<Json> request_of(const CLI::App& app, const Command& command, const Given& given,
                        ask::Library& library) {
  Json request;
  request["question"] = command.name;
  if (!given.units.empty()) request["units"] = given.units;
  if (!given.outputs.vtk.empty()) request["mesh"] = true;
  if (command.network && !given.network.empty()) {
    BELLHOLE_TRY(bytes, read_file(given.network));
    BELLHOLE_TRY(hash, library.load("network", bytes, given.network));
    request["network"] = hash;
  }
  for (const Flag& flag : command.flags) {
    if (app.get_option(flag.name)->count() == 0) continue;
    Json& value = request[flag.key];
    switch (flag.takes) {
      case Takes::text:
        value = given.text.at(flag.key);
        break;
      case Takes::contents: {
        BELLHOLE_TRY(bytes, read_file(given.text.at(flag.key)));
        value = bytes;
        break;
      }
      case Takes::texts:
        value = given.texts.at(flag.key);
        break;
      case Takes::number:
        value = given.number.at(flag.key);
        break;
      case Takes::whole:
        value = given.whole.at(flag.key);
        break;
      case Takes::yes:
        value = given.yes.at(flag.key);
        break;
      case Takes::document: {
        const std::string& text = given.text.at(flag.key);
        value = text;
        // "tools.json#T-8" names one thing in a file.
        const std::size_t end =
            is_file(text) ? text.size() : std::min(text.rfind('#'), text.size());
        const std::string path = text.substr(0, end);
        if (!is_file(path)) break;  // a word such as "us", or a name that its reader will refuse
        BELLHOLE_TRY(bytes, read_file(path));
        BELLHOLE_TRY(hash, library.load(flag.kind, bytes, path));
        value = hash + text.substr(end);
        break;
      }
    }
  }
  return request;
}

int run(const CLI::App& app, const Command& command, const Given& given) {
  ask::Library library;
  const auto request = request_of(app, command, given, library);
  if (!request) return refuse(request.error(), given.json);
  ProgressLine progress(command.name);
  Threads threads;
  const ask::Reply reply = ask::ask(wire::text_of(*request), {library, progress, threads});
  const Json document = Json::parse(reply.document);
  if (document.contains("trouble")) {
    if (given.json) fmt::print("{}\n", reply.document);
    fmt::print(stderr, "{}\n", sheets::refusal_text(document.at("trouble")));
    return static_cast<int>(reply.outcome);
  }
  const bool metric = given.units == "metric" || document.value("units", "us") == "metric";
  const auto system = metric ? units::System::metric : units::System::us;
  if (const auto written = write_outputs(given.outputs, document, system); !written) {
    return refuse(written.error(), given.json);
  }
  fmt::print("{}\n", given.json ? reply.document : sheets::terminal_text(document, system));
  return static_cast<int>(reply.outcome);
}

int main_of(int argc, char** argv) {
  CLI::App app(
      "Bellhole: plan the shut-off of a live polyethylene gas main.\n"
      "It computes and warns; the procedure, the qualified people and the gauge decide.",
      "bellhole");
  app.set_version_flag("--version", std::string(wire::engine_version()));
  app.require_subcommand(1);
  const std::vector<Command> all = commands();
  std::vector<Given> given(all.size());
  std::vector<CLI::App*> subs;
  for (std::size_t i = 0; i < all.size(); ++i) {
    CLI::App* sub = app.add_subcommand(all[i].name, all[i].help);
    add_flags(*sub, all[i], given[i]);
    subs.push_back(sub);
  }
  Import import;
  CLI::App* import_command = add_import(app, import);
  JobFlags job;
  CLI::App* job_command = add_job(app, job);
  RegisterFlags registers;
  CLI::App* register_command = add_register(app, registers);
  Serve serve;
  CLI::App* serve_command = add_serve(app, serve);
  try {
    app.parse(argc, argv);
  } catch (const CLI::ParseError& error) {
    if (app.exit(error) == 0) return 0;  // --help, --version
    const std::vector<std::string_view> words(argv, argv + argc);
    if (std::ranges::find(words, "--json") != words.end()) {
      print_refusal({Code::unreadable_value, "command line", error.what(), "see --help"});
    }
    return 2;
  }
  if (import_command->parsed()) return run_import(import);
  if (job_command->parsed()) return run_job(*job_command, job);
  if (register_command->parsed()) return run_register(*register_command, registers);
  if (serve_command->parsed()) return run_serve(serve);
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (subs[i]->parsed()) return run(*subs[i], all[i], given[i]);
  }
  return 2;
}

}  // namespace
}  // namespace bellhole::cli

int main(int argc, char** argv) {
  try {
    return bellhole::cli::main_of(argc, argv);
  } catch (const std::exception& error) {
    fmt::print(stderr, "A fault of Bellhole's own: {}. Nothing was written.\n", error.what());
    return 3;
  }
}
