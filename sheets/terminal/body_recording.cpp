// What a recording of a squeeze says, below the body of its pace.
#include <fmt/format.h>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

using units::System;

std::string seconds(const Json& object, std::string_view key) {
  return at(object, key).is_number() ? fmt::format("{:.1f} s", at(object, key).get<double>())
                                     : std::string("no limit set");
}

std::string gap(const Json& object, std::string_view key, System system) {
  if (!at(object, key).is_number()) return "not known";
  const auto value = Length::from_si(at(object, key).get<double>());
  return system == System::us ? units::print_in(value, "in", 3) : units::print_in(value, "mm", 2);
}

std::string phase(std::string_view name, const Json& phase, System system) {
  if (!phase.is_object()) return fmt::format("  {:<10}not recorded\n", name);
  return fmt::format("  {:<10}{} in {}; at the least {} moving, {} with the waits\n", name,
                     gap(phase, "travel_m", system), seconds(phase, "took_s"),
                     seconds(phase, "least_moving_s"), seconds(phase, "least_s"));
}

}  // namespace

std::string recording_body(const Json& reply, System system) {
  const Json& recording = at(reply, "recording");
  if (!recording.is_object()) return {};
  std::string text = "\nThe recording\n";
  text += phase("closing", at(recording, "closing"), system);
  text += phase("opening", at(recording, "opening"), system);
  const Json& stops = at(recording, "on_the_stops");
  text += fmt::format("  least gap {}, {}\n", gap(recording, "least_gap_m", system),
                      stops == true    ? "on the stops"
                      : stops == false ? "NOT on the stops"
                                       : "no gap of a stop to hold it against");
  text += at(recording, "deviations").empty() ? "  No deviation between the points\n"
                                              : "\nDeviations\n";
  for (const Json& deviation : at(recording, "deviations"))
    text += wrapped("  - ", word(deviation, "says"), 4);
  text += "\nNot to be known from it\n";
  for (const Json& item : at(recording, "not_known"))
    text += wrapped("  - ", item.get<std::string>(), 4);
  return text;
}

}  // namespace bellhole::sheets
