#include "sheets/polyline.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace bellhole::sheets {
namespace {

double between(Point a, Point b) { return std::hypot(b.x - a.x, b.y - a.y); }
Point lerp(Point a, Point b, double t) { return {a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t}; }

struct Foot {
  double along = 0, away = std::numeric_limits<double>::infinity();
};

/// Foot of the perpendicular from a point to the line, or the nearest vertex.
Foot foot(std::span<const Point> line, Point point) {
  Foot best;
  double before = 0;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const Point a = line[i], b = line[i + 1];
    const double length = between(a, b);
    const double dot = (point.x - a.x) * (b.x - a.x) + (point.y - a.y) * (b.y - a.y);
    const double t = length > 0 ? std::clamp(dot / (length * length), 0.0, 1.0) : 0.0;
    const double away = between(point, lerp(a, b, t));
    if (away < best.away) best = {before + t * length, away};
    before += length;
  }
  return best;
}

/// Liang and Barsky's cut of a segment to a box; false when nothing is inside.
bool cut(Point& a, Point& b, const Box& box) {
  const Point from = a;
  const double dx = b.x - a.x, dy = b.y - a.y;
  const double p[] = {-dx, dx, -dy, dy};
  const double q[] = {a.x - box.x, box.right() - a.x, a.y - box.y, box.bottom() - a.y};
  double enter = 0, leave = 1;
  for (int i = 0; i < 4; ++i) {
    if (p[i] == 0) {
      if (q[i] < 0) return false;
      continue;
    }
    const double t = q[i] / p[i];
    if (p[i] < 0)
      enter = std::max(enter, t);
    else
      leave = std::min(leave, t);
  }
  if (enter >= leave) return false;
  a = {from.x + dx * enter, from.y + dy * enter};
  b = {from.x + dx * leave, from.y + dy * leave};
  return true;
}

}  // namespace

double length_of(std::span<const Point> line) {
  double total = 0;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) total += between(line[i], line[i + 1]);
  return total;
}

Along along(std::span<const Point> line, double distance) {
  Along result;
  if (line.empty()) return result;
  result.at = line.front();
  double before = 0;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const double length = between(line[i], line[i + 1]);
    if (length <= 0) continue;
    result.direction = {(line[i + 1].x - line[i].x) / length, (line[i + 1].y - line[i].y) / length};
    const double t = (distance - before) / length;
    result.at = lerp(line[i], line[i + 1], std::clamp(t, 0.0, 1.0));
    if (t <= 1) return result;
    before += length;
  }
  return result;
}

Polyline part(std::span<const Point> line, double from, double to) {
  if (from > to) std::swap(from, to);
  const double total = length_of(line);
  from = std::clamp(from, 0.0, total);
  to = std::clamp(to, 0.0, total);
  if (!(to > from)) return {};
  Polyline result{along(line, from).at};
  double before = 0;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    before += between(line[i], line[i + 1]);
    if (before > from && before < to) result.push_back(line[i + 1]);
  }
  result.push_back(along(line, to).at);
  return result;
}

double nearest(std::span<const Point> line, Point point) { return foot(line, point).along; }
double distance_to(std::span<const Point> line, Point point) { return foot(line, point).away; }

std::pair<Point, Point> straight_run(std::span<const Point> line, const Box& view) {
  std::pair<Point, Point> best{{view.x, view.y}, {view.x, view.y}};
  constexpr double straight = 0.996;  // cosine of 5 degrees
  for (std::size_t i = 0; i + 1 < line.size();) {
    std::size_t end = i + 1;
    while (end + 1 < line.size()) {
      const Point a = line[end - 1], b = line[end], c = line[end + 1];
      const double lengths = between(a, b) * between(b, c);
      const double dot = (b.x - a.x) * (c.x - b.x) + (b.y - a.y) * (c.y - b.y);
      if (lengths > 0 && dot / lengths < straight) break;
      ++end;
    }
    Point a = line[i], b = line[end];
    if (cut(a, b, view) && between(a, b) > between(best.first, best.second)) best = {a, b};
    i = end;
  }
  return best;
}

}  // namespace bellhole::sheets
