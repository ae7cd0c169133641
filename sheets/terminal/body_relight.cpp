// The body of relight: is it one set, who is first, in which order, how long.
#include <fmt/format.h>

#include <algorithm>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

using units::System;
using units::Toward;

constexpr std::size_t visits_shown = 25;

std::string time_of(const Json& band, const char* end, System system) {
  return shown<kinds::Duration>(band, end, system, Toward::up);
}

std::string band_line(std::string_view name, const Json& band, System system,
                      std::string_view says) {
  if (!band.is_object()) return fmt::format("  {:<12} {:<17} {}\n", name, "not known", says);
  return fmt::format("  {:<12} {:<17} {}; from {} to {}\n", name, time_of(band, "expected", system),
                     says, time_of(band, "shortest", system), time_of(band, "longest", system));
}

std::string ids(const Json& list) {
  std::string text;
  for (const Json& id : list) text += (text.empty() ? "" : ", ") + id.get<std::string>();
  return text.empty() ? "none" : text;
}

std::string list_text(const Json& shut) {
  if (!shut.is_object()) return wrapped("  ", "No list of shut meters was given.", 2);
  if (shut.at("same").get<bool>())
    return wrapped("  ",
                   fmt::format("The {} meters listed as shut are the affected ones, each of them.",
                               shut.at("listed").get<std::int64_t>()),
                   2);
  return wrapped("  NOT SHUT               ", ids(shut.at("not_shut")), 25) +
         wrapped("  SHUT, NOT AFFECTED     ", ids(shut.at("not_affected")), 25);
}

std::string hold_text(const Json& hold, System system) {
  if (!hold.is_object()) return "";
  return wrapped("  HOLD         ",
                 fmt::format("{} (watch for {})", word(hold, "says"),
                             shown<kinds::Duration>(hold, "watch", system, Toward::up)),
                 15);
}

std::string visits_text(const Json& reply, System system) {
  const Json& visits = reply.at("visits");
  if (visits.empty()) return "\nNobody is left to light.\n";
  std::string out = fmt::format("\n  {:<5} {:<6} {:<12} {:<22} {:<12} {:<10}\n", "order", "round",
                                "meter", "street", "done after", "cause");
  for (std::size_t i = 0; i < std::min(visits.size(), visits_shown); ++i) {
    const Json& visit = visits[i];
    const Json& done = visit.at("done");
    out += fmt::format(
        "  {:<5} {:<6} {:<12} {:<22} {:<12} {:<10}{}\n", visit.at("position").get<std::int64_t>(),
        visit.at("round").get<std::int64_t>(), word(visit, "id"),
        word(visit, "street", "not recorded").substr(0, 22),
        done.is_object() ? time_of(done, "expected", system) : "not known", word(visit, "cause"),
        visit.at("must_not_lose").get<bool>() ? "MUST NOT LOSE GAS" : "");
  }
  if (visits.size() > visits_shown)
    out += fmt::format("  and {} more: --pdf, --csv or --json lists all\n",
                       visits.size() - visits_shown);
  return out;
}

}  // namespace

std::string relight_body(const Json& reply, System system) {
  std::string out =
      fmt::format("{} customers are affected, each meter to be shut, and lit again by a visit.\n\n",
                  reply.at("affected").get<std::int64_t>());
  out += list_text(reply.at("shut")) + hold_text(reply.at("hold"), system);
  out += band_line("SHUT ALL", reply.at("shutting"), system, "until every meter is shut");
  if (reply.at("first_ones").is_object())
    out += band_line("FIRST ONES", reply.at("first_ones"), system,
                     "until those who must not lose gas are back");
  out += band_line("ALL BACK", reply.at("all"), system,
                   fmt::format("for {:.0f} visits", reply.at("visits_needed").get<double>()));
  out += visits_text(reply, system) + "\n";
  for (const Json& caution : reply.at("cautions"))
    out += wrapped("  - ", caution.get<std::string>(), 4);
  return out;
}

}  // namespace bellhole::sheets
