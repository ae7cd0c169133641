#include "sheets/map_signs.hpp"

#include <cmath>
#include <numbers>

namespace bellhole::sheets {
namespace {

constexpr std::array rungs{1.1, 2.1};

void draw_two_bars(Canvas& canvas, Point at, Point direction) {
  const Point side = across(direction);
  for (const double d : {-2.6, 2.6}) {
    const Point middle = moved(at, direction, d);
    canvas.line(moved(middle, side, -9), moved(middle, side, 9), {5, {}, true});
    canvas.line(moved(middle, side, -8), moved(middle, side, 8), {2.6});
  }
}

void draw_bow_tie(Canvas& canvas, Point at, Point direction) {
  const Point side = across(direction);
  const Point a = moved(at, direction, -7), b = moved(at, direction, 7);
  const Point corners[] = {moved(a, side, -5), moved(a, side, 5), moved(b, side, -5),
                           moved(b, side, 5)};
  canvas.polygon(corners, Fill::white, {4, {}, true});
  canvas.polygon(corners, Fill::black, {1});
}

/// A plug, bag or cap: one thick bar across the main.
void draw_plug(Canvas& canvas, Point at, Point direction) {
  const Point side = across(direction);
  for (const bool halo : {true, false})
    canvas.line(moved(at, side, -8), moved(at, side, 8), {halo ? 9.0 : 5.5, {}, halo});
}

void draw_outlet(Canvas& canvas, Point at) {
  canvas.box({at.x - 6, at.y - 6, 12, 12}, Fill::white, {2.4});
}

void draw_open_valve(Canvas& canvas, Point at, Point direction) {
  const Point side = across(direction);
  const Point a = moved(at, direction, -4.5), b = moved(at, direction, 4.5);
  const Point corners[] = {moved(a, side, -3), moved(a, side, 3), moved(b, side, -3),
                           moved(b, side, 3)};
  canvas.polygon(corners, Fill::white, {0.9});
}

void draw_earlier_squeeze(Canvas& canvas, Point at, Point direction) {
  const Point side = across(direction);
  for (const double d : {-1.5, 1.5}) {
    const Point middle = moved(at, direction, d);
    canvas.line(moved(middle, side, -5), moved(middle, side, 5), {0.8});
  }
}

void draw_star(Canvas& canvas, Point at, double radius, Fill fill) {
  std::vector<Point> points;
  for (int i = 0; i < 10; ++i) {
    const double r = i % 2 == 0 ? radius : radius * 0.45;
    const double angle = std::numbers::pi * (i / 5.0 - 0.5);
    points.push_back({at.x + r * std::cos(angle), at.y + r * std::sin(angle)});
  }
  canvas.polygon(points, fill, {1});
}

}  // namespace

Point across(Point direction) { return {-direction.y, direction.x}; }
Point on_page(Point direction) { return {direction.x, -direction.y}; }
Point moved(Point p, Point direction, double by) {
  return {p.x + direction.x * by, p.y + direction.y * by};
}

void draw_isolated(Canvas& canvas, const Polyline& line, double weight) {
  const double width = weight + 5;
  canvas.polyline(line, {width + 1.8});
  canvas.polyline(line, {width, {}, true});
  canvas.polyline(line, {width, rungs});
}

void draw_shutoff_sign(Canvas& canvas, std::string_view kind, Point at, Point direction) {
  if (kind == "squeeze")
    draw_two_bars(canvas, at, direction);
  else if (kind == "valve")
    draw_bow_tie(canvas, at, direction);
  else if (kind == "placed")
    draw_plug(canvas, at, direction);
  else
    draw_outlet(canvas, at);
}

void draw_work(Canvas& canvas, Point at) {
  constexpr double r = 8;
  for (const bool halo : {true, false}) {
    const Stroke stroke{halo ? 7.0 : 3.4, {}, halo};
    canvas.line({at.x - r, at.y - r}, {at.x + r, at.y + r}, stroke);
    canvas.line({at.x - r, at.y + r}, {at.x + r, at.y - r}, stroke);
  }
}

void draw_sign(Canvas& canvas, Sign sign, Point at, Point direction) {
  switch (sign) {
    case Sign::customer_out:
      canvas.circle(at, 2.2, Fill::black, {0.8, {}, true});
      break;
    case Sign::must_not_lose:
      draw_star(canvas, at, 7, Fill::white);
      break;
    case Sign::must_not_lose_out:
      draw_star(canvas, at, 8, Fill::black);
      break;
    case Sign::fixed:
      canvas.polygon(
          std::array{Point{at.x, at.y - 4}, Point{at.x + 4, at.y + 3}, Point{at.x - 4, at.y + 3}},
          Fill::white, {1});
      break;
    case Sign::regulator: {
      const Point corners[] = {
          {at.x, at.y - 7}, {at.x + 7, at.y}, {at.x, at.y + 7}, {at.x - 7, at.y}};
      canvas.polygon(corners, Fill::white, {1.4});
      canvas.label(at, 0, bold("R"), {7.5, Align::centre}, false);
      break;
    }
    case Sign::source:
      canvas.box({at.x - 6, at.y - 6, 12, 12}, Fill::white, {1.4});
      canvas.label(at, 0, bold("S"), {8, Align::centre}, false);
      break;
    case Sign::sensing_tap:
      canvas.circle(at, 5.5, Fill::white, {1.4});
      canvas.label(at, 0, bold("T"), {7, Align::centre}, false);
      break;
    case Sign::valve:
      draw_open_valve(canvas, at, direction);
      break;
    case Sign::earlier_squeeze:
      draw_earlier_squeeze(canvas, at, direction);
      break;
    case Sign::other:
      break;
  }
}

double reach_of(Sign sign) {
  switch (sign) {
    case Sign::customer_out:
      return 2.5;
    case Sign::valve:
    case Sign::earlier_squeeze:
    case Sign::fixed:
      return 5;
    default:
      return 8;
  }
}

bool well_inside(const Box& frame, Point at) {
  return at.x > frame.x + 8 && at.x < frame.right() - 8 && at.y > frame.y + 8 &&
         at.y < frame.bottom() - 8;
}

bool is_pe(const MapLine& line) { return line.material.empty() || line.material == "pe"; }

}  // namespace bellhole::sheets
