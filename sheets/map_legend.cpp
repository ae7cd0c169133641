#include <algorithm>
#include <cmath>
#include <functional>

#include "sheets/map.hpp"
#include "sheets/map_signs.hpp"

namespace bellhole::sheets {

namespace {

struct Entry {
  bool used = false;
  std::string says;
  std::function<void(Point)> draw;
};

/// What is in sight of the map.
class Shown {
 public:
  Shown(const MapShapes& shapes, const Box& map) : shapes_(shapes), map_(map), view_(shapes, map) {}

  [[nodiscard]] bool shut_by(std::string_view kind) const {
    return std::ranges::any_of(shapes_.shutoffs,
                               [&](const MapShutoff& shutoff) { return shutoff.kind == kind; });
  }
  [[nodiscard]] bool sign(Sign what) const {
    return std::ranges::any_of(shapes_.points, [&](const MapPoint& point) {
      return point.sign == what && well_inside(map_, view_.on_paper(point.at));
    });
  }
  [[nodiscard]] bool other_than_pe() const {
    return std::ranges::any_of(shapes_.lines, [&](const MapLine& line) {
      const auto [a, b] = straight_run(view_.on_paper(line.line), map_);
      return !is_pe(line) && std::hypot(b.x - a.x, b.y - a.y) > 1;
    });
  }

 private:
  const MapShapes& shapes_;
  Box map_;
  View view_;
};

std::vector<Entry> entries_for(Canvas& canvas, const MapShapes& shapes, const Box& map) {
  const Shown shown(shapes, map);
  const auto shut = [&](std::string_view kind) {
    return [&canvas, kind](Point p) { draw_shutoff_sign(canvas, kind, p, {1, 0}); };
  };
  const auto sign = [&](Sign what, const char* says) {
    return Entry{shown.sign(what), says,
                 [&canvas, what](Point p) { draw_sign(canvas, what, p, {1, 0}); }};
  };
  return {{!shapes.work.empty(), "work", [&](Point p) { draw_work(canvas, p); }},
          {shown.shut_by("squeeze"), "squeeze", shut("squeeze")},
          {shown.shut_by("valve"), "valve", shut("valve")},
          {shown.shut_by("placed"), "placed by hand", shut("placed")},
          {shown.shut_by("regulator_outlet") || shown.shut_by("source_outlet"), "station outlet",
           shut("")},
          {!shapes.isolated.empty(), "isolated",
           [&](Point p) { draw_isolated(canvas, {{p.x - 11, p.y}, {p.x + 11, p.y}}, 1.7); }},
          {shown.other_than_pe(), "not PE",
           [&](Point p) { canvas.line({p.x - 11, p.y}, {p.x + 11, p.y}, {1.7, broken_line}); }},
          sign(Sign::customer_out, "loses gas"),
          sign(Sign::must_not_lose_out, "must not lose, loses"),
          sign(Sign::must_not_lose, "must not lose, keeps"),
          sign(Sign::regulator, "regulator"),
          sign(Sign::sensing_tap, "sensing tap"),
          sign(Sign::source, "source"),
          sign(Sign::valve, "other valve"),
          sign(Sign::earlier_squeeze, "earlier squeeze"),
          sign(Sign::fixed, "to measure from")};
}

}  // namespace

double draw_legend(Canvas& canvas, const Box& at, const Box& map, const Reply& plan_reply,
                   std::size_t plan) {
  const MapShapes shapes = shapes_of(plan_reply, plan);
  constexpr double row = 20, before = 26;
  double x = at.x, y = at.y;
  for (const Entry& entry : entries_for(canvas, shapes, map)) {
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
