// Lines on a map: lengths, places along them, parts of them.
#pragma once

#include <span>
#include <vector>

#include "sheets/canvas.hpp"

namespace bellhole::sheets {

using Polyline = std::vector<Point>;

/// A place on a line and the unit vector along it there.
struct Along {
  Point at;
  Point direction{1, 0};
};

double length_of(std::span<const Point> line);
/// The place `distance` along the line from its start; the ends when it lies beyond them.
Along along(std::span<const Point> line, double distance);
/// The part between two distances, in the direction of the line; empty where it has no length.
Polyline part(std::span<const Point> line, double from, double to);
/// How far along the line the nearest place to `point` is.
double nearest(std::span<const Point> line, Point point);
double distance_to(std::span<const Point> line, Point point);
/// The longest straight run: consecutive segments that turn less than about 5 degrees, inside
/// `view`. Answers its two ends, equal when no part is inside.
std::pair<Point, Point> straight_run(std::span<const Point> line, const Box& view);

}  // namespace bellhole::sheets
