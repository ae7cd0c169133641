// The body of a watch reply: the sentence, the times, what to expect of the needle.
#include <fmt/format.h>

#include <array>
#include <cmath>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

using units::System;
using units::Toward;

/// "2 h 06 min", "12 min 05 s"; a time to watch rounds up, a time left down.
std::string clock(const Json& object, std::string_view key, Toward toward) {
  if (!at(object, key).is_number()) return "not known";
  const double seconds = at(object, key).get<double>();
  const bool hours = seconds >= 3600.0;
  const double unit = hours ? 60.0 : 1.0, count = seconds / unit;
  const auto n =
      static_cast<long>(toward == Toward::up ? std::ceil(count - 1e-6) : std::floor(count + 1e-6));
  return fmt::format("{} {} {:02} {}", n / 60, hours ? "h" : "min", n % 60, hours ? "min" : "s");
}

std::string line(std::string_view name, const std::string& big, const std::string& rest) {
  return fmt::format("  {:<14}{:<14}{}\n", name, big, rest);
}

template <class Kind>
std::string of(const Json& number, System system, Toward toward = Toward::nearest) {
  return units::print(Quantity<Kind>::from_si(number.is_number() ? number.get<double>() : NAN),
                      system, toward);
}

std::string times(const Json& reply, System system) {
  std::string text;
  const bool known = at(reply, "watch_s").is_number();
  text += line("WATCH", known ? clock(reply, "watch_s", Toward::up) : "no end",
               known ? "or longer; a needle that stands still for less says nothing"
                     : "a steady gauge says nothing here");
  if (at(reply, "out_at_once") == true) {
    text += line("TIME LEFT", "none", "if nothing feeds it, its customers are out at once");
  } else if (at(reply, "time_left_s").is_number()) {
    text += line("TIME LEFT", clock(reply, "time_left_s", Toward::down),
                 fmt::format("at the high draw, down to {}, if nothing feeds it",
                             shown<kinds::GaugePressure>(reply, "floor", system)));
  }
  const bool falls = word(reply, "asks") != "shut_off_tight";
  const Json& rate = at(reply, falls ? "fall_pa_per_s" : "rise_pa_per_s");
  if (at(rate, "low").is_number()) {
    text += line(falls ? "FALL" : "RISE", of<kinds::PressureRate>(at(rate, "low"), system),
                 fmt::format("at the least, {} at the most, {}",
                             of<kinds::PressureRate>(at(rate, "high"), system),
                             falls ? "if nothing feeds it" : "if that let-by passes"));
  }
  const Json& gauge = at(reply, "gauge");
  text +=
      line("MUST MOVE", shown<kinds::PressureDifference>(reply, "must_move", system),
           fmt::format("{} of {} on the gauge, and {} for barometer and temperature",
                       at(gauge, "steps") == 1 ? "one step" : at(gauge, "steps").dump() + " steps",
                       shown<kinds::PressureDifference>(gauge, "step", system),
                       shown<kinds::PressureDifference>(reply, "faked", system)));
  return text;
}

std::string readings(const Json& reply, System system) {
  const Json& judged = at(reply, "readings");
  if (!judged.is_object()) return {};
  std::string needle = word(judged, "needle");
  for (char& c : needle) c = c == '_' ? ' ' : c;
  std::string text = line("THE NEEDLE", needle,
                          fmt::format("{} readings over {}, last {}", at(judged, "count").dump(),
                                      clock(judged, "watched_s", Toward::down),
                                      shown<kinds::GaugePressure>(judged, "last", system)));
  if (at(judged, "time_left_s").is_number()) {
    text += line("LEFT NOW", clock(judged, "time_left_s", Toward::down),
                 "from the last reading, at the high draw");
  }
  if (at(judged, "time_left_at_rate_s").is_number()) {
    text += line("", clock(judged, "time_left_at_rate_s", Toward::down),
                 "from the last reading, if it goes on falling as it did");
  }
  return text;
}

std::string tables(const Json& reply, System system) {
  std::string text;
  if (!at(reply, "expect").empty()) {
    text += "\nExpect at the gauge, if nothing feeds it   least flow     most flow\n";
    if (word(reply, "asks") == "shut_off_tight")
      text = "\nExpect at the gauge, if that passes        least flow     most flow\n";
    for (const Json& item : at(reply, "expect")) {
      text += fmt::format("  after {:<35}{:<15}{}\n", clock(item, "at_s", Toward::down),
                          shown<kinds::GaugePressure>(item, "at_low_flow", system),
                          shown<kinds::GaugePressure>(item, "at_high_flow", system));
    }
  }
  if (!at(reply, "finer").empty()) {
    text += "\nA finer gauge\n";
    for (const Json& item : at(reply, "finer")) {
      text += fmt::format("  steps of {:<12} need {}\n",
                          shown<kinds::PressureDifference>(item, "step", system),
                          clock(item, "watch_s", Toward::up));
    }
  }
  if (at(reply, "within_s").is_number()) {
    text += fmt::format(
        "  within {} it takes steps of {} or less\n", clock(reply, "within_s", Toward::down),
        shown<kinds::PressureDifference>(reply, "step_needed", system, Toward::down));
  }
  if (!at(reply, "shows").empty()) {
    text += "\nThe least flow that this gauge shows\n";
    for (const Json& item : at(reply, "shows")) {
      text += fmt::format("  in {:<14}{}\n", clock(item, "in_s", Toward::down),
                          shown<kinds::StdFlow>(item, "flow", system, Toward::up));
    }
  }
  return text;
}

}  // namespace

std::string watch_body(const Json& reply, System system) {
  std::string text = wrapped("", word(reply, "says"), 0) + "\n";
  return text + times(reply, system) + readings(reply, system) + tables(reply, system);
}

}  // namespace bellhole::sheets
