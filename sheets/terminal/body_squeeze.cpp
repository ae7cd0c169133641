// The body of a squeeze or pace reply: the numbers that the crew sets and reads first, then what
// they rest on.
#include <fmt/format.h>

#include <array>
#include <vector>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

using units::System;
using units::Toward;

bool is_number(const Json& object, std::string_view key) { return at(object, key).is_number(); }

/// A length at the edge of a pipe or hole, where inches beat feet.
std::string length(const Json& object, std::string_view key, System system, int us_decimals,
                   int metric_decimals, Toward toward) {
  if (!is_number(object, key)) return "not known";
  const auto value = Length::from_si(at(object, key).get<double>());
  return system == System::us ? units::print_in(value, "in", us_decimals, toward)
                              : units::print_in(value, "mm", metric_decimals, toward);
}

std::string gap(const Json& object, std::string_view key, System system) {
  return length(object, key, system, 3, 2, Toward::nearest);
}

/// "3:46" on a watch, "1:03:46" from an hour. Rounded up: nothing may be done earlier.
std::string watch(const Json& object, std::string_view key) {
  if (!is_number(object, key)) return "not known";
  const double seconds = at(object, key).get<double>();
  const auto whole = static_cast<long>(std::ceil(seconds - 1e-6));
  if (whole < 3600) return fmt::format("{}:{:02}", whole / 60, whole % 60);
  return fmt::format("{}:{:02}:{:02}", whole / 3600, whole / 60 % 60, whole % 60);
}

std::string percent(const Json& object, std::string_view key) {
  if (!is_number(object, key)) return "not known";
  const auto value = Fraction::from_si(at(object, key).get<double>());
  return value.si() > 0.0 ? units::print(value, System::us, Toward::up) : std::string("not closed");
}

std::string line(std::string_view name, const std::string& big, const std::string& rest) {
  return fmt::format("  {:<14}{:<14}{}\n", name, big, rest);
}

std::string pipe_line(const Json& reply, System system) {
  const Json& pipe = at(reply, "pipe");
  std::string text = word(pipe, "size");
  if (is_number(pipe, "ratio"))
    text += fmt::format(" {} {:g}", text.starts_with("dn") ? "SDR" : "DR",
                        at(pipe, "ratio").get<double>());
  text += ", " + word(pipe, "material", "material not known");
  text += ", " + (is_number(pipe, "pressure_pa_gauge")
                      ? shown<kinds::GaugePressure>(pipe, "pressure", system)
                      : std::string("pressure not known"));
  text += ", pipe at " + (is_number(pipe, "temperature_k")
                              ? shown<kinds::Temperature>(pipe, "temperature", system)
                              : std::string("a temperature not known"));
  return text + "\nby profile " + word(at(reply, "profile"), "id") + " (" +
         word(at(reply, "profile"), "title") + ")\n\n";
}

std::string gap_lines(const Json& reply, System system) {
  const Json& on = at(reply, "stop_gap_on");
  std::string basis = word(on, "basis", "wall not known");
  if (basis == "measured_else_minimum")
    basis = at(at(reply, "pipe"), "wall_measured") == true ? "measured" : "minimum";
  std::string text =
      line("GAP WANTED", gap(reply, "stop_gap_m", system),
           is_number(reply, "stop_gap_m")
               ? fmt::format("between the bars: {} less than twice the {} wall of {}",
                             percent(on, "compression"), basis, gap(on, "wall_m", system))
               : std::string("wall or limit not known"));
  const Json& stop = at(reply, "stop");
  const bool given = !at(reply, "stops").empty();
  text += stop.is_object() ? line("STOP", word(stop, "id"), "keeps " + gap(stop, "gap_m", system))
                           : line("STOP", given ? "none fits" : "none given",
                                  given ? "see below; do not squeeze without the right one"
                                        : "give --tool or --stops");
  return text;
}

