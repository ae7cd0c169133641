// The bodies of pressure-test and purge: pressures, times and amounts, and what they mean.
#include <fmt/format.h>

#include <cmath>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

using units::System;
using units::Toward;

std::string line(std::string_view name, const std::string& big, const std::string& rest = "") {
  return fmt::format("  {:<12} {:<17} {}\n", name, big, rest);
}

bool known(const Json& object, std::string_view key) {
  const auto found = object.find(std::string(key));
  return found != object.end() && found->is_number();
}

/// A small difference in the unit of the gauge, so that the lines can be compared.
std::string small(double si, System system) {
  const auto value = PressureDifference::from_si(si);
  return system == System::us ? units::print_in(value, "psi", 2)
                              : units::print_in(value, "mbar", 0);
}

std::string small(const Json& object, std::string_view key, System system) {
  return known(object, key) ? small(object.at(std::string(key)).get<double>(), system)
                            : "not known";
}

/// "0.00 to 0.13 psi".
std::string band(const Json& object, std::string_view key, System system) {
  const auto found = object.find(std::string(key));
  if (found == object.end() || !known(*found, "low")) return "not known";
  const auto one = [&](const char* end) { return small(found->at(end).get<double>(), system); };
  return one("low") + " to " + one("high");
}

std::string soap_words(const Json& joint, System system) {
  if (!known(joint, "pressure_pa_gauge")) return "not soaped yet";
  const std::string shows = word(joint, "shows");
  return fmt::format("soaped at {}, {}",
                     shown<kinds::GaugePressure>(joint, "pressure", system, Toward::down),
                     shows == "bubbles"      ? "BUBBLES"
                     : shows == "no_bubbles" ? "no bubbles"
                                             : "what was seen is not told");
}

std::string cautions(const Json& reply) {
  std::string text = "\n";
  for (const Json& caution : reply.value("cautions", Json::array()))
    text += wrapped("  - ", caution.get<std::string>(), 4);
  return text;
}

}  // namespace

std::string pressure_test_body(const Json& reply, System system) {
  std::string text;
  if (const std::string says = word(reply, "says"); !says.empty())
    text += wrapped("", says, 0) + "\n";
  text += line("LEAST", shown<kinds::GaugePressure>(reply, "least", system, Toward::up),
               word(reply, "least_by"));
  text += line("MOST", shown<kinds::GaugePressure>(reply, "most", system, Toward::down),
               word(reply, "most_by"));
  text += line("FILL TO", shown<kinds::GaugePressure>(reply, "fill", system, Toward::up),
               "or more: then the end stays above the least");
  text += line("TEST FOR", shown<kinds::Duration>(reply, "duration_needed", system, Toward::up),
               known(reply, "smallest_leak_std_m3_per_s")
                   ? fmt::format("a leak under {} does not show in the time given, for {}",
                                 shown<kinds::StdFlow>(reply, "smallest_leak", system, Toward::up),
                                 word(reply, "smallest_by"))
                   : "");
  text += line("KEEP OFF", shown<kinds::Length>(reply, "keep_off", system, Toward::up),
               "from every end, and out of the trench, while the pressure is up");
  for (const Json& pipe : reply.at("pretested"))
    text += line("PRE-TESTED", word(pipe, "id"),
                 fmt::format("at {}, for {}",
                             shown<kinds::GaugePressure>(pipe, "pressure", system, Toward::down),
                             shown<kinds::Duration>(pipe, "duration", system, Toward::down)));
  for (const Json& joint : reply.at("tie_ins"))
    text += line("TIE-IN", word(joint, "id"), soap_words(joint, system));
  if (known(reply, "expected_end_pa_gauge")) {
    text += line("EXPECT", shown<kinds::GaugePressure>(reply, "expected_end", system),
                 "at the end, from a tight pipe that does not grow");
    text += line("MISSING", small(reply, "missing_pa_diff", system),
                 fmt::format("{} of gas, {}", shown<kinds::StdVolume>(reply, "missing", system),
                             shown<kinds::StdFlow>(reply, "missing", system)));
    text += line("CREEP", band(reply, "creep_pa_diff", system), "lost to the growing pipe");
    text += line("WARMTH", band(reply, "dilation_pa_diff", system), "gained as the pipe shrinks");
    text += line("READING", small(reply, "reading_error_pa_diff", system),
                 "that gauge and thermometer may be wrong by");
  }
  return text + cautions(reply);
}

