#include "sheets/map_labels.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

namespace bellhole::sheets {
namespace {

bool inside(const Box& inner, const Box& outer) {
  return inner.x >= outer.x && inner.right() <= outer.right() && inner.y >= outer.y &&
         inner.bottom() <= outer.bottom();
}

/// A turned name as a row of small boxes.
std::vector<Box> row_of_boxes(Point centre, double angle, double w, double h) {
  const int n = std::max(1, static_cast<int>(std::ceil(w / h)));
  std::vector<Box> boxes;
  for (int i = 0; i < n; ++i) {
    const double d = (i + 0.5) / n * w - w / 2;
    boxes.push_back(
        {centre.x + d * std::cos(angle) - h / 2, centre.y + d * std::sin(angle) - h / 2, h, h});
  }
  return boxes;
}

}  // namespace

bool Labels::is_free(const Box& box) const {
  return inside(box, frame_) &&
         std::ranges::none_of(taken_, [&](const Box& other) { return box.overlaps(other); });
}

double Labels::crossings(const Box& box) const {
  double inside_length = 0;
  for (const Polyline& line : lines_) {
    for (std::size_t i = 0; i + 1 < line.size(); ++i) {
      const Point a = line[i], b = line[i + 1];
      if (!box.overlaps({std::min(a.x, b.x), std::min(a.y, b.y), std::abs(a.x - b.x) + 0.01,
                         std::abs(a.y - b.y) + 0.01}))
        continue;
      constexpr int samples = 24;
      for (int k = 0; k <= samples; ++k) {
        const double t = static_cast<double>(k) / samples;
        const Point p{a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t};
        if (p.x > box.x && p.x < box.right() && p.y > box.y && p.y < box.bottom())
          inside_length += std::hypot(b.x - a.x, b.y - a.y) / samples;
      }
    }
  }
  return inside_length;
}

std::optional<Point> Labels::beside(Point point, double off, double w, double h,
                                    bool may_be_left_out) {
  std::optional<Point> best;
  double least = std::numeric_limits<double>::infinity();
  for (const double reach : {1.0, 1.8, 2.8, 4.0}) {
    for (int i = 0; i < 16; ++i) {
      const double angle = 2 * std::numbers::pi * i / 16;
      const Point centre{point.x + std::cos(angle) * (off * reach + w / 2),
                         point.y + std::sin(angle) * (off * reach + h / 2)};
      const Box box{centre.x - w / 2, centre.y - h / 2, w, h};
      if (!is_free(box)) continue;
      const double cost = crossings(box) + (reach - 1) * 12;
      if (cost < least) {
        least = cost;
        best = centre;
      }
    }
  }
  if (!best && !may_be_left_out) {
    best = Point{std::clamp(point.x + off + w / 2, frame_.x + w / 2, frame_.right() - w / 2),
                 std::clamp(point.y, frame_.y + h / 2, frame_.bottom() - h / 2)};
  }
  if (best) occupy({best->x - w / 2, best->y - h / 2, w, h});
  return best;
}

std::optional<Labels::Slanted> Labels::along(Point a, Point b, double w, double h, double shift) {
  if (a.x > b.x || (a.x == b.x && a.y < b.y)) std::swap(a, b);  // read from the left, or upward
  const double length = std::hypot(b.x - a.x, b.y - a.y);
  if (length < w + 4) return std::nullopt;
  const double angle = std::atan2(b.y - a.y, b.x - a.x);
  const Point unit{(b.x - a.x) / length, (b.y - a.y) / length};
  for (const double place : {0.5, 0.35, 0.65, 0.22, 0.78}) {
    const double d = std::clamp(place * length, w / 2, length - w / 2);
    for (const double aside : {-shift, shift, -shift - 3, shift + 3}) {
      const Point centre{a.x + unit.x * d - unit.y * aside, a.y + unit.y * d + unit.x * aside};
      const auto boxes = row_of_boxes(centre, angle, w, h);
      const auto good = [&](const Box& box) {
        return is_free(box) && crossings(box.inset(1.5)) < 1;
      };
      if (!std::ranges::all_of(boxes, good)) continue;
      for (const Box& box : boxes) occupy(box);
      return Slanted{centre, angle};
    }
  }
  return std::nullopt;
}

}  // namespace bellhole::sheets