std::string pace_lines(const Json& reply, System system) {
  std::string text;
  const Json& close = at(reply, "close");
  const Json& open = at(reply, "open");
  if (close.is_object()) {
    text += line("CLOSE", watch(close, "shortest_s"),
                 fmt::format("or slower, {} of travel, at most {}",
                             length(reply, "travel_m", system, 2, 1, Toward::nearest),
                             shown<kinds::Speed>(close, "speed", system, Toward::down)));
  }
  if (is_number(at(reply, "at_limit"), "wait_s")) {
    text += line("AT THE LIMIT", watch(at(reply, "at_limit"), "wait_s"),
                 "of waiting, then pump up again. Not on the stops is not shut: find out why");
  }
  if (open.is_object()) {
    text += line("OPEN", watch(open, "shortest_with_waits_s"),
                 fmt::format("or slower, in {} steps with {} waits, at most {}",
                             at(open, "steps").size(), at(open, "waits").get<int>(),
                             shown<kinds::Speed>(open, "speed", system, Toward::down)));
  }
  return text;
}

std::string places_text(const Json& reply, System system) {
  const auto edge = [&](const Json& value, Toward toward) {
    return length(Json{{"m", value}}, "m", system, 1, 0, toward);
  };
  std::string text;
  const Json& windows = at(reply, "windows_m");
  const Json& fit = at(reply, "places_m");
  const bool two = word(reply, "arrangement") == "two" && fit.size() > 1;
  if (two) {
    text +=
        line("PUT THEM AT", edge(fit[0], Toward::nearest), "and " + edge(fit[1], Toward::nearest));
  } else if (is_number(reply, "place_m")) {
    text += line("PUT IT AT", edge(at(reply, "place_m"), Toward::nearest),
                 "from the end that the exposed length is measured from");
  }
  if (!windows.is_array()) return text;
  std::string list;
  for (const Json& window : windows) {
    list += fmt::format("{}{} to {}", list.empty() ? "" : "; ", edge(window[0], Toward::up),
                        edge(window[1], Toward::down));
  }
  return text + line("ALLOWED", windows.empty() ? "nowhere" : "", list);
}

std::string arrangement_line(const Json& reply) {
  const std::string arrangement = word(reply, "arrangement");
  if (arrangement == "one") return line("SQUEEZES", "one", "keeps the limit for one squeeze");
  if (arrangement == "two") return line("SQUEEZES", "two", "with a vent between them");
  return line("SQUEEZES", "undecided",
              "one, or two with a vent between: the limit for one is not set, or not kept");
}

std::string wall_text(const Json& reply, System system) {
  const Json& pipe = at(reply, "pipe");
  const Json& does = at(reply, "wall_compression");
  std::string text = "\nWall and what " +
                     (does.is_object() ? "the " + word(does, "of") : std::string("a gap")) +
                     " does to it\n";
  const std::array rows{std::array{"thinnest", "wall_min_m", "at_min_wall"},
                        std::array{"mean", "wall_nominal_m", "at_nominal_wall"},
                        std::array{"thickest", "wall_max_m", "at_max_wall"}};
  for (const auto& [name, wall, key] : rows) {
    text += fmt::format("  {:<10}{:<12}{}\n", name, gap(pipe, wall, system),
                        does.is_object() ? percent(does, key) : "");
  }
  text += fmt::format("  {} ({})\n", word(pipe, "wall_source", "wall not known"),
                      word(pipe, "wall_evidence", "-"));
  const Json& design = at(pipe, "design");
  if (is_number(design, "pressure_pa_gauge")) {
    text += fmt::format("Design pressure {}: {} ({})\n",
                        shown<kinds::GaugePressure>(design, "pressure", system, Toward::down),
                        word(design, "form"), word(design, "source"));
  }
  return text;
}

