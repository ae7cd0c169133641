// The body of join: gauge, heat and times of one joint.
#include <fmt/format.h>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

using units::Toward;

std::string line(std::string_view name, const std::string& big, const std::string& rest = "") {
  return fmt::format("  {:<12} {:<26} {}\n", name, big, rest);
}

/// "84.8 psig to 116 psig": each end rounded into the window.
template <class Kind>
std::string window(const Json& reply, const std::string& key, units::System system) {
  return fmt::format("{} to {}", shown<Kind>(reply, key + "_least", system, Toward::up),
                     shown<Kind>(reply, key + "_most", system, Toward::down));
}

}  // namespace

std::string join_body(const Json& reply, units::System system) {
  std::string text = wrapped("", word(reply, "says"), 0) + "\n";
  if (word(reply, "kind") == "butt") {
    text += line("GAUGE", window<kinds::GaugePressure>(reply, "gauge", system),
                 "on the machine, its drag among it");
    text += line("FORCE", window<kinds::Force>(reply, "force", system), "between the faces");
    text += line("HEATER", window<kinds::Temperature>(reply, "heater", system), "on both faces");
    text += line("BEAD", shown<kinds::Length>(reply, "bead", system, Toward::up),
                 "at least, all round, before the heater goes");
    text += line("SOAK", shown<kinds::Duration>(reply, "soak", system, Toward::up),
                 "at least, without force");
    text += line("TAKE AWAY", shown<kinds::Duration>(reply, "removal", system, Toward::down),
                 "at most, until the faces meet");
  }
  text += line("COOL", shown<kinds::Duration>(reply, "cooling", system, Toward::up),
               "at least, unmoved");
  text += "\n";
  for (const Json& caution : reply.value("cautions", Json::array()))
    text += wrapped("  - ", caution.get<std::string>(), 4);
  return text;
}

}  // namespace bellhole::sheets
