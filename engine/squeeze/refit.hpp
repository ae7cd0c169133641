// What the company's own squeezes say of the yield on record: pump pressures at the stops, or at
// any gap on the way, against those that the closed form expects. Ten squeezes say more of a
// company's pipe and gauges than any computation.
//
//   scale = median over the squeezes of measured / expected force;  spread = its 10 to 90 % range
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "findings/finding.hpp"
#include "units/quantity.hpp"

namespace bellhole::squeeze {

struct LoggedSqueeze {
  std::string where;  ///< "log, line 4"
  Length od, wall;
  std::string material;
  Temperature pipe;
  Length gap, bar_radius;
  GaugePressure pump, line;
  Area ram;
  Duration closing;
};

struct RefitRow {
  std::string where;
  Force measured, expected;
  double scale = 0.0;                   ///< of the yield that would explain it
  std::optional<std::string> left_out;  ///< why; empty: used
};

struct Refit {
  std::optional<double> scale, low, high;  ///< missing: too few rows
  std::size_t used = 0;
  std::vector<RefitRow> rows;
  Findings findings;
};

/// Outside of these a unit or a gauge is wrong, and no pipe.
inline constexpr double least_scale = 0.3, most_scale = 3.0;
inline constexpr std::size_t refit_least = 5;    ///< fewer say nothing
inline constexpr std::size_t refit_wanted = 10;  ///< fewer are said to be few

Refit refit(const std::vector<LoggedSqueeze>& log);

}  // namespace bellhole::squeeze