std::string stops_text(const Json& reply, System system) {
  const Json& stops = at(reply, "stops");
  if (!stops.is_array() || stops.empty()) return {};
  std::string text = "\nStops looked at             gap   thinnest      mean  thickest\n";
  for (const Json& stop : stops) {
    text += fmt::format("  {:<18}{:>11}{:>11}{:>10}{:>10}  {}\n", word(stop, "id"),
                        gap(stop, "gap_m", system), percent(stop, "at_min_wall"),
                        percent(stop, "at_nominal_wall"), percent(stop, "at_max_wall"),
                        at(stop, "fits") == true ? "fits" : word(stop, "because"));
  }
  return text;
}

std::string table_text(std::string_view title, const Json& table, const Json& tool, System system) {
  if (!table.is_object()) return {};
  const std::string counted = word(tool, "counted_in");
  std::string text =
      fmt::format("\n{}: gap, and the clock from the first movement, not earlier{}\n", title,
                  counted.empty() ? "" : ", " + counted);
  for (const Json& mark : at(table, "marks")) {
    text += fmt::format("  {:>10}  {:>8}", gap(mark, "gap_m", system), watch(mark, "at_s"));
    if (is_number(mark, "count"))
      text += fmt::format("  {:>7.1f}", at(mark, "count").get<double>());
    text += '\n';
  }
  if (is_number(table, "shortest_per_count_s")) {
    text += fmt::format(
        "  each {} takes {} or longer\n", counted == "turns" ? "turn" : "stroke",
        units::print_in(Duration::from_si(at(table, "shortest_per_count_s").get<double>()), "s", 1,
                        Toward::up));
  }
  return text;
}

std::string opening_text(const Json& table, System system) {
  if (!table.is_object()) return {};
  std::string text = "\nOpening steps: to this gap, moving until (not earlier), then wait\n";
  for (const Json& step : at(table, "steps")) {
    const bool waits = is_number(step, "wait_s") && at(step, "wait_s").get<double>() > 0.0;
    text += fmt::format("  {:>10}  {:>8}  {}\n", gap(step, "to_gap_m", system),
                        watch(step, "ends_s"), waits ? "wait " + watch(step, "wait_s") : "");
  }
  return text;
}

std::string hole_text(const Json& reply, System system) {
  if (!at(reply, "hole").is_object()) return {};
  const auto expose = [&](const char* key) {
    return length(at(reply, "hole"), key, system, 0, 0, Toward::up);
  };
  std::string beside;
  if (const Json& side = at(at(reply, "hole"), "beside_joint"); side.is_object()) {
    const auto of = [&](const char* key) { return length(side, key, system, 2, 0, Toward::up); };
    beside = fmt::format(
        "On each side of a new joint, to the tool's edge: one squeeze {}, with a spare place {}; "
        "two "
        "squeezes {}, with a spare place {}\n",
        of("one_m"), of("one_and_spare_m"), of("two_m"), of("two_and_spare_m"));
  }
  return fmt::format(
             "\nClearance {} from the squeeze's centreline to the near edge of anything\n"
             "Expose at least: one squeeze {}, with a spare place {}; two squeezes {}, with a "
             "spare place "
             "{}\n",
             length(reply, "clearance_m", system, 1, 0, Toward::up), expose("one_m"),
             expose("one_and_spare_m"), expose("two_m"), expose("two_and_spare_m")) +
         beside;
}

/// "3,900 psig (2,900 to 5,000)" of one moment of the pump's gauge.
std::string pump_line(std::string_view when, const Json& band, System system) {
  const auto one = [&](const char* end) {
    return units::print_in(GaugePressure::from_si(at(band, end).get<double>()),
                           system == System::us ? "psig" : "bar(g)", 0);
  };
  return fmt::format("  {:<29} {:<11} {} to {}\n", when, one("expected"), one("low"), one("high"));
}

