#include "sheets/map.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "sheets/map_labels.hpp"
#include "sheets/map_shapes.hpp"
#include "sheets/map_signs.hpp"
#include "sheets/marks.hpp"

namespace bellhole::sheets {
namespace {

constexpr std::array dotted{0.8, 2.2};
constexpr double letter_radius = 8.5;
/// Points on paper for a metre on the ground from which streets and the names of valves have room.
constexpr double close_up = 0.4;

/// The line moved sideways, each vertex by the direction of its first segment: enough to keep names
/// off.
Polyline beside(const Polyline& line, double by) {
  Polyline result;
  for (std::size_t i = 0; i + 1 < line.size(); ++i) {
    const double length = std::hypot(line[i + 1].x - line[i].x, line[i + 1].y - line[i].y);
    if (length <= 0) continue;
    const Point side =
        across({(line[i + 1].x - line[i].x) / length, (line[i + 1].y - line[i].y) / length});
    result.push_back(moved(line[i], side, by));
    result.push_back(moved(line[i + 1], side, by));
  }
  return result;
}

// ---- layers ----

void draw_lines(Canvas& canvas, const MapShapes& shapes, const View& view) {
  for (const MapLine& line : shapes.backdrop) {
    const bool street = line.material == "street";
    if (street && view.points_per_metre() < close_up) continue;
    canvas.polyline(view.on_paper(line.line), street ? Stroke{0.4, dotted} : Stroke{0.4});
  }
  for (const MapLine& line : shapes.lines) {
    canvas.polyline(view.on_paper(line.line),
                    is_pe(line) ? Stroke{line.weight} : Stroke{line.weight, broken_line});
  }
  for (const MapLine& line : shapes.isolated)
    draw_isolated(canvas, view.on_paper(line.line), line.weight);
}

/// Everything that a name must keep off, before the first name is set.
void occupy(Labels& labels, const MapShapes& shapes, const View& view) {
  const auto square = [](Point at, double r) { return Box{at.x - r, at.y - r, 2 * r, 2 * r}; };
  for (const MapLine& line : shapes.lines) labels.pass_by(view.on_paper(line.line));
  for (const MapLine& line : shapes.isolated) {
    for (const double side : {-5.0, 5.0}) labels.pass_by(beside(view.on_paper(line.line), side));
  }
  for (const MapPoint& point : shapes.points)
    labels.occupy(square(view.on_paper(point.at), reach_of(point.sign)));
  for (const MapShutoff& shutoff : shapes.shutoffs)
    labels.occupy(square(view.on_paper(shutoff.at), 10));
}

Point middle_of(const std::vector<Point>& points) {
  Point sum;
  for (const Point& point : points) sum = {sum.x + point.x, sum.y + point.y};
  const double n = static_cast<double>(std::max<std::size_t>(points.size(), 1));
  return {sum.x / n, sum.y / n};
}

/// The X stands on the work, or beside it with a line to it where a shut-off's sign is too near.
void place_work(Canvas& canvas, Labels& labels, const MapShapes& shapes, const View& view) {
  if (shapes.work.empty()) return;
  constexpr double near = 19, side = 20;
  const Point at = view.on_paper(middle_of(shapes.work));
  const bool crowded = std::ranges::any_of(shapes.shutoffs, [&](const MapShutoff& shutoff) {
    const Point sign = view.on_paper(shutoff.at);
    return std::hypot(sign.x - at.x, sign.y - at.y) < near;
  });
  if (!crowded) {
    labels.occupy({at.x - side / 2, at.y - side / 2, side, side});
    draw_work(canvas, at);
    return;
  }
  const auto place = labels.beside(at, near, side, side, false);
  canvas.line(at, *place, {1.2});
  canvas.circle(at, 2.2, Fill::black, {0.8, {}, true});
  draw_work(canvas, *place);
}

void draw_shutoffs(Canvas& canvas, Labels& labels, const MapShapes& shapes, const View& view) {
  for (const MapShutoff& shutoff : shapes.shutoffs) {
    const Point at = view.on_paper(shutoff.at);
    draw_shutoff_sign(canvas, shutoff.kind, at, on_page(shutoff.direction));
    const auto place = labels.beside(at, 12, 2 * letter_radius, 2 * letter_radius, false);
    const double away = std::hypot(place->x - at.x, place->y - at.y);
    if (away > 26) canvas.line(at, *place, {0.7});
    letter_mark(canvas, *place, letter_radius, shutoff.letter);
  }
}

void draw_points(Canvas& canvas, Labels& labels, const MapShapes& shapes, const View& view,
                 const Box& frame) {
  for (const MapPoint& point : shapes.points) {
    const Point at = view.on_paper(point.at);
    if (!well_inside(frame, at)) continue;
    draw_sign(canvas, point.sign, at, on_page(point.direction));
    if (point.sign == Sign::customer_out || point.says.empty()) continue;
    if (point.sign == Sign::valve && view.points_per_metre() < close_up) continue;
    const bool must = point.sign == Sign::must_not_lose_out;
    const Text says = must ? bold(point.says) : Text(point.says);
    const Type type{size::fine, Align::centre};
    const double w = canvas.width(says, type) + 3, h = canvas.height(500, says, type);
    const auto place = labels.beside(at, reach_of(point.sign) + 3, w, h, !must);
    if (place) canvas.label(*place, 0, says, type, true);
  }
}

std::string name_of(const MapLine& line, bool with_id) {
  std::string name = line.street;
  for (const std::string& part : {with_id ? line.pipe : std::string(), line.size}) {
    if (!part.empty()) name += (name.empty() ? "" : " · ") + part;
  }
  return name;
}

/// One name a street and size, on its longest straight run in sight; the mains of the job first,
/// with their ids.
void draw_names(Canvas& canvas, Labels& labels, const MapShapes& shapes, const View& view,
                const Box& frame) {
  struct Named {
    std::pair<Point, Point> run;
    double length = 0, weight = 0;
  };
  std::map<std::pair<int, std::string>, Named> names;  // jobs first
  const auto in_job = [&](const MapLine& line) {
    return std::ranges::any_of(shapes.isolated,
                               [&](const MapLine& other) { return other.pipe == line.pipe; });
  };
  for (const MapLine& line : shapes.lines) {
    const bool job = in_job(line);
    const std::string name = name_of(line, job);
    const auto run = straight_run(view.on_paper(line.line), frame.inset(6));
    const double length = std::hypot(run.second.x - run.first.x, run.second.y - run.first.y);
    Named& named = names[{job ? 0 : 1, name}];
    if (!name.empty() && length > named.length) named = {run, length, line.weight};
  }
  for (const auto& [key, named] : names) {
    const std::string street = key.second.substr(0, key.second.find(" · "));
    for (const std::string& name :
         {key.second, street}) {  // the short form where the long one has no room
      const Text says = key.first == 0 ? bold(name) : Text(name);
      const Type type{size::fine, Align::centre};
      const double w = canvas.width(says, type), h = canvas.height(1000, says, type);
      const double shift = h / 2 + named.weight / 2 + (key.first == 0 ? 4.5 : 1.5);
      const auto place = labels.along(named.run.first, named.run.second, w + 2, h, shift);
      if (!place) continue;
      canvas.label(place->centre, place->angle, says, type, true);
      break;
    }
  }
}

// ---- furniture ----

void draw_scale(Canvas& canvas, const Box& frame, const View& view, units::System system) {
  struct Step {
    double metres;
    std::string_view says;
  };
  static constexpr std::array<Step, 9> us{{{6.096, "20 ft"},
                                           {15.24, "50 ft"},
                                           {30.48, "100 ft"},
                                           {60.96, "200 ft"},
                                           {152.4, "500 ft"},
                                           {304.8, "1000 ft"},
                                           {609.6, "2000 ft"},
                                           {1609.344, "1 mi"},
                                           {8046.72, "5 mi"}}};
  static constexpr std::array<Step, 9> metric{{{5, "5 m"},
                                               {10, "10 m"},
                                               {20, "20 m"},
                                               {50, "50 m"},
                                               {100, "100 m"},
                                               {200, "200 m"},
                                               {500, "500 m"},
                                               {1000, "1 km"},
                                               {5000, "5 km"}}};
  const auto& steps = system == units::System::us ? us : metric;
  const Step* best = &steps[0];
  for (const Step& step : steps) {
    if (step.metres * view.points_per_metre() <= 130) best = &step;
  }
  const double length = best->metres * view.points_per_metre();
  const double x = frame.x + 10, y = frame.bottom() - 8;
  const Text says = std::string(best->says);
  canvas.box({x - 2, y - 16, canvas.width(says, fine_type) + 4, 11}, Fill::white, {0});
  canvas.text({x, y - 16}, length + 40, says, fine_type);
  for (const bool halo : {true, false}) {
    const double more = halo ? 2.5 : 0;
    canvas.line({x - more, y}, {x + length + more, y}, {halo ? 7.0 : 2.2, {}, halo});
    for (const double end : {x, x + length})
      canvas.line({end, y - 4 - more}, {end, y + 4}, {halo ? 5.0 : 1.2, {}, halo});
  }
}

void draw_north(Canvas& canvas, const Box& frame) {
  const Point tip{frame.right() - 17, frame.y + 9};
  canvas.box({tip.x - 11, tip.y - 5, 22, 44}, Fill::white, {0});
  const Point arrow[] = {
      tip, {tip.x + 6, tip.y + 20}, {tip.x, tip.y + 15}, {tip.x - 6, tip.y + 20}};
  canvas.polygon(arrow, Fill::black, {0.8});
  canvas.label({tip.x, tip.y + 29}, 0, bold("N"), {size::body, Align::centre}, false);
}

}  // namespace

void draw_map(Canvas& canvas, const Box& box, const Reply& plan_reply, const MapOptions& options) {
  if (canvas.dry())
    return;  // its height is the caller's; placing names takes longer than all the rest
  const MapShapes shapes = shapes_of(plan_reply, options.plan);
  const View view(shapes, box);
  {
    const Canvas::Clip clip(canvas, box);
    draw_lines(canvas, shapes, view);
    Labels labels(box.inset(2));
    labels.occupy({box.x, box.bottom() - 27, 160, 27});  // the scale bar
    labels.occupy({box.right() - 30, box.y, 30, 50});    // the north arrow
    occupy(labels, shapes, view);
    place_work(canvas, labels, shapes, view);
    draw_shutoffs(canvas, labels, shapes, view);
    draw_points(canvas, labels, shapes, view, box);
    draw_names(canvas, labels, shapes, view, box);
    draw_scale(canvas, box, view, options.system);
    draw_north(canvas, box);
  }
  canvas.box(box, Fill::none, {1.2});
}

Result<std::string> map_svg(const wire::Json& plan_reply, const MapOptions& options) {
  Faults faults;
  BELLHOLE_TRY(canvas, Canvas::svg({options.width, options.height}));
  canvas->box({0, 0, options.width, options.height}, Fill::white, {0});
  draw_map(*canvas, Box{0, 0, options.width, options.height}.inset(0.8),
           Reply(plan_reply, "", faults), options);
  if (faults.first()) return std::unexpected(*faults.first());
  return canvas->finish();
}

}  // namespace bellhole::sheets
