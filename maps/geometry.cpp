#include "maps/geometry.hpp"

#include <algorithm>
#include <cmath>

namespace bellhole::maps {
namespace {

std::uint64_t key(std::int64_t column, std::int64_t row) {
  return static_cast<std::uint64_t>(column) * 0x9E3779B97F4A7C15u ^
         (static_cast<std::uint64_t>(row) * 0xC2B2AE3D27D4EB4Fu);
}

/// A segment over more steps than this is kept apart and looked at by every query, so that a stray
/// line across the world does not fill memory.
constexpr double most_steps = 4096.0;

}  // namespace

double kept(double metres) {
  return std::round(metres * coordinate_steps_per_m) / coordinate_steps_per_m;
}

double distance(XY a, XY b) { return std::hypot(b.x - a.x, b.y - a.y); }

double length(std::span<const XY> line) {
  double sum = 0.0;
  for (std::size_t i = 1; i < line.size(); ++i) sum += distance(line[i - 1], line[i]);
  return sum;
}

Foot foot_on(std::span<const XY> line, XY point) {
  Foot best{.station = 0.0, .away = distance(line[0], point), .at = line[0]};
  double along = 0.0;
  for (std::size_t i = 1; i < line.size(); ++i) {
    const XY a = line[i - 1], b = line[i];
    const double span = distance(a, b);
    if (span > 0.0) {
      const double t = std::clamp(
          ((point.x - a.x) * (b.x - a.x) + (point.y - a.y) * (b.y - a.y)) / (span * span), 0.0,
          1.0);
      const XY at = t == 1.0 ? b : XY{a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)};
      const double away = distance(at, point);
      if (away < best.away) best = {.station = along + t * span, .away = away, .at = at};
    }
    along += span;
  }
  return best;
}

XY point_at(std::span<const XY> line, double station) {
  for (std::size_t i = 1; i < line.size(); ++i) {
    const double span = distance(line[i - 1], line[i]);
    if (station <= span && span > 0.0) {
      const double t = std::max(0.0, station / span);
      return {line[i - 1].x + t * (line[i].x - line[i - 1].x),
              line[i - 1].y + t * (line[i].y - line[i - 1].y)};
    }
    station -= span;
  }
  return line.back();
}

Line cut(std::span<const XY> line, double from, double to) {
  Line out{point_at(line, from)};
  double along = 0.0;
  for (std::size_t i = 1; i + 1 < line.size(); ++i) {
    along += distance(line[i - 1], line[i]);
    if (along > from && along < to) out.push_back(line[i]);
  }
  out.push_back(point_at(line, to));
  return out;
}

std::optional<XY> crossing(XY a, XY b, XY c, XY d) {
  const double ux = b.x - a.x, uy = b.y - a.y, vx = d.x - c.x, vy = d.y - c.y;
  const double denominator = ux * vy - uy * vx;
  if (denominator == 0.0) return std::nullopt;
  const double s = ((c.x - a.x) * vy - (c.y - a.y) * vx) / denominator;
  const double t = ((c.x - a.x) * uy - (c.y - a.y) * ux) / denominator;
  if (s < 0.0 || s > 1.0 || t < 0.0 || t > 1.0) return std::nullopt;
  return XY{a.x + s * ux, a.y + s * uy};
}

std::int64_t SegmentIndex::column(double x) const {
  return static_cast<std::int64_t>(std::floor(x / cell_));
}

void SegmentIndex::add(std::size_t line, std::span<const XY> points) {
  for (std::size_t i = 1; i < points.size(); ++i) {
    const XY a = points[i - 1], b = points[i];
    const auto number = static_cast<std::uint32_t>(segments_.size());
    segments_.push_back({line, i - 1, a, b});
    // Walk along the segment in steps of half a cell and enter the cells around each step once.
    const double steps = std::ceil(distance(a, b) / (cell_ / 2.0)) + 1.0;
    if (steps > most_steps) {
      everywhere_.push_back(number);
      continue;
    }
    for (double k = 0; k <= steps; ++k) {
      const double t = k / steps;
      const std::int64_t cx = column(a.x + t * (b.x - a.x)), cy = column(a.y + t * (b.y - a.y));
      auto& cell = cells_[key(cx, cy)];
      if (cell.empty() || cell.back() != number) cell.push_back(number);
    }
  }
}

std::vector<const SegmentIndex::Segment*> SegmentIndex::near(XY a, XY b, double reach) const {
  const double low_x = std::min(a.x, b.x) - reach, high_x = std::max(a.x, b.x) + reach;
  const double low_y = std::min(a.y, b.y) - reach, high_y = std::max(a.y, b.y) + reach;
  std::vector<std::uint32_t> found;
  const auto take = [&](std::uint32_t number) {
    const Segment& s = segments_[number];
    const bool apart = std::max(s.a.x, s.b.x) < low_x || std::min(s.a.x, s.b.x) > high_x ||
                       std::max(s.a.y, s.b.y) < low_y || std::min(s.a.y, s.b.y) > high_y;
    if (!apart) found.push_back(number);
  };
  // One cell more on each side: a segment cuts corners of cells that its steps did not enter.
  const std::int64_t c0 = column(low_x) - 1, c1 = column(high_x) + 1, r0 = column(low_y) - 1,
                     r1 = column(high_y) + 1;
  const double cells = static_cast<double>(c1 - c0 + 1) * static_cast<double>(r1 - r0 + 1);
  if (cells > static_cast<double>(segments_.size())) {
    for (std::uint32_t i = 0; i < segments_.size(); ++i) take(i);
  } else {
    for (const auto number : everywhere_) take(number);
    for (std::int64_t c = c0; c <= c1; ++c) {
      for (std::int64_t r = r0; r <= r1; ++r) {
        if (const auto cell = cells_.find(key(c, r)); cell != cells_.end()) {
          for (const auto number : cell->second) take(number);
        }
      }
    }
  }
  std::ranges::sort(found);
  found.erase(std::ranges::unique(found).begin(), found.end());
  std::vector<const Segment*> out;
  for (const auto number : found) out.push_back(&segments_[number]);
  return out;
}

void PointIndex::add(std::size_t item, XY at) {
  const auto c = static_cast<std::int64_t>(std::floor(at.x / cell_)),
             r = static_cast<std::int64_t>(std::floor(at.y / cell_));
  cells_[key(c, r)].push_back(static_cast<std::uint32_t>(points_.size()));
  points_.push_back({item, at});
}

std::vector<std::size_t> PointIndex::near(XY at, double reach) const {
  std::vector<std::uint32_t> found;
  const auto low_c = static_cast<std::int64_t>(std::floor((at.x - reach) / cell_));
  const auto high_c = static_cast<std::int64_t>(std::floor((at.x + reach) / cell_));
  const auto low_r = static_cast<std::int64_t>(std::floor((at.y - reach) / cell_));
  const auto high_r = static_cast<std::int64_t>(std::floor((at.y + reach) / cell_));
  for (auto c = low_c; c <= high_c; ++c) {
    for (auto r = low_r; r <= high_r; ++r) {
      const auto cell = cells_.find(key(c, r));
      if (cell == cells_.end()) continue;
      for (const auto number : cell->second) {
        if (distance(points_[number].at, at) <= reach) found.push_back(number);
      }
    }
  }
  std::ranges::sort(found);
  found.erase(std::ranges::unique(found).begin(), found.end());
  std::vector<std::size_t> out;
  for (const auto number : found) out.push_back(points_[number].item);
  return out;
}

}  // namespace bellhole::maps
