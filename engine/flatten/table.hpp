// The force of a closing from a table of full runs (pipe_run.hpp), in no time.
//
// Similarity leaves four numbers to sample: outside diameter over wall, bar radius over outside
// diameter, the gas's pressure over the yield Y at this rate, and the time of the closing. Force
// goes with Y, wall and diameter; size, grade and temperature drop out. How far the bars are is
// told by the share of the way until the walls meet, then by the share of the walls pressed.
//
//   F / (Y wall OD) = quick + u (slow - quick) + v (gas - quick)
//
// quick, slow: empty pipe, closed in the shorter and the longer time of the table; u goes with the
// logarithm of the time. gas: quick, with the most gas of the table; v goes with a power of its
// pressure, which some runs in between gave. Each is straight between its neighbours in the
// logarithms of force, ratio and radius. On the way down the force never falls.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "flatten/closed_form.hpp"
#include "flatten/pipe_run.hpp"

namespace bellhole::flatten {

/// What a place of a held-out run may be off by to count as within.
inline constexpr double score_within = 0.04;

/// How far the table is off full runs in bricks of its own that it was not made from.
struct Score {
  int runs = 0, places = 0;  ///< runs held out; places along their ways, from a tenth of it on
  double within = 0.0;       ///< share of the places that are off by less than score_within
  double most_of_95 = 0.0;   ///< what 95 % of the places are off by at most, a share
  double worst = 0.0;        ///< share
};

struct Table {
  std::string_view made_by;              ///< commit of the generator
  std::span<const double> ratios, bars;  ///< OD over wall and radius over OD, rising
  std::span<const double> way, pressed;  ///< stations, rising, above 0
  double quick_s = 0.0, slow_s = 0.0;    ///< times of closing
  double gas = 0.0;                      ///< pressure over yield
  double gas_power = 1.0;
  double unit = 0.0;  ///< of a value, as a share of Y wall OD
  /// By ratio, bar, run (quick, slow, gas) and station, way before pressed.
  std::span<const std::uint16_t> values;
  Score score;
};

/// The one that comes with this version.
const Table& table();

/// What the table does not reach, as the end of a sentence; empty where it reaches.
std::string beyond(const Table& table, const Jaws& jaws, Duration closing, Length stop);

/// Forces of a closing from touch to the table's end. REQUIRES: nothing beyond.
std::vector<Sample> tabulated(const Table& table, const Jaws& jaws, Duration closing);

}  // namespace bellhole::flatten
