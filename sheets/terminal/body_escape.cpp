// The bodies of escape and vent replies.
#include <fmt/format.h>

#include <cmath>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

using units::System;
using units::Toward;

std::string line(std::string_view name, const std::string& big, const std::string& rest) {
  return fmt::format("  {:<14}{:<16}{}\n", name, big, rest);
}

template <class Kind>
std::string of(const Json& object, std::string_view key, System system,
               Toward toward = Toward::nearest) {
  const Json& number = at(object, key);
  return units::print(Quantity<Kind>::from_si(number.is_number() ? number.get<double>() : NAN),
                      system, toward);
}

std::string flow(const Json& end, System system, Toward toward) {
  return fmt::format("{}, {}", of<kinds::StdFlow>(end, "std_m3_per_s", system, toward),
                     of<kinds::MassFlow>(end, "kg_per_s", System::metric, toward));
}

std::string end_text(std::string_view name, const Json& end, System system, Toward toward) {
  const std::string coefficient =
      at(end, "cd").is_number() ? fmt::format("coefficient {:g}, ", at(end, "cd").get<double>())
                                : "";
  std::string text = line(name, flow(end, system, toward), "");
  text += line("", "",
               fmt::format("{}{}, {} inside at the opening", coefficient, word(end, "regime"),
                           shown<kinds::GaugePressure>(end, "at_the_opening", system)));
  if (at(end, "kg").is_number()) {
    text += line("", "",
                 fmt::format("{} in all, {}", of<kinds::StdVolume>(end, "std_m3", system, toward),
                             of<kinds::Mass>(end, "kg", System::metric, toward)));
  }
  return text;
}

std::string clock(const Json& object, std::string_view key) {
  if (!at(object, key).is_number()) return "never";
  const auto n = static_cast<long>(std::ceil(at(object, key).get<double>() - 1e-6));
  return n < 3600 ? fmt::format("{} min {:02} s", n / 60, n % 60)
                  : fmt::format("{} h {:02} min", n / 3600, (n % 3600 + 59) / 60);
}

}  // namespace

std::string stages_text(const Json& reply, System system) {
  std::string text =
      fmt::format("{:<34}{:<18}{:<16}\n", "Shut in turn", "at the most", "at the least");
  for (const Json& stage : at(reply, "stages")) {
    const auto kg = [&](const char* key, Toward toward) {
      return of<kinds::MassFlow>(stage, key, System::metric, toward);
    };
    const bool one = at(stage, "kg_per_s") == at(stage, "kg_per_s_low");
    const std::string until =
        at(stage, "ends_s").is_number() ? ", until " + clock(stage, "ends_s") : "";
    text +=
        fmt::format("  {:<32}{:<18}{:<16}{}{}\n", word(stage, "after"), kg("kg_per_s", Toward::up),
                    one ? "" : kg("kg_per_s_low", Toward::down),
                    at(stage, "fed") == true ? word(stage, "regime") : "not fed any more", until);
  }
  const Json& lost = at(reply, "lost");
  if (!lost.is_object()) return text;
  return text + wrapped("  ",
                        fmt::format("lost by the last closing: {} at the most ({}){}",
                                    of<kinds::Mass>(lost, "kg", System::metric, Toward::up),
                                    of<kinds::StdVolume>(lost, "gas_std_m3", system, Toward::up),
                                    at(lost, "goes_on") == true ? "; it goes on" : ""),
                        4);
}

std::string escape_body(const Json& reply, System system) {
  const Json& opening = at(reply, "opening");
  std::string what = "full bore";
  if (at(opening, "diameter_m").is_number()) {
    what = "hole of " + shown<kinds::Length>(opening, "diameter", system);
  } else if (at(opening, "area_m2").is_number()) {
    what = "hole of " + shown<kinds::Area>(opening, "area", system);
  }
  std::string text = fmt::format("Gas that leaves: {}, {}\n", what,
                                 shown<kinds::GaugePressure>(reply, "pressure", system));
  const bool both = word(reply, "end") == "high";
  text += end_text(both ? "AT THE MOST" : "ESCAPES", at(reply, "high"), system, Toward::up);
  if (both) text += end_text("AT THE LEAST", at(reply, "low"), system, Toward::down);
  text += fmt::format("  counted at {} and {}\n",
                      of<kinds::AbsolutePressure>(at(reply, "base"), "pa_abs", system),
                      of<kinds::Temperature>(at(reply, "base"), "k", system));
  if (!at(reply, "stages").empty()) text += "\n" + stages_text(reply, system);
  return text + "\n" + wrapped("", word(reply, "caution"), 0);
}

std::string vent_body(const Json& reply, System system) {
  std::string text =
      line("VENT", clock(reply, "takes_s"),
           fmt::format("from {} down to {}", shown<kinds::GaugePressure>(reply, "pressure", system),
                       shown<kinds::GaugePressure>(reply, "down_to", system)));
  text += line("CHOKED", clock(reply, "choked_until_s"), "loud and fast until then");
  text += line("LEAVES", shown<kinds::StdVolume>(reply, "gas", system, Toward::up), "");
  text += line("RESTS AT", shown<kinds::GaugePressure>(reply, "rests_at", system),
               "if the vent stays open and nothing lets by");
  text += "\nExpect at the gauge\n";
  const Json& course = at(reply, "course");
  for (std::size_t i = 0; i < course.size(); i += 2) {
    text += fmt::format("  after {:<16}{}\n", clock(course[i], "at_s"),
                        shown<kinds::GaugePressure>(course[i], "pressure", system));
  }
  return text;
}

}  // namespace bellhole::sheets
