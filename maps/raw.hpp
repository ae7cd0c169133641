// A map as read, before anything is made of it: features with their geometry in the working system
// and their columns as text. Free of GDAL, so that everything after reading can be tested and
// fuzzed without it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bellhole::maps {

struct XY {
  double x = 0.0, y = 0.0;
  friend bool operator==(const XY&, const XY&) = default;
};

enum class Shape : std::uint8_t { none, point, line, area, other };

/// One value of a column. Blank and null are the same: the map says nothing.
using Cell = std::optional<std::string>;

struct RawFeature {
  std::int64_t fid = 0;
  Shape shape = Shape::none;
  std::vector<std::vector<XY>> parts;        ///< points: one vertex each; lines; rings of areas
  std::vector<std::vector<double>> heights;  ///< as parts, where the map is 3-D; else empty
  bool curved = false;                       ///< arcs were made into chords
  bool broken = false;      ///< a coordinate was not a number, or could not be projected
  std::vector<Cell> cells;  ///< as the layer's columns
};

struct RawLayer {
  std::string name;
  std::string crs;              ///< as the layer says, or as the mapping says for it
  bool projected_here = false;  ///< coordinates were transformed into the working system
  std::vector<std::string> columns;
  std::vector<RawFeature> features;

  [[nodiscard]] std::optional<std::size_t> column(std::string_view wanted) const {
    for (std::size_t i = 0; i < columns.size(); ++i) {
      if (columns[i] == wanted) return i;
    }
    return std::nullopt;
  }
};

/// Coordinates are kept to a tenth of a millimetre, so that the same map gives the same network
/// whatever projection library read it.
inline constexpr double coordinate_steps_per_m = 1e4;

/// A coordinate as it is kept.
double kept(double metres);

}  // namespace bellhole::maps
