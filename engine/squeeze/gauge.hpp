// Reading a pump's gauge: which pipes would have read like this. A set, since readings never tell
// one pipe: a thicker wall, a stronger grade and a colder pipe all press back harder. What fits is
// not thereby known, and nothing here is a permission.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "findings/finding.hpp"
#include "pipe/sizes.hpp"
#include "units/print.hpp"
#include "units/quantity.hpp"

namespace bellhole::squeeze {

/// The pump's pressure at a gap, while the bars were moving.
struct GaugeReading {
  Length gap;
  GaugePressure pump;
};

struct GaugeQuestion {
  pipe::Size size;
  Length bar_radius;
  Area ram;
  Duration closing;    ///< from touch to the stops
  GaugePressure line;  ///< in the pipe
  std::vector<GaugeReading> readings;
  GaugePressure read_to;  ///< how near the gauge is read; 0: as it is
  std::optional<std::pair<Temperature, Temperature>> pipe_between;  ///< missing: -20 to 50 degC
  std::optional<double> map_ratio;
  std::optional<std::string_view> map_material;
};

/// One ratio of one group of grades: the temperatures of the wall at which every reading lies in
/// its band.
struct Fitting {
  double ratio = 0.0;
  std::vector<std::string_view> materials;  ///< that cannot be told apart by any force
  Temperature coldest, warmest;
};

enum class MapSays { nothing, fits, contradicted };

struct GaugeAnswer {
  std::vector<Fitting> fitting;  ///< by rising ratio, strongest grade first
  MapSays map = MapSays::nothing;
  Findings findings;
  std::vector<std::string> assumed;
};

/// By the closed form's bands (flatten/closed_form.hpp) over all ratios on record for the size.
/// Errors: missing_value without a reading, out_of_range (a gap that is none of this pipe, no ram).
Result<GaugeAnswer> read_gauge(const GaugeQuestion& question, units::System units);

}  // namespace bellhole::squeeze
