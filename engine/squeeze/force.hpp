// What force the squeeze takes, what the pump's gauge should read for it, and how it eases while
// the pipe is held. A prediction to compare a gauge with; never a permission.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "flatten/closed_form.hpp"
#include "units/quantity.hpp"

namespace bellhole::squeeze {

enum class Reaches { yes, no, unsure };

/// Pressure of the pump's oil.
struct PumpBand {
  GaugePressure low, expected, high;
};

/// For a tool with a ram on record.
struct PumpGauge {
  PumpBand at_touch, at_half, at_walls_meeting, at_stops;
  PumpBand after_wait;    ///< on the stops, after the wait that the profile asks for at the limit
  PumpBand pumped_again;  ///< at the stops when they are reached only after that wait
  std::optional<Reaches> reaches_stops;  ///< before the pump's limit; missing: no limit on record
  /// Coldest pipe at which even the high end stays under the limit; missing without one.
  std::optional<Temperature> reaches_down_to;
};

struct HeldShare {
  Duration after;
  double share = 1.0;  ///< of the force with which the stops were reached
};

struct Flattening {
  std::vector<flatten::Point> curve;  ///< from touch to the stops
  flatten::Band at_walls_meeting, at_stops;
  std::optional<PumpGauge> pump;
  std::vector<HeldShare> hold;
};

/// How the band came about, in words.
inline constexpr const char* band_method =
    "low: thinnest wall, material 15 % under its grade; high: thickest wall, 15 % over; the "
    "formula "
    "13 % either way, 30 % before half travel, combined with the material as the root of the sum "
    "of "
    "squares; at the temperature given";

}  // namespace bellhole::squeeze
