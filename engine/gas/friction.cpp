#include "gas/friction.hpp"

#include <cmath>

namespace bellhole::gas {

Friction colebrook(double re, double relative_roughness) {
  // With y = ln(10)/2 / sqrt f the equation reads y + ln(x1 + y) = x2.
  const double x1 = relative_roughness * re * 0.123968186335417556;  // ln 10 / (2 * 2.51 * 3.7)
  const double x2 = std::log(re) - 0.779397488455682028;             // ln(Re ln 10 / (2 * 2.51))
  double y = x2 - 0.2;
  for (int i = 0; i < 2; ++i) {
    const double sum = x1 + y;
    const double e = (std::log(sum) + y - x2) / (1.0 + sum);
    y -= (1.0 + sum + 0.5 * e) * e * sum / (1.0 + sum + e * (1.0 + e / 3.0));
  }
  const double root = 1.151292546497022842 / y;  // ln 10 / 2
  return {root * root, -2.0 / (1.0 + x1 + y)};
}

Friction laminar(double re) { return {64.0 / re, -1.0}; }

Friction darcy(double re, double relative_roughness) {
  if (re <= laminar_ends) return laminar(re);
  if (re >= turbulent_begins) return colebrook(re, relative_roughness);
  // Cubic Hermite in Re.
  const Friction low = laminar(laminar_ends);
  const Friction high = colebrook(turbulent_begins, relative_roughness);
  const double width = turbulent_begins - laminar_ends;
  const double low_slope = low.slope * low.factor / laminar_ends * width;
  const double high_slope = high.slope * high.factor / turbulent_begins * width;
  const double t = (re - laminar_ends) / width;
  const double rise = high.factor - low.factor;
  const double a = low_slope + high_slope - 2.0 * rise;
  const double b = 3.0 * rise - 2.0 * low_slope - high_slope;
  const double factor = low.factor + t * (low_slope + t * (b + t * a));
  const double change = (low_slope + t * (2.0 * b + t * 3.0 * a)) / width;
  return {factor, change * re / factor};
}

}  // namespace bellhole::gas
