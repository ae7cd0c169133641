#include <fmt/format.h>
#include <CLI/CLI.hpp>

#include <nlohmann/json.hpp>

#include "apps/cli/commands/job.hpp"
#include "apps/cli/files.hpp"
#include "apps/cli/machine.hpp"
#include "apps/cli/refuse.hpp"
#include "sheets/terminal/terminal.hpp"
#include "store/desk.hpp"

namespace bellhole::cli {
namespace {

using wire::Json;

Result<Json> answer(store::Store& store, const RegisterFlags& flags, units::System system) {
  if (flags.kind == "squeezes")
    return store::squeezes_reply(store, {flags.near, flags.pipe, flags.station, flags.within},
                                 system);
  if (!store::is_register(flags.kind))
    return trouble(Code::unreadable_value, "register", flags.kind,
                   "squeezes, people, instruments, tools, stops, customers, refits or networks");
  if (!flags.id.empty()) {
    BELLHOLE_TRY(gone, store.forget(flags.kind, flags.id));
    static_cast<void>(gone);
  } else if (!flags.file.empty()) {
    BELLHOLE_TRY(bytes, read_file(flags.file));
    return store::enroll_reply(store, flags.kind, bytes, flags.file,
                               job::print_moment(this_machine("").now()));
  }
  return store::register_reply(store, flags.kind);
}

}  // namespace

CLI::App* add_register(CLI::App& app, RegisterFlags& flags) {
  CLI::App* sub = app.add_subcommand(
      "register",
      "squeezes ever made, people, instruments, tools, stops, customers, refits, networks");
  sub->add_option("KIND", flags.kind,
                  "squeezes, people, instruments, tools, stops, customers, refits, networks")
      ->required();
  sub->add_option("--store", flags.store, "the store: one SQLite file (bellhole.sqlite)");
  sub->add_option("--near", flags.near, "squeezes around a place, LON,LAT in degrees");
  sub->add_option("--pipe", flags.pipe, "squeezes on a main");
  sub->add_option("--station", flags.station, "where along it, from its `from` node: 120ft");
  sub->add_option("--within", flags.within, "how far: 50ft");
  sub->add_option("--file", flags.file, "enter what this file lists");
  sub->add_option("--forget", flags.id, "erase every version of the entry with this id");
  sub->add_flag("--json", flags.json, "print the reply document");
  sub->add_option("--units", flags.units, "us or metric: units of what is printed")
      ->check(CLI::IsMember({"us", "metric"}));
  return sub;
}

int run_register(const CLI::App&, const RegisterFlags& flags) {
  auto store = store::Store::open(flags.store);
  if (!store) return refuse(store.error(), flags.json);
  const auto system = flags.units == "metric" ? units::System::metric : units::System::us;
  const auto reply = answer(*store, flags, system);
  if (!reply) return refuse(reply.error(), flags.json);
  fmt::print("{}\n", flags.json ? wire::text_of(*reply) : sheets::terminal_text(*reply, system));
  const std::string verdict = reply->at("verdict").get<std::string>();
  return verdict == "halt" || verdict == "undecided" ? 1 : 0;
}

}  // namespace bellhole::cli
