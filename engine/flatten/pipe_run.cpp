#include "flatten/pipe_run.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace bellhole::flatten {
namespace {

struct Meshing {
  int through, around, along;
  double half_length;      ///< of the outside diameter
  double bricks_in_strip;  ///< along the half width of the strip under the bar, at the stops
  double swings;
  double hourglass = 1.0;
};

Meshing meshing(Fineness fineness) {
  switch (fineness) {
    case Fineness::draft:
      return {3, 14, 10, 1.5, 2.0, 8.0};
    case Fineness::ordinary:
      return {5, 36, 32, 2.5, 6.0, 14.0};
    case Fineness::fine:
      return {6, 48, 48, 3.0, 8.0, 20.0};
    case Fineness::tabled:
      // Bends in few bricks, which are met less stiffly so that they agree with ordinary ones.
      return {4, 20, 20, 2.5, 5.0, 10.0, 0.6};
  }
  return {};
}

/// Half width of the strip that the bar presses once the walls meet, at a compression of 30 %.
double strip(const PipeRun& q) {
  const double pressed = 0.3 * q.wall.si(), r = q.bar_radius.si();
  return std::sqrt(std::fmax(2.0 * r * pressed - pressed * pressed, pressed * pressed));
}

Press press_of(const PipeRun& q) {
  const Meshing m = meshing(q.bricks);
  Press press;
  press.shape = {.od = q.od.si(),
                 .wall = q.wall.si(),
                 .half_length = m.half_length * q.od.si(),
                 .finest = strip(q) / m.bricks_in_strip,
                 .through = m.through,
                 .around = m.around,
                 .along = m.along,
                 .toward_ear = 2.0};
  press.material = pe_overlay();
  press.yields = q.share;
  press.bar_radius = q.bar_radius.si();
  press.pressure = q.pressure.si();
  press.friction = q.friction;
  press.hourglass = m.hourglass;
  press.samples = q.samples;
  press.stages = {{q.gap, q.closing, m.swings}};
  if (q.hold) press.stages.push_back({q.gap, *q.hold, m.swings});
  if (q.opening) press.stages.push_back({q.od, *q.opening, m.swings});
  if (q.rest) press.stages.push_back({q.od, *q.rest, m.swings});
  return press;
}

double apart(const Vector& a, const Vector& b) {
  return std::hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

/// Of the first side beside the ear along a line of nodes.
std::pair<Length, double> side(const std::vector<std::int32_t>& line, const Mesh& mesh,
                               const std::vector<Vector>& now) {
  const auto a = static_cast<std::size_t>(line[0]), b = static_cast<std::size_t>(line[1]);
  const double before = apart(mesh.nodes[a], mesh.nodes[b]);
  return {Length::from_si(before), std::log(apart(now[a], now[b]) / before)};
}

Outline outline(const Mesh& mesh, const std::vector<Vector>& now) {
  const auto points = [&](const std::vector<std::int32_t>& line) {
    std::vector<std::pair<Length, Length>> list;
    for (const auto node : line) {
      const Vector& at = now[static_cast<std::size_t>(node)];
      list.emplace_back(Length::from_si(at[0]), Length::from_si(at[1]));
    }
    return list;
  };
  return {points(mesh.inner), points(mesh.outer)};
}

/// Outside height along the pipe, by the crown's nodes: outward, on the plane x = 0.
std::vector<std::pair<Length, Length>> heights(const Mesh& mesh, const std::vector<Vector>& now) {
  const auto slice = static_cast<std::size_t>(mesh.outer.back()) + 1;  // nodes of a section
  std::vector<std::pair<Length, Length>> list;
  for (std::size_t node = slice - 1; node < now.size(); node += slice)
    list.emplace_back(Length::from_si(now[node][2]), Length::from_si(2.0 * now[node][1]));
  return list;
}

}  // namespace

Result<PipeRunAnswer> run(const PipeRun& q, Watch& watch, Lanes& lanes) {
  if (q.opening && !q.hold)
    return trouble(Code::missing_value, "hold", "", "say how long it is held before it is opened");
  if (q.rest && !q.opening)
    return trouble(Code::missing_value, "open_in", "", "say in what time it is opened");
  if (!(q.bar_radius.si() > 0.0))
    return trouble(Code::out_of_range, "bar_radius", fmt::format("{} m", q.bar_radius.si()),
                   "give the radius of a round bar");
  BELLHOLE_TRY(pressed, press(press_of(q), watch, lanes));
  PipeRunAnswer answer;
  const Mesh& mesh = pressed.mesh;
  std::tie(answer.ear.over_inner, answer.ear.inner) = side(mesh.inner, mesh, pressed.at_least_gap);
  std::tie(answer.ear.over_outer, answer.ear.outer) = side(mesh.outer, mesh, pressed.at_least_gap);
  answer.at_least_gap = outline(mesh, pressed.at_least_gap);
  answer.at_end = outline(mesh, pressed.at_end);
  for (const auto& [x, y] : answer.at_least_gap.outer)
    answer.width = std::max(answer.width, 2.0 * x);
  answer.height_after = heights(mesh, pressed.at_end);
  answer.pressed = std::move(pressed);
  return answer;
}

Band band_about(Force computed, const Jaws& jaws, const Walls& walls, Length gap) {
  const Band band = band_at(jaws, walls, gap);
  if (!(band.expected.si() > 0.0)) return {computed, computed, computed};
  return {computed * (band.low / band.expected), computed, computed * (band.high / band.expected)};
}

Band covering(const Band& first, const Band& second) {
  return {std::min(first.low, second.low), first.expected, std::max(first.high, second.high)};
}

Force closing_force(const std::vector<Sample>& samples, Length od, Length gap) {
  Length before = od;
  Force at_before;
  for (const Sample& sample : samples) {
    if (sample.stage != 0) break;
    if (sample.gap <= gap) {
      const double way = (before - sample.gap).si();
      const double share = way > 0.0 ? (before - gap).si() / way : 1.0;
      return at_before + (sample.force - at_before) * share;
    }
    before = sample.gap;
    at_before = sample.force;
  }
  return at_before;
}

}  // namespace bellhole::flatten
