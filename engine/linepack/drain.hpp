// How long a closed length of main feeds its customers: the gas above a floor pressure against the
// draw. Closed form for a constant draw; the draw of real customers falls off under their least
// pressure, so this is the short end.
#pragma once

#include <optional>

#include "findings/trouble.hpp"
#include "linepack/closed.hpp"

namespace bellhole::linepack {

/// What may be drawn, at the least and at the most.
struct Draw {
  StdFlow low, high;
};

struct DrainQuestion {
  Closed closed;
  GaugePressure from;   ///< now
  GaugePressure floor;  ///< least pressure that still serves
  Draw draw;
  /// Pressure up to which a main has no line pack to speak of (rule linepack.low_pressure);
  /// missing: not known, and then nothing is said of it.
  std::optional<GaugePressure> low_pressure;
};

/// Times are missing where nothing is drawn: they have no end.
struct Drained {
  StdVolume usable;                  ///< between `from` and `floor`; nought when already below
  std::optional<Duration> shortest;  ///< at the high draw: the one to act on
  std::optional<Duration> longest;   ///< at the low draw
  /// Customers are out at once: the pressure is no higher than the floor, or the main is a
  /// low-pressure one, whose few seconds are no time to act in. Say so and show no countdown;
  /// `shortest` and `longest` are nought then (still missing where nothing is drawn).
  bool at_once = false;
};

/// Errors: out_of_range (volume, temperature or draw that cannot be), contradiction (low draw above
/// the high one).
Result<Drained> drain(const DrainQuestion& question);

}  // namespace bellhole::linepack
