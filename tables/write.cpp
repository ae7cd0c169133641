#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "tables/points.hpp"

namespace bellhole::tables {
namespace {

constexpr double unit = 2e-4;  // of yield x wall x OD

/// How far the walls are pressed, a share; below 0 before they meet.
double pressed_at(const flatten::Jaws& jaws, Length gap) {
  return 1.0 - gap / flatten::walls_meet(jaws.wall);
}

/// The pressing part by a straight line through what lies about each sample: rows of nodes come
/// under the bar one after another, and each makes a wave that is not the squeeze's.
Curve smooth(const flatten::Jaws& jaws, const Curve& curve) {
  constexpr double from = 0.1, about = 0.045, whole_from = 0.07;
  Curve out = curve;
  for (std::size_t i = 0; i < curve.size(); ++i) {
    const double at = pressed_at(jaws, curve[i].gap);
    if (at < from) continue;
    double n = 0.0, x = 0.0, y = 0.0, xx = 0.0, xy = 0.0;
    for (const auto& sample : curve) {
      const double c = pressed_at(jaws, sample.gap), d = (c - at) / about;
      if (c < whole_from || std::abs(d) >= 1.0) continue;
      const double weight = 1.0 - d * d;
      n += weight;
      x += weight * d;
      y += weight * sample.force.si();
      xx += weight * d * d;
      xy += weight * d * sample.force.si();
    }
    const double spread = n * xx - x * x;
    if (n > 0.0 && spread > 1e-9 * n * n) out[i].force = Force::from_si((xx * y - x * xy) / spread);
  }
  return out;
}

/// Rising means of neighbours wherever a curve falls: what swings in a run is not the squeeze.
Curve rising(const Curve& curve) {
  struct Pool {
    double sum;
    int count;
    [[nodiscard]] double mean() const { return sum / count; }
  };
  std::vector<Pool> pools;
  for (const auto& sample : curve) {
    pools.push_back({sample.force.si(), 1});
    while (pools.size() > 1 && pools[pools.size() - 2].mean() > pools.back().mean()) {
      const Pool last = pools.back();
      pools.pop_back();
      pools.back().sum += last.sum;
      pools.back().count += last.count;
    }
  }
  Curve out = curve;
  std::size_t i = 0;
  for (const Pool& pool : pools)
    for (int k = 0; k < pool.count; ++k) out[i++].force = Force::from_si(pool.mean());
  return out;
}

Length gap_of(const flatten::Jaws& jaws, std::size_t station) {
  const Length meet = flatten::walls_meet(jaws.wall);
  return station < way.size() ? jaws.od - (jaws.od - meet) * way[station]
                              : meet * (1.0 - pressed[station - way.size()]);
}

std::vector<std::uint16_t> values_of(const std::vector<Curve>& made) {
  std::vector<std::uint16_t> values;
  const auto points = nodes();
  for (std::size_t p = 0; p < points.size(); ++p) {
    const flatten::Jaws& jaws = points[p].jaws;
    const Curve curve = rising(smooth(jaws, made[p]));
    const double one = unit * jaws.yield.si() * jaws.wall.si() * jaws.od.si();
    for (std::size_t i = 0; i < way.size() + pressed.size(); ++i) {
      const double force = flatten::closing_force(curve, jaws.od, gap_of(jaws, i)).si();
      values.push_back(
          static_cast<std::uint16_t>(std::clamp(std::round(force / one), 1.0, 65535.0)));
    }
  }
  return values;
}

/// Gaps to look at: from a tenth of the way, to where the table ends.
std::vector<Length> places(const flatten::Jaws& jaws) {
  const Length meet = flatten::walls_meet(jaws.wall);
  std::vector<Length> list;
  for (int i = 2; i <= 20; ++i) list.push_back(jaws.od - (jaws.od - meet) * (0.05 * i));
  for (int i = 1; i <= 16; ++i) list.push_back(meet * (1.0 - 0.025 * i));
  return list;
}

/// How far the second curve is from the first at each place, a share.
std::vector<double> differences(const flatten::Jaws& jaws, const Curve& run, const Curve& other) {
  std::vector<double> list;
  for (const Length gap : places(jaws))
    list.push_back(flatten::closing_force(other, jaws.od, gap) /
                       flatten::closing_force(run, jaws.od, gap) -
                   1.0);
  return list;
}

void say(const Point& p, const char* what, const std::vector<double>& off) {
  fmt::print(stderr, "{:<18} OD/wall {:5.2f}, bar {:.3f}, {:4.0f} s, p/Y {:.3f}: {}", p.name,
             p.jaws.od / p.jaws.wall, p.jaws.bar_radius / p.jaws.od, p.closing.si(),
             p.jaws.pressure.si() / p.jaws.yield.si(), what);
  for (const std::size_t i : {0, 3, 8, 13, 18, 20, 23, 26, 30, 34})
    fmt::print(stderr, " {:+.1f}", 100.0 * off[i]);
  fmt::print(stderr, " %\n");
}

flatten::Score score_of(const flatten::Table& table, const std::vector<Curve>& held) {
  std::vector<double> all;
  const auto points = held_out();
  for (std::size_t p = 0; p < points.size(); ++p) {
    const auto off = differences(points[p].jaws, held[p],
                                 flatten::tabulated(table, points[p].jaws, points[p].closing));
    say(points[p], "table", off);
    for (const double one : off) all.push_back(std::abs(one));
  }
  std::ranges::sort(all);
  const auto within = std::ranges::lower_bound(all, flatten::score_within) - all.begin();
  return {.runs = static_cast<int>(points.size()),
          .places = static_cast<int>(all.size()),
          .within = static_cast<double>(within) / static_cast<double>(all.size()),
          .most_of_95 = all[all.size() * 95 / 100],
          .worst = all.back()};
}

void compare_bricks(const flatten::Table& table, const std::vector<Curve>& fine) {
  const auto points = ordinary();
  for (std::size_t p = 0; p < points.size(); ++p)
    say(points[p], "table",
        differences(points[p].jaws, fine[p],
                    flatten::tabulated(table, points[p].jaws, points[p].closing)));
}

/// What power of its pressure the gas's share of the force goes with, where it is most: a mean over
/// the way, each place as much as its gas adds.
double gas_power(const Runs& runs) {
  double sum = 0.0, weights = 0.0;
  const auto some = between_gas();
  for (std::size_t p = 0; p < some.size(); ++p) {
    // By ratio, bar and run: the second bar of the p-th ratio from the third on.
    const std::size_t node = ((p + 2) * bars.size() + 1) * 3;
    for (std::size_t i = 3; i < way.size(); ++i) {
      const auto force = [&](const Curve& curve) {
        return flatten::closing_force(curve, some[p].jaws.od, gap_of(some[p].jaws, i)).si();
      };
      const double none = force(runs.nodes[node]), most = force(runs.nodes[node + 2]) - none,
                   share = (force(runs.between_gas[p]) - none) / most, weight = most / none;
      sum += weight * std::log(share) / std::log(some_gas / most_gas);
      weights += weight;
    }
  }
  return sum / weights;
}

std::string numbers(std::span<const double> list) {
  return fmt::format("{{{}}}", fmt::join(list, ", "));
}

}  // namespace

std::string table_source(std::string_view commit, const Runs& runs) {
  const auto values = values_of(runs.nodes);
  flatten::Table table{.made_by = commit,
                       .ratios = ratios,
                       .bars = bars,
                       .way = way,
                       .pressed = pressed,
                       .quick_s = quick_s,
                       .slow_s = slow_s,
                       .gas = most_gas,
                       .gas_power = gas_power(runs),
                       .unit = unit,
                       .values = values};
  const flatten::Score score = score_of(table, runs.held_out);
  compare_bricks(table, runs.ordinary);
  return fmt::format(
      R"(// Made by ./dev table from {} full runs, and held against {} more; not to be edited.
#include "flatten/table.hpp"

namespace bellhole::flatten {{
namespace {{

constexpr std::array<double, {}> ratios{};
constexpr std::array<double, {}> bars{};
constexpr std::array<double, {}> way{};
constexpr std::array<double, {}> pressed{};
constexpr std::array<std::uint16_t, {}> values{{{}}};

}}  // namespace

const Table& table() {{
  static constexpr Table made{{.made_by = "{}",
                              .ratios = ratios,
                              .bars = bars,
                              .way = way,
                              .pressed = pressed,
                              .quick_s = {},
                              .slow_s = {},
                              .gas = {},
                              .gas_power = {:.3f},
                              .unit = {},
                              .values = values,
                              .score = {{{}, {}, {:.4f}, {:.4f}, {:.4f}}}}};
  return made;
}}

}}  // namespace bellhole::flatten
)",
      runs.nodes.size(), runs.held_out.size(), ratios.size(), numbers(ratios), bars.size(),
      numbers(bars), way.size(), numbers(way), pressed.size(), numbers(pressed), values.size(),
      fmt::join(values, ", "), commit, quick_s, slow_s, most_gas, table.gas_power, unit, score.runs,
      score.places, score.within, score.most_of_95, score.worst);
}

}  // namespace bellhole::tables
