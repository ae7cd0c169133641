#include <algorithm>
#include <cmath>
#include <functional>

#include "sheets/map.hpp"
#include "sheets/map_signs.hpp"

namespace bellhole::sheets {

double draw_legend(Canvas& canvas, const Box& at, const Box& map, const Reply& plan_reply,
                   std::size_t plan) {
  const MapShapes shapes = shapes_of(plan_reply, plan);
  const View view(shapes, map);
  const auto shut_by = [&](std::string_view kind) {
    return std::ranges::any_of(shapes.shutoffs,
                               [&](const MapShutoff& shutoff) { return shutoff.kind == kind; });
  };
  const auto shows = [&](Sign sign) {
    return std::ranges::any_of(shapes.points, [&](const MapPoint& point) {
      return point.sign == sign && well_inside(map, view.on_paper(point.at));
    });
  };
  const auto sign = [&](Sign what) {
    return [&canvas, what](Point p) { draw_sign(canvas, what, p, {1, 0}); };
  };
  const bool not_pe = std::ranges::any_of(shapes.lines, [&](const MapLine& line) {
    const auto run = straight_run(view.on_paper(line.line), map);
    return !is_pe(line) && std::hypot(run.second.x - run.first.x, run.second.y - run.first.y) > 1;
  });
  struct Entry {
    bool used;
    std::string says;
    std::function<void(Point)> draw;
  };
  const auto shut = [&](std::string_view kind) {
    return [&canvas, kind](Point p) { draw_shutoff_sign(canvas, kind, p, {1, 0}); };
  };
  const std::vector<Entry> entries{
      {!shapes.work.empty(), "work", [&](Point p) { draw_work(canvas, p); }},
      {shut_by("squeeze"), "squeeze", shut("squeeze")},
      {shut_by("valve"), "valve", shut("valve")},
      {shut_by("regulator_outlet") || shut_by("source_outlet"), "station outlet", shut("")},
      {!shapes.isolated.empty(), "isolated",
       [&](Point p) { draw_isolated(canvas, {{p.x - 11, p.y}, {p.x + 11, p.y}}, 1.7); }},
      {not_pe, "not PE",
       [&](Point p) { canvas.line({p.x - 11, p.y}, {p.x + 11, p.y}, {1.7, broken_line}); }},
      {shows(Sign::customer_out), "loses gas", sign(Sign::customer_out)},
      {shows(Sign::must_not_lose_out), "must not lose, loses", sign(Sign::must_not_lose_out)},
      {shows(Sign::must_not_lose), "must not lose, keeps", sign(Sign::must_not_lose)},
      {shows(Sign::regulator), "regulator", sign(Sign::regulator)},
      {shows(Sign::sensing_tap), "sensing tap", sign(Sign::sensing_tap)},
      {shows(Sign::source), "source", sign(Sign::source)},
      {shows(Sign::valve), "other valve", sign(Sign::valve)},
      {shows(Sign::earlier_squeeze), "earlier squeeze", sign(Sign::earlier_squeeze)},
      {shows(Sign::fixed), "to measure from", sign(Sign::fixed)}};
  constexpr double row = 20, before = 26;
  double x = at.x, y = at.y;
  for (const Entry& entry : entries) {
    if (!entry.used) continue;
    const double w = before + canvas.width(entry.says, fine_type) + 8;
    if (x + w > at.right() + 8) {
      x = at.x;
      y += row;
    }
    entry.draw({x + before / 2 - 2, y + row / 2});
    canvas.text({x + before, y + row / 2 - 5.5}, w, entry.says, fine_type);
    x += w;
  }
  return y + row - at.y;
}

}  // namespace bellhole::sheets
