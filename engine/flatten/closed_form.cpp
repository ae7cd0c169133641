#include "flatten/closed_form.hpp"

#include <algorithm>
#include <cmath>

namespace bellhole::flatten {
namespace {

constexpr double effective_length = 1.45;  ///< of OD, in bending
constexpr double poisson = 0.42;
constexpr double ring = 6.72;  ///< 1 / (pi/4 - 2/pi)
constexpr double rises = 0.7;
constexpr double strip = 0.8, strip_width = 1.46;
constexpr double gas_in_bending = 12.7, gas_at_stops = 1.2;
constexpr double material_share = 0.15, formula_share = 0.13, early_share = 0.30;

double met(const Jaws& j) {
  const double t = j.wall.si(), ratio = j.od.si() / t;
  return (9.4 + (ratio - 9.0) / 3.0) * j.yield.si() * t * t;
}

double elastic(const Jaws& j, double gap) {
  const double t = j.wall.si(), r = (j.od.si() - t) / 2.0;
  const double plane = j.modulus.si() / (1.0 - poisson * poisson);
  return ring * plane * t * t * t / 12.0 / (r * r * r) * (j.od.si() - gap) * effective_length *
         j.od.si();
}

}  // namespace

Force force_at(const Jaws& j, Length gap) {
  const double g = gap.si(), t = j.wall.si();
  if (g >= j.od.si()) return Force();
  const double p = std::max(0.0, j.pressure.si()) / j.yield.si();
  const double at_meeting = [&] {
    const double pl = met(j), el = elastic(j, 2.0 * t);
    return 1.0 / std::hypot(1.0 / el, 1.0 / pl);
  }();
  if (g > 2.0 * t) {
    const double pl = met(j) * std::pow(g / (2.0 * t), -rises), el = elastic(j, g);
    return Force::from_si((1.0 + gas_in_bending * p) / std::hypot(1.0 / el, 1.0 / pl));
  }
  // The gas's share of the bending force goes over into its share at the stops, at 30 %.
  const double pressed = std::min(t - g / 2.0, j.bar_radius.si());
  const double half = std::sqrt(2.0 * j.bar_radius.si() * pressed - pressed * pressed);
  const double strip_n = strip * j.yield.si() * strip_width * j.od.si() * 2.0 * half;
  const double bending = (1.0 + gas_in_bending * p) * at_meeting;
  return Force::from_si(std::max(bending, (at_meeting + strip_n) * (1.0 + gas_at_stops * p)));
}

Band band_at(const Jaws& jaws, const Walls& walls, Length gap) {
  const auto with = [&](Length wall) {
    Jaws j = jaws;
    j.wall = wall;
    return force_at(j, gap);
  };
  const bool early = gap > (jaws.od + walls_meet(walls.nominal)) * 0.5;
  const double share = std::hypot(material_share, early ? early_share : formula_share);
  return {with(walls.minimum) * (1.0 - share), with(walls.nominal),
          with(walls.maximum) * (1.0 + share)};
}

std::vector<Point> curve(const Jaws& jaws, const Walls& walls, Length stop, int points) {
  std::vector<Point> list;
  for (int i = 0; i <= points; ++i) {
    const Length gap = jaws.od - (jaws.od - stop) * (static_cast<double>(i) / points);
    list.push_back({gap, band_at(jaws, walls, gap)});
  }
  return list;
}

}  // namespace bellhole::flatten
