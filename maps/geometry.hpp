// Plane geometry of mains: distances, places along a line, crossings, and an index to find what is
// near.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <unordered_map>
#include <vector>

#include "maps/raw.hpp"

namespace bellhole::maps {

using Line = std::vector<XY>;

double distance(XY a, XY b);
double length(std::span<const XY> line);

/// The nearest place of a line to a point.
struct Foot {
  double station = 0.0;  ///< along the drawn line from its first point
  double away = 0.0;
  XY at;
};
Foot foot_on(std::span<const XY> line, XY point);

/// The point at a station, held to the line's ends.
XY point_at(std::span<const XY> line, double station);

/// The part of a line between two stations, ends included. REQUIRES 0 <= from < to <= length.
Line cut(std::span<const XY> line, double from, double to);

/// Where two segments cross in the inside of both, or touch; nothing for parallel ones.
std::optional<XY> crossing(XY a, XY b, XY c, XY d);

/// Segments of many lines in square cells.
class SegmentIndex {
 public:
  explicit SegmentIndex(double cell) : cell_(cell) {}
  void add(std::size_t line, std::span<const XY> points);

  struct Segment {
    std::size_t line;
    std::size_t first;  ///< vertex: the segment runs from `first` to `first + 1`
    XY a, b;
  };
  /// Segments whose box comes within `reach` of the box a, b; each once, in the order of adding.
  [[nodiscard]] std::vector<const Segment*> near(XY a, XY b, double reach) const;

 private:
  [[nodiscard]] std::int64_t column(double x) const;
  double cell_;
  std::vector<Segment> segments_;
  std::vector<std::uint32_t> everywhere_;
  std::unordered_map<std::uint64_t, std::vector<std::uint32_t>> cells_;
};

/// Points in square cells.
class PointIndex {
 public:
  explicit PointIndex(double cell) : cell_(cell) {}
  void add(std::size_t item, XY at);
  /// Items within `reach` of a point, in the order of adding.
  [[nodiscard]] std::vector<std::size_t> near(XY at, double reach) const;

 private:
  struct Point {
    std::size_t item;
    XY at;
  };
  double cell_;
  std::vector<Point> points_;
  std::unordered_map<std::uint64_t, std::vector<std::uint32_t>> cells_;
};

}  // namespace bellhole::maps
