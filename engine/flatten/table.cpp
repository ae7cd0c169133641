#include "flatten/table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace bellhole::flatten {
namespace {

enum Run : std::size_t { quick, slow, gas, runs };

/// Between which nodes a value lies, and how far on, in logarithms.
struct Cell {
  std::size_t low;
  double share;
};

Cell cell(std::span<const double> nodes, double value) {
  std::size_t low = 0;
  while (low + 2 < nodes.size() && nodes[low + 1] <= value) ++low;
  return {low, std::log(value / nodes[low]) / std::log(nodes[low + 1] / nodes[low])};
}

/// A place in the table, with its four neighbours.
class Place {
 public:
  Place(const Table& t, const Jaws& jaws)
      : t_(t),
        ratio_(cell(t.ratios, jaws.od / jaws.wall)),
        bar_(cell(t.bars, jaws.bar_radius / jaws.od)) {}

  [[nodiscard]] double at(Run run, std::size_t station) const {
    double log = 0.0;
    for (const std::size_t i : {0, 1})
      for (const std::size_t j : {0, 1})
        log += (i == 0 ? 1.0 - ratio_.share : ratio_.share) *
               (j == 0 ? 1.0 - bar_.share : bar_.share) *
               std::log(value(ratio_.low + i, bar_.low + j, run, station));
    return std::exp(log);
  }

 private:
  [[nodiscard]] double value(std::size_t ratio, std::size_t bar, Run run,
                             std::size_t station) const {
    const std::size_t stations = t_.way.size() + t_.pressed.size();
    return t_.unit * t_.values[((ratio * t_.bars.size() + bar) * runs + run) * stations + station];
  }

  const Table& t_;
  Cell ratio_, bar_;
};

double gas_over_yield(const Jaws& jaws) {
  return std::max(0.0, jaws.pressure.si()) / jaws.yield.si();
}

constexpr double slack = 1e-9;  // a share: what rounding does to a value that stands on an end

std::string outside(const char* what, double value, double least, double most) {
  if (value >= least * (1.0 - slack) && value <= most * (1.0 + slack)) return {};
  return fmt::format("{} is {:.3g}, and the table reaches from {:.3g} to {:.3g}", what, value,
                     least, most);
}

}  // namespace

std::string beyond(const Table& t, const Jaws& jaws, Duration closing, Length stop) {
  const double pressed = 1.0 - stop / walls_meet(jaws.wall);
  for (std::string says :
       {outside("outside diameter over mean wall", jaws.od / jaws.wall, t.ratios.front(),
                t.ratios.back()),
        outside("bar radius over outside diameter", jaws.bar_radius / jaws.od, t.bars.front(),
                t.bars.back()),
        outside("the closing's time in seconds", closing.si(), t.quick_s, t.slow_s),
        outside("line pressure over yield", gas_over_yield(jaws), 0.0, t.gas),
        outside("compression of the mean wall", std::max(0.0, pressed), 0.0, t.pressed.back())})
    if (!says.empty()) return says;
  return {};
}

std::vector<Sample> tabulated(const Table& t, const Jaws& jaws, Duration closing) {
  const Place place(t, jaws);
  const double u = std::log(closing.si() / t.quick_s) / std::log(t.slow_s / t.quick_s);
  const double v = std::pow(gas_over_yield(jaws) / t.gas, t.gas_power);
  const Length meet = walls_meet(jaws.wall);
  const double unit = jaws.yield.si() * jaws.wall.si() * jaws.od.si();
  std::vector<Sample> list;
  double force = 0.0;
  for (std::size_t i = 0; i < t.way.size() + t.pressed.size(); ++i) {
    const Length gap = i < t.way.size() ? jaws.od - (jaws.od - meet) * t.way[i]
                                        : meet * (1.0 - t.pressed[i - t.way.size()]);
    const double base = place.at(quick, i);
    force = std::max(force, base + u * (place.at(slow, i) - base) + v * (place.at(gas, i) - base));
    list.push_back({0, Duration(), gap, Force::from_si(unit * force)});
  }
  return list;
}

}  // namespace bellhole::flatten
