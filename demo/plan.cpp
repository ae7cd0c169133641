// The ground: local axes bent into streets, the coast, the burn that parts the town.
#include <cmath>
#include <numbers>

#include "demo/plan.hpp"

namespace bellhole::demo {

XY place(double u, double v) {
  const double x = u + 45.0 * std::sin(v / 380.0) + 12.0 * std::sin(v / 130.0);
  const double y = v + 70.0 * std::sin(u / 620.0 + 0.6) + 18.0 * std::sin(u / 240.0);
  const double turn = 0.14;
  constexpr double east = 500000.0, north = 5116000.0;
  const auto kept = [](double value) { return std::round(value * 1000.0) / 1000.0; };
  return {kept(east + x * std::cos(turn) - y * std::sin(turn)),
          kept(north + x * std::sin(turn) + y * std::cos(turn))};
}

Line street(const std::vector<XY>& local) {
  Line out;
  for (std::size_t i = 1; i < local.size(); ++i) {
    const XY a = local[i - 1], b = local[i];
    const int steps = std::max(1, static_cast<int>(std::hypot(b.x - a.x, b.y - a.y) / 25.0));
    for (int k = i == 1 ? 0 : 1; k <= steps; ++k) {
      const double t = static_cast<double>(k) / steps;
      out.push_back(place(a.x + t * (b.x - a.x), a.y + t * (b.y - a.y)));
    }
  }
  return out;
}

double dice(std::uint64_t seed) {
  // SplitMix64 (Steele, Lea, Flood 2014).
  std::uint64_t z = seed + 0x9E3779B97F4A7C15u;
  z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9u;
  z = (z ^ (z >> 27)) * 0x94D049BB133111EBu;
  return static_cast<double>((z ^ (z >> 31)) >> 11) * 0x1.0p-53;
}

Line coast() {
  Line out;
  constexpr int points = 360;
  for (int i = 0; i <= points; ++i) {
    const double t = 2.0 * std::numbers::pi * i / points;
    double r = 1.0 + 0.06 * std::sin(3.0 * t + 0.7) + 0.045 * std::sin(5.0 * t + 2.1) +
               0.02 * std::sin(11.0 * t) + 0.012 * std::sin(23.0 * t + 1.0);
    // The harbour: a bite out of the west side.
    const double off = std::remainder(t - 3.25, 2.0 * std::numbers::pi);
    r -= 0.20 * std::exp(-off * off / 0.012);
    out.push_back(place(700.0 + 2150.0 * r * std::cos(t), 640.0 + 1280.0 * r * std::sin(t)));
  }
  return out;
}

}  // namespace bellhole::demo