std::string pump_text(const Json& reply, System system) {
  const Json& pump = at(reply, "pump");
  if (!pump.is_object()) {
    const Json& force = at(at(reply, "force_n"), "at_stops");
    if (!force.is_object()) return {};
    const auto one = [&](const char* end) {
      return units::print(Force::from_si(at(force, end).get<double>()), system);
    };
    return fmt::format("\nForce at the stops: {}, {} to {} (a prediction, no limit)\n",
                       one("expected"), one("low"), one("high"));
  }
  std::string text = "\nExpect at the pump's gauge (a prediction, no limit)\n";
  text += pump_line("half way down", at(pump, "at_half_pa_gauge"), system);
  text += pump_line("inner walls meet", at(pump, "at_walls_meeting_pa_gauge"), system);
  text += pump_line("on the stops", at(pump, "at_stops_pa_gauge"), system);
  text += pump_line("on the stops, after the wait", at(pump, "after_wait_pa_gauge"), system);
  const std::string reaches = word(pump, "reaches_stops");
  if (!reaches.empty()) {
    text += reaches == "yes"  ? "  The stops come before the pump's limit"
            : reaches == "no" ? "  The pump's limit comes before the stops"
                              : "  Whether the stops come before the pump's limit is not sure";
    if (is_number(pump, "reaches_down_to_k"))
      text += "; they do for certain in a pipe warmer than " +
              shown<kinds::Temperature>(pump, "reaches_down_to", system, Toward::up);
    text += ".\n";
  }
  return text + "  At the limit and not on the stops is not shut: find out why.\n";
}

std::string tool_text(const Json& reply, System system) {
  const Json& tool = at(reply, "tool");
  if (!tool.is_object()) return {};
  std::string text = fmt::format("\nTool {} {}\n", word(tool, "id"), word(tool, "title"));
  if (is_number(tool, "pump_limit_pa_gauge")) {
    text += fmt::format("  pump's limit {}",
                        shown<kinds::GaugePressure>(tool, "pump_limit", system, Toward::down));
    if (is_number(tool, "force_at_limit_n"))
      text += ", which is " + shown<kinds::Force>(tool, "force_at_limit", system);
    text += '\n';
  }
  for (const char* stage :
       {"before", "lowering", "during", "holding", "opening", "after", "storing"}) {
    for (const Json& says : at(at(tool, "instructions"), stage))
      text += fmt::format("  {:<8} [ ] {}\n", stage, says.get<std::string>());
  }
  return text;
}

std::string limits_text(const Json& reply) {
  const Json& limits = at(reply, "limits");
  if (!limits.is_array() || limits.empty()) return {};
  std::string text = "\nLimits used\n";
  for (const Json& limit : limits) {
    const std::string by = word(limit, "approved_by");
    text += wrapped(fmt::format("  {:<13} ", word(limit, "says")),
                    fmt::format("{} ({}; {}{})", word(limit, "asks"), word(limit, "source"),
                                word(limit, "evidence"), by.empty() ? "" : "; approved by " + by),
                    16);
  }
  return text;
}

}  // namespace

std::string squeeze_body(const Json& reply, System system) {
  return pipe_line(reply, system) + gap_lines(reply, system) + pace_lines(reply, system) +
         arrangement_line(reply) + places_text(reply, system) + wall_text(reply, system) +
         stops_text(reply, system) + pump_text(reply, system) + hole_text(reply, system) +
         table_text("Closing", at(reply, "close"), at(reply, "tool"), system) +
         opening_text(at(reply, "open"), system) + tool_text(reply, system) + limits_text(reply);
}

std::string pace_body(const Json& reply, System system) {
  return pipe_line(reply, system) + gap_lines(reply, system) + pace_lines(reply, system) +
         table_text("Closing", at(reply, "close"), at(reply, "tool"), system) +
         opening_text(at(reply, "open"), system) +
         table_text("Opening", at(reply, "open"), at(reply, "tool"), system) +
         recording_body(reply, system) + tool_text(reply, system) + limits_text(reply);
}

}  // namespace bellhole::sheets
