// The signs of a map, and what they mean. Each stands apart from the others by shape alone and
// survives a photocopy.
#pragma once

#include <array>

#include "sheets/canvas.hpp"
#include "sheets/map_shapes.hpp"

namespace bellhole::sheets {

/// Dashes of a main that is not PE.
inline constexpr std::array broken_line{6.0, 2.5};

/// Directions on paper, y downward.
Point across(Point direction);
Point on_page(Point direction_on_the_ground);
Point moved(Point p, Point direction, double by);

/// A ladder along the main.
void draw_isolated(Canvas& canvas, const Polyline& line, double weight);
/// Two bars for a squeeze, a bow tie for a valve, a square for anything else. `direction` is on
/// paper.
void draw_shutoff_sign(Canvas& canvas, std::string_view kind, Point at, Point direction);
/// An X.
void draw_work(Canvas& canvas, Point at);
void draw_sign(Canvas& canvas, Sign sign, Point at, Point direction);

/// Half the width that a sign takes.
double reach_of(Sign sign);
/// A sign is drawn whole or not at all.
bool well_inside(const Box& frame, Point at);
bool is_pe(const MapLine& line);

}  // namespace bellhole::sheets
