// What the needle did: readings of one gauge, in order.
#pragma once

#include <optional>
#include <vector>

#include "findings/trouble.hpp"
#include "linepack/drain.hpp"

namespace bellhole::linepack {

struct Reading {
  Duration at;  ///< on any clock
  GaugePressure pressure;
};

enum class Needle {
  too_soon,   ///< not watched long enough for a still needle to mean anything
  held,       ///< watched long enough, and moved by less than one step
  fell,       ///< by as many steps as must show
  rose,       ///< by as many steps as must show
  moved,      ///< by a step, but fewer than must show: neither held nor moved for certain
  both_ways,  ///< fell and rose: something was changed while it was watched
};

struct Judged {
  std::size_t count = 0;
  Duration watched;                  ///< from the first reading to the last
  GaugePressure last;                ///< the last reading
  PressureDifference fell;           ///< greatest fall from a reading to a later one
  PressureDifference rose;           ///< greatest rise from a reading to a later one
  PressureDifference change;         ///< last less first
  std::optional<PressureRate> rate;  ///< of `change`, where it is at least a step; falls negative
  std::optional<StdFlow> flow;       ///< that this rate means: out negative, in positive
  Needle needle = Needle::too_soon;
  std::optional<Drained> left;      ///< from the last reading, by the draw
  std::optional<Duration> at_rate;  ///< from the last reading to the floor, by the fall seen
};

/// `enough`: how long it must be watched; missing: no time is long enough.
/// REQUIRES: readings as check_readings() lets pass.
Judged judge(const Closed& closed, const std::vector<Reading>& readings, PressureDifference step,
             int steps, std::optional<Duration> enough);

/// Errors: contradiction naming the reading that is not later than the one before it; out_of_range
/// for a pressure below nothing.
Result<bool> check_readings(const std::vector<Reading>& readings, AbsolutePressure barometer);

}  // namespace bellhole::linepack
