// The body of repressurise: the openings in order, and what every gauge reads at the end of each.
#include <fmt/format.h>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

using units::Toward;

std::string listed_words(const Json& list) {
  std::string words;
  for (const Json& item : list) words += (words.empty() ? "" : ", ") + item.get<std::string>();
  return words.empty() ? "none on record" : words;
}

}  // namespace

std::string repressurise_body(const Json& reply, units::System system) {
  std::string text = wrapped("", word(reply, "says"), 0) + "\n";
  std::size_t number = 0;
  for (const Json& step : reply.at("steps")) {
    text += wrapped(
        fmt::format("  {}. ", ++number),
        fmt::format("{} {}, from {} to {}", step.value("fills", false) ? "fill through" : "open",
                    word(step, "says"), shown<kinds::Duration>(step, "begins", system, Toward::up),
                    shown<kinds::Duration>(step, "done", system, Toward::up)),
        5);
    if (step.value("fills", false))
      text += fmt::format("     no more than {} goes in\n",
                          shown<kinds::StdFlow>(step, "flow_most", system, Toward::down));
    for (const Json& gauge : step.at("gauges"))
      text += fmt::format("     {:<24} {:>12}  ({} to {})\n", word(gauge, "at"),
                          shown<kinds::GaugePressure>(gauge, "ends", system),
                          shown<kinds::GaugePressure>(gauge, "lowest", system, Toward::down),
                          shown<kinds::GaugePressure>(gauge, "highest", system, Toward::up));
  }
  text += fmt::format("\n  The part rises by {} at most; its excess-flow valves stand {}.\n",
                      shown<kinds::PressureRate>(reply, "rise", system, Toward::up),
                      shown<kinds::PressureRate>(reply, "rise_most", system, Toward::down));
  text += wrapped(
      "  Reset where shut, service by service: ", listed_words(reply.at("excess_flow_valves")), 4);
  text += "\n";
  for (const Json& caution : reply.value("cautions", Json::array()))
    text += wrapped("  - ", caution.get<std::string>(), 4);
  return text;
}

}  // namespace bellhole::sheets
