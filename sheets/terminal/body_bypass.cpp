#include <fmt/format.h>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

using units::System;
using units::Toward;

std::string list_text(const Json& list) {
  std::string out;
  for (const Json& one : list) out += (out.empty() ? "" : ", ") + one.get<std::string>();
  return out;
}

std::string held_text(const Json& bypass, const char* key, const char* limit, System system,
                      Toward toward) {
  const Json& held = bypass.at(key);
  if (held.is_null()) return "";
  const bool set = held.at("limit_pa_gauge").is_number();
  return fmt::format(
      "    {:<10} {} at {}, {}\n",
      key == std::string_view("lowest_pressure") ? "lowest" : "highest",
      units::print(GaugePressure::from_si(held.at("pa_gauge").get<double>()), system, toward),
      word(held, "place"),
      set ? fmt::format(
                "{} {}", limit,
                units::print(GaugePressure::from_si(held.at("limit_pa_gauge").get<double>()),
                             system, toward == Toward::down ? Toward::up : Toward::down))
          : std::string("no limit set: decide"));
}

std::string bypass_text(const Json& bypass, std::size_t number, System system) {
  std::string out = "\n" + wrapped(fmt::format("{}  ", number), word(bypass, "why"), 3);
  if (bypass.at("bore_m").is_number()) {
    out += fmt::format("    {:<10} bore {}, {} long, K {:.2f}\n", "pipe",
                       shown<kinds::Length>(bypass, "bore", system),
                       shown<kinds::Length>(bypass, "length", system),
                       bypass.at("loss").get<double>());
  }
  out += fmt::format("    {:<10} {}{}\n", "flow", shown<kinds::StdFlow>(bypass, "flow", system),
                     bypass.at("speed_m_per_s").is_number()
                         ? ", " + shown<kinds::Speed>(bypass, "speed", system, Toward::up)
                         : "");
  out += held_text(bypass, "lowest_pressure", "least", system, Toward::down);
  out += held_text(bypass, "highest_pressure", "MAOP", system, Toward::up);
  if (bypass.at("saves_crew_s").is_number())
    out += fmt::format("    {:<10} {} of crew\n", "saves",
                       shown<kinds::Duration>(bypass, "saves_crew", system, Toward::down));
  if (!bypass.at("must_not_lose_out").empty())
    out +=
        wrapped("    MUST NOT LOSE and still out: ", list_text(bypass.at("must_not_lose_out")), 6);
  for (const Json& finding : bypass.at("findings")) {
    if (word(finding, "says") != word(bypass, "why"))
      out += wrapped(fmt::format("    {:<10} ", word(finding, "grade")), word(finding, "says"), 15);
  }
  return out;
}

}  // namespace

std::string bypass_body(const Json& reply, System system) {
  std::string out = wrapped("", word(reply, "says") + ".", 0);
  std::size_t number = 0;
  for (const Json& bypass : reply.at("bypasses")) out += bypass_text(bypass, ++number, system);
  return out;
}

}  // namespace bellhole::sheets
