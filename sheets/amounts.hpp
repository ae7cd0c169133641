// What each number on paper stands for: its unit, its decimals and the way it may err. One table,
// so that the same quantity reads the same on every sheet and is always rounded to the safe side.
#pragma once

#include <cmath>
#include <optional>
#include <string>
#include <string_view>

#include "units/print.hpp"

namespace bellhole::sheets {

/// An empty unit lets the size of the value choose it (an inch of water or a psi).
template <class Kind>
struct Amount {
  std::string_view us;
  int us_decimals = 0;
  std::string_view metric;
  int metric_decimals = 0;
  units::Toward toward = units::Toward::nearest;
};

namespace amounts {
using units::Toward;

// Gaps are not rounded to a side: a stop is chosen, and the figure is what a gauge can read.
inline constexpr Amount<kinds::Length> gap{"in", 3, "mm", 2};
inline constexpr Amount<kinds::Length> mark_gap{"in", 2, "mm", 0};  ///< a mark to pass on the way
inline constexpr Amount<kinds::Length> wall{"in", 3, "mm", 2};
inline constexpr Amount<kinds::Length> diameter{"in", 3, "mm", 1};
inline constexpr Amount<kinds::Length> travel{"in", 2, "mm", 1};
inline constexpr Amount<kinds::Length> small{"in", 2, "mm", 0};
inline constexpr Amount<kinds::Length> small_up{"in", 2, "mm", 0, Toward::up};  ///< to dig
inline constexpr Amount<kinds::Length> station{"in", 1, "mm", 0};  ///< along the exposed length
inline constexpr Amount<kinds::Length> clearance{"in", 1, "mm", 0, Toward::up};
// A window may only lose by rounding.
inline constexpr Amount<kinds::Length> window_from{"in", 1, "mm", 0, Toward::up};
inline constexpr Amount<kinds::Length> window_to{"in", 1, "mm", 0, Toward::down};
inline constexpr Amount<kinds::Length> place{"ft", 1, "m",
                                             1};  ///< stations and offsets along a main
inline constexpr Amount<kinds::Length> window_place_from{"ft", 1, "m", 1, Toward::up};
inline constexpr Amount<kinds::Length> window_place_to{"ft", 1, "m", 1, Toward::down};
inline constexpr Amount<kinds::Length> near{"ft", 1, "m", 1,
                                            Toward::down};  ///< how far another pipe may be
inline constexpr Amount<kinds::Length> cover{"ft", 1, "m", 2, Toward::down};
inline constexpr Amount<kinds::Length> stretch{"ft", 0, "m", 0};
inline constexpr Amount<kinds::Volume> volume{"ft3", 0, "m3", 2, Toward::up};
inline constexpr Amount<kinds::StdVolume> line_pack{"scf", 0, "std m3", 1, Toward::up};
inline constexpr Amount<kinds::StdFlow> draw_low{"scfh", 0, "std m3/h", 2, Toward::down};
inline constexpr Amount<kinds::StdFlow> draw_high{"scfh", 0, "std m3/h", 2, Toward::up};
inline constexpr Amount<kinds::Fraction> compression{"%", 1, "%", 1,
                                                     Toward::up};  ///< against a most
inline constexpr Amount<kinds::Fraction> compression_limit{"%", 1, "%", 1, Toward::down};
inline constexpr Amount<kinds::Speed> pace{"in/min", 2, "mm/min", 1,
                                           Toward::down};  ///< fastest allowed
// Pressures that the network will see err toward their limit; limits err toward the pressure.
inline constexpr Amount<kinds::GaugePressure> pressure{};
inline constexpr Amount<kinds::GaugePressure> lowest{"", 0, "", 0, Toward::down};
inline constexpr Amount<kinds::GaugePressure> highest{"", 0, "", 0, Toward::up};
inline constexpr Amount<kinds::GaugePressure> least_allowed{"", 0, "", 0, Toward::up};
inline constexpr Amount<kinds::GaugePressure> most_allowed{"", 0, "", 0, Toward::down};
inline constexpr Amount<kinds::Temperature> temperature{"degF", 1, "degC", 1};
inline constexpr Amount<kinds::Temperature> start_above{"degF", 0, "degC", 0, Toward::up};
}  // namespace amounts

/// The words for a missing value.
inline constexpr std::string_view not_known = "not known";

/// Units as people write them on paper: "°F", "m³".
std::string paper_units(std::string words);

/// Prints a value by its row; nothing prints "not known".
template <class Kind>
std::string print(const Amount<Kind>& amount, std::optional<double> si, units::System system) {
  if (!si || !std::isfinite(*si)) return std::string(not_known);
  const auto value = Quantity<Kind>::from_si(*si);
  const bool us = system == units::System::us;
  const std::string_view unit = us ? amount.us : amount.metric;
  if (unit.empty()) return paper_units(units::print(value, system, amount.toward));
  return paper_units(units::print_in(value, unit, us ? amount.us_decimals : amount.metric_decimals,
                                     amount.toward));
}

/// The number alone, for a table whose head carries the unit. Nothing prints a dash.
template <class Kind>
std::string bare(const Amount<Kind>& amount, std::optional<double> si, units::System system) {
  const std::string printed = print(amount, si, system);
  if (printed == not_known) return "–";
  return printed.substr(0, printed.find(' '));
}

template <class Kind>
std::string unit_of(const Amount<Kind>& amount, units::System system) {
  return paper_units(std::string(system == units::System::us ? amount.us : amount.metric));
}

/// The unit of a gauge's scale for a pressure, by the units of the sheet: "psig", "inWC".
std::string scale_unit(double most_pa_gauge, units::System system);
/// A pressure in such a unit, the number alone.
std::string gauge_reading(std::optional<double> pa_gauge, const std::string& unit,
                          units::Toward toward);

/// Minutes and seconds on a stop-watch, "3:46"; from an hour up "1:03:46". Rounds up: a time on
/// paper is the earliest at which something may be done.
std::string stop_watch(std::optional<double> seconds);
/// The same in words, "3 min 46 s".
std::string min_s(std::optional<double> seconds);
/// How long something takes, in words: "4 min", "2 h 05 min". Rounds up to the minute above two
/// minutes.
std::string lasting(std::optional<double> seconds);
/// The same of time that is left: rounds down.
std::string lasting_down(std::optional<double> seconds);

}  // namespace bellhole::sheets