namespace {

/// One leg: where its gas comes from and its air goes, how fast and for how long.
std::string leg_text(std::size_t number, const Json& leg, System system) {
  std::string text = wrapped(fmt::format("  {}. ", number),
                             fmt::format("from {} ({}) to the vent at {}", word(leg, "from"),
                                         word(leg, "feed"), word(leg, "vent")),
                             5);
  text += fmt::format("     {} of main, {} at {}, {} for one volume, {} planned\n",
                      shown<kinds::Length>(leg, "length", system),
                      shown<kinds::Volume>(leg, "volume", system, Toward::up),
                      shown<kinds::Speed>(leg, "speed", system, Toward::up),
                      shown<kinds::Duration>(leg, "time", system, Toward::up),
                      shown<kinds::Duration>(leg, "time_planned", system, Toward::up));
  text += fmt::format("     mixed over {}; {} through the stack\n",
                      shown<kinds::Length>(leg, "mixing", system, Toward::up),
                      shown<kinds::StdVolume>(leg, "gas_lost", system, Toward::up));
  if (word(leg, "feed") != "filled")
    text += fmt::format("     inlet {}; beside the feed {} now, {} while it purges\n",
                        shown<kinds::GaugePressure>(leg, "inlet", system, Toward::up),
                        shown<kinds::GaugePressure>(leg, "before", system, Toward::down),
                        shown<kinds::GaugePressure>(leg, "purging", system, Toward::down));
  return text;
}

std::string purge_of_plan(const Json& reply, System system) {
  std::string text = wrapped("", word(reply, "says"), 0) + "\n";
  std::size_t number = 0;
  for (const Json& leg : reply.at("legs")) text += leg_text(++number, leg, system);
  text += line("ALL LEGS", shown<kinds::Duration>(reply, "time_planned", system, Toward::up),
               "planned, one after the other");
  std::string services;
  for (const Json& service : reply.at("services"))
    services += (services.empty() ? "" : ", ") + word(service, "customer");
  if (!services.empty())
    text += "\n" + wrapped("  Then each service, nearest first: ", services, 4);
  return text;
}

}  // namespace

std::string purge_body(const Json& reply, System system) {
  if (reply.contains("legs")) return purge_of_plan(reply, system) + cautions(reply);
  std::string text = wrapped("", word(reply, "says"), 0) + "\n";
  text += line(
      "SPEED", shown<kinds::Speed>(reply, "speed", system),
      fmt::format("at least {}, {}", shown<kinds::Speed>(reply, "least_speed", system, Toward::up),
                  word(reply, "least_by")));
  text +=
      line("VOLUME", shown<kinds::Volume>(reply, "volume", system, Toward::up),
           fmt::format("{} for one", shown<kinds::Duration>(reply, "time", system, Toward::up)));
  text += line(
      "PLAN WITH", shown<kinds::Duration>(reply, "time_planned", system, Toward::up),
      fmt::format("{} of gas", shown<kinds::StdVolume>(reply, "gas_used", system, Toward::up)));
  text += line("MIXED", shown<kinds::Length>(reply, "mixing", system, Toward::up),
               fmt::format("from 1 to 99 % gas; {} of it can burn",
                           shown<kinds::Length>(reply, "flammable", system, Toward::up)));
  text += line(
      "SLUG", shown<kinds::Length>(reply, "slug_least", system, Toward::up),
      fmt::format("of inert gas at least, {}{}",
                  shown<kinds::StdVolume>(reply, "slug_gas", system, Toward::up),
                  reply.value("slug_asked", false) ? ": decide, the purge is too slow without one"
                                                   : ", if one is used"));
  text += line("INLET", shown<kinds::GaugePressure>(reply, "inlet", system, Toward::up),
               fmt::format("at the feed, {} at the foot of the stack",
                           shown<kinds::GaugePressure>(reply, "foot", system, Toward::up)));
  text += line("LOST", shown<kinds::StdVolume>(reply, "gas_lost", system, Toward::up),
               "of gas, through the stack");
  if (known(reply, "pack_std_m3"))
    text += line("PACK", shown<kinds::StdVolume>(reply, "pack", system),
                 fmt::format("to {}", shown<kinds::GaugePressure>(reply, "pack_to", system)));
  const Json& ended = reply.at("ended");
  if (ended.is_boolean())
    text += line("READINGS", ended.get<bool>() ? "as wanted" : "not ended", "");
  return text + cautions(reply);
}

}  // namespace bellhole::sheets
