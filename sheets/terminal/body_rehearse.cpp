// The body of a rehearsal's reply.
#include <fmt/format.h>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

using units::System;
using units::Toward;

std::string pressure(const Json& object, std::string_view key, System system,
                     Toward toward = Toward::nearest) {
  const auto found = object.find(std::string(key) + "_pa_gauge");
  if (found == object.end() || !found->is_number()) return "–";
  return shown<kinds::GaugePressure>(object, key, system, toward);
}

std::string gauge_text(const Json& gauge, System system) {
  return fmt::format("      {:<34} expect {:<12} {} to {}\n", word(gauge, "at"),
                     pressure(gauge, "expect", system),
                     pressure(gauge, "expect_least", system, Toward::down),
                     pressure(gauge, "expect_most", system, Toward::up));
}

/// Steps that move a shut-off, with their gauges; the others as one line.
std::string steps_text_of(const Json& reply, System system) {
  std::string text = "\nOn the clock\n";
  for (const Json& step : reply.at("steps")) {
    const std::string times =
        fmt::format("  {:<9} {:<9} ", word(step, "begins_clock"), word(step, "ends_clock"));
    const std::string marks =
        fmt::format("{}{}", step.at("point_of_no_return").get<bool>() ? " NO WAY BACK." : "",
                    step.at("time_known").get<bool>() ? "" : " (no time set)");
    text += wrapped(times, word(step, "does") + marks, 22);
    const std::string kind = word(step, "kind");
    if (kind != "shut" && kind != "open") continue;
    for (const Json& gauge : step.at("gauges")) text += gauge_text(gauge, system);
  }
  return text;
}

std::string ways_text(const Json& reply, System system) {
  std::string text;
  for (const Json& way : reply.at("ways_back")) {
    if (text.empty()) text = "\nGoing back\n";
    const std::string after =
        fmt::format("  after {} (shut {}): ", word(way, "shutoff"), word(way, "shut_clock"));
    if (!way.at("short_s").is_number()) {
      text += wrapped(after,
                      fmt::format("nobody who is to stay on falls short in {}",
                                  shown<kinds::Duration>(way, "looked", system, Toward::down)),
                      6);
      continue;
    }
    const std::string undo = way.at("undo_s").is_number()
                                 ? shown<kinds::Duration>(way, "undo", system, Toward::up)
                                 : "a time that is not known";
    text += wrapped(after,
                    fmt::format("{} falls short at {}; opening takes {}{}", word(way, "customer"),
                                word(way, "short_clock"), undo,
                                way.at("no_return").get<bool>() ? ": POINT OF NO RETURN"
                                : way.at("latest_undo_s").is_number()
                                    ? "; begin by " + word(way, "latest_undo_clock")
                                    : ""),
                    6);
  }
  return text;
}

std::string wrong_text(const Json& reply, System system) {
  constexpr std::size_t shown_most = 20;
  std::string text;
  const Json& wrong = reply.at("wrong");
  for (std::size_t i = 0; i < std::min(wrong.size(), shown_most); ++i) {
    if (text.empty()) text = "\nGoes wrong\n";
    const Json& one = wrong[i];
    const std::string kind = word(one, "kind");
    const bool low = kind == "customer_short" || kind == "gauge_low";
    const std::string who = kind == "customer_short" ? "customer " + word(one, "customer")
                            : kind == "over_maop"    ? "node " + word(one, "node")
                                                     : "gauge " + word(one, "gauge");
    text += wrapped(
        fmt::format("  {:<9} ", word(one, "at_clock")),
        fmt::format("{} {} {} (limit {}, {} draw), in step {}{}", who, low ? "down to" : "up to",
                    pressure(one, "pressure", system, low ? Toward::down : Toward::up),
                    pressure(one, "limit", system), word(one, "draw"), word(one, "step", "none"),
                    one.at("at_once").get<bool>() ? ": OUT AT ONCE" : ""),
        12);
  }
  if (wrong.size() > shown_most)
    text += fmt::format("  and {} more: --json lists all\n", wrong.size() - shown_most);
  return text;
}

std::string lost_text(const Json& reply, System system) {
  const Json& escape = reply.at("escape");
  if (!escape.is_object()) return "";
  return "\n" + stages_text(escape, system) + wrapped("", word(escape, "caution"), 0);
}

}  // namespace

std::string rehearse_body(const Json& reply, System system) {
  std::string text = wrapped("", "Rehearsal: " + word(reply, "says") + ".", 0);
  if (const Json& start = reply.at("start_if"); start.is_object())
    text += wrapped("", word(start, "says") + ".", 0);
  return text + wrong_text(reply, system) + ways_text(reply, system) + lost_text(reply, system) +
         steps_text_of(reply, system);
}

}  // namespace bellhole::sheets
