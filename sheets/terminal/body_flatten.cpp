// The bodies of what computes or reads the force of a squeeze: flatten, gauge, refit.
#include <fmt/format.h>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

using units::System;
using units::Toward;

std::string edge(const Json& object, std::string_view key, System system) {
  if (!at(object, key).is_number()) return "not known";
  const auto value = Length::from_si(at(object, key).get<double>());
  return system == System::us ? units::print_in(value, "in", 3, Toward::nearest)
                              : units::print_in(value, "mm", 2, Toward::nearest);
}

std::string force(const Json& band, std::string_view key, System system) {
  return units::print(Force::from_si(at(band, key).is_number() ? at(band, key).get<double>() : NAN),
                      system);
}

std::string percent(const Json& number) {
  return number.is_number() ? fmt::format("{:.1f} %", 100.0 * number.get<double>()) : "not known";
}

std::string history_text(const Json& history, System system) {
  constexpr std::size_t lines_a_stage = 12;
  std::string text = "Force of one bar on the whole pipe\n";
  text += fmt::format("  {:<7}{:>9}{:>12}{:>14}{:>14}{:>14}\n", "", "after", "gap", "low",
                      "expected", "high");
  std::size_t begin = 0;
  while (begin < history.size()) {
    std::size_t end = begin;
    while (end < history.size() && at(history[end], "stage") == at(history[begin], "stage")) ++end;
    const std::size_t step = std::max<std::size_t>(1, (end - begin) / lines_a_stage);
    const bool touched = word(history[begin], "stage") != "rest";
    for (std::size_t i = begin; touched && i < end; ++i) {
      if ((end - 1 - i) % step != 0) continue;
      const Json &item = history[i], &band = at(item, "force_n");
      text += fmt::format("  {:<7}{:>7.0f} s{:>12}{:>14}{:>14}{:>14}\n", word(item, "stage"),
                          at(item, "at_s").get<double>(), edge(item, "gap_m", system),
                          force(band, "low", system), force(band, "expected", system),
                          force(band, "high", system));
    }
    begin = end;
  }
  return text;
}

}  // namespace

std::string flatten_body(const Json& reply, System system) {
  const Json &energy = at(reply, "energy"), &bricks = at(reply, "bricks");
  std::string text =
      fmt::format("{}, wall {}, {}, wall at {}, bars of {} radius, to {}\n\n", word(reply, "size"),
                  edge(reply, "wall_m", system), word(reply, "material"),
                  shown<kinds::Temperature>(reply, "pipe_temperature", system),
                  edge(reply, "bar_radius_m", system), edge(reply, "gap_m", system));
  text += history_text(at(reply, "history"), system);
  const Json& ear = at(reply, "ear_strain");
  text += fmt::format(
      "\nFlattened, it is {} wide. Strain in the fold, hardly sure: inside {} over "
      "{}, outside {} over {}\n",
      edge(reply, "width_m", system), percent(at(ear, "inner")), edge(ear, "over_inner_m", system),
      percent(at(ear, "outer")), edge(ear, "over_outer_m", system));
  if (at(reply, "opened") == true && !at(reply, "height_at_end_m").empty()) {
    const Json height = {{"m", at(reply, "height_at_end_m")[0][1]}};
    text += fmt::format("At the end it is {} high under the bars, hardly sure\n",
                        edge(height, "m", system));
  }
  const double by_bars = at(energy, "by_bars_j").get<double>();
  const auto share = [&](std::string_view key) {
    return percent(Json(at(energy, key).get<double>() / by_bars));
  };
  text += fmt::format(
      "\nOf the work of the bars ({:.0f} J on the eighth that is computed): strain {}, hourglass "
      "{}, "
      "damped {}, rubbed {}, unaccounted {}; at most {} in motion\n",
      by_bars, share("strain_j"), share("hourglass_j"), share("damped_j"), share("rubbed_j"),
      percent(at(energy, "off")), percent(at(energy, "most_kinetic_share")));
  return text + fmt::format(
                    "{} bricks ({}), {} steps; {:.0f} s of the material in one of the "
                    "motion\n",
                    at(bricks, "count").dump(), word(bricks, "fineness"),
                    at(bricks, "steps").dump(), at(reply, "clocks").get<double>());
}

std::string gauge_body(const Json& reply, System system) {
  std::string text = word(reply, "size") + ", readings";
  for (const Json& reading : at(reply, "readings"))
    text += fmt::format("  {} {}", edge(reading, "gap_m", system),
                        shown<kinds::GaugePressure>(reading, "pump", system));
  text += "\n\nPipes that would have read like this, and that the readings cannot tell apart\n";
  if (at(reply, "cannot_tell_apart").empty()) text += "  none on record\n";
  for (const Json& fit : at(reply, "cannot_tell_apart")) {
    std::string list;
    for (const Json& material : at(fit, "materials"))
      list += (list.empty() ? "" : ", ") + material.get<std::string>();
    text += fmt::format(
        "  {} {:<6g}{:<26}wall at {} to {}\n", word(reply, "size").starts_with("dn") ? "SDR" : "DR",
        at(fit, "ratio").get<double>(), list, shown<kinds::Temperature>(fit, "coldest", system),
        shown<kinds::Temperature>(fit, "warmest", system));
  }
  const std::string map = word(reply, "map");
  if (map == "fits") text += "The pipe of the map is among them, which proves nothing for it.\n";
  if (map == "contradicted") text += "THE PIPE OF THE MAP IS NOT AMONG THEM.\n";
  return text;
}

std::string refit_body(const Json& reply, System system) {
  const Json& scale = at(reply, "yield_scale");
  std::string text =
      scale.is_object()
          ? fmt::format(
                "YIELD SCALE {:.2f} ({:.2f} to {:.2f} in eight squeezes of ten), from {} "
                "squeezes\n\n",
                at(scale, "expected").get<double>(), at(scale, "low").get<double>(),
                at(scale, "high").get<double>(), at(reply, "used").dump())
          : fmt::format("NO YIELD SCALE: {} squeezes can be used\n\n", at(reply, "used").dump());
  for (const Json& row : at(reply, "rows"))
    text += fmt::format("  {:<14}measured {:>12}  expected {:>12}  {}\n", word(row, "where"),
                        force(row, "measured_n", system), force(row, "expected_n", system),
                        at(row, "left_out").is_string()
                            ? "left out: " + word(row, "left_out")
                            : fmt::format("{:.2f}", at(row, "scale").get<double>()));
  return text;
}

}  // namespace bellhole::sheets
