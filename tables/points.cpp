#include "tables/points.hpp"

#include <fmt/format.h>

#include <cmath>

#include "flatten/grades.hpp"
#include "flatten/strength.hpp"

namespace bellhole::tables {
namespace {

struct Kind {
  std::string_view material;
  double kelvin;
};

constexpr Kind reference{"PE4710", 296.15};

/// `gas` is line pressure over yield.
Point point(std::string name, double od, double ratio, double bar, double closing_s, double gas,
            const Kind& kind) {
  const Duration closing = Duration::from_si(closing_s);
  const Temperature pipe = Temperature::from_si(kind.kelvin);
  const auto strength = flatten::strength_of(kind.material, pipe, closing).value();
  return {
      .name = std::move(name),
      .jaws = {Length::from_si(od), Length::from_si(od / ratio), Length::from_si(od * bar),
               strength.yield, strength.modulus, GaugePressure::from_si(gas * strength.yield.si())},
      .share = flatten::share_of(kind.material, pipe).value(),
      .closing = closing};
}

/// The n-th of a row of numbers between 0 and 1 that leaves no large hole (van der Corput).
double scattered(int n, int base) {
  double value = 0.0, digit = 1.0;
  for (; n > 0; n /= base) value += (digit /= base) * (n % base);
  return value;
}

double between(double low, double high, double share) { return low * std::pow(high / low, share); }

}  // namespace

std::vector<Point> nodes() {
  constexpr double od = 0.2;
  std::vector<Point> list;
  for (const double ratio : ratios)
    for (const double bar : bars) {
      const auto add = [&](const char* run, double closing_s, double gas) {
        list.push_back(point(fmt::format("{:g}-{:g}-{}", ratio, bar, run), od, ratio, bar,
                             closing_s, gas, reference));
      };
      add("quick", quick_s, 0.0);
      add("slow", slow_s, 0.0);
      add("gas", quick_s, most_gas);
    }
  return list;
}

std::vector<Point> between_gas() {
  constexpr double od = 0.2, bar = bars[1];
  std::vector<Point> list;
  for (const double ratio : {ratios[2], ratios[3], ratios[4]})
    list.push_back(point(fmt::format("{:g}-{:g}-some", ratio, bar), od, ratio, bar, quick_s,
                         some_gas, reference));
  return list;
}

std::vector<Point> held_out() {
  constexpr std::array kinds{Kind{"PE2708", 278.15}, Kind{"PE4710", 268.15}, Kind{"PE3408", 288.15},
                             Kind{"PE80", 303.15}, Kind{"PE100", 296.15}};
  std::vector<Point> list;
  constexpr int count = 16;
  for (int n = 1; n <= count; ++n)
    list.push_back(point(fmt::format("held-{}", n), between(0.02, 0.4, scattered(n, 11)),
                         between(ratios.front(), ratios.back(), scattered(n, 2)),
                         between(bars.front(), bars.back(), scattered(n, 3)),
                         between(quick_s, slow_s, scattered(n, 5)), most_gas * scattered(n, 7),
                         kinds[static_cast<std::size_t>(n) % kinds.size()]));
  return list;
}

std::vector<Point> ordinary() {
  std::vector<Point> list;
  const auto all = held_out();
  for (const std::size_t n : {0, 3, 4, 8}) {
    list.push_back(all[n]);
    list.back().name += "-ordinary";
    list.back().bricks = flatten::Fineness::ordinary;
  }
  return list;
}

}  // namespace bellhole::tables
