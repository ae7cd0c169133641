// Steps in time for stiff equations d y / dt = f(t, y): four stages, the first explicit (it is the
// last one of the step before), three implicit with one diagonal coefficient. Order 3, with an
// order 2 beside it for the error; L-stable, stiffly accurate (the last stage is the result), stage
// order 2. The implicit half of ARK3(2)4L[2]SA, Kennedy and Carpenter, Appl. Numer. Math. 44 (2003)
// 139 (coefficients from memory; the tests hold them against the order conditions and the measured
// order).
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

namespace bellhole::numerics::esdirk {

inline constexpr std::size_t stages = 4;
inline constexpr double gamma = 1767732205903.0 / 4055673282236.0;

/// Where in the step each stage stands.
inline constexpr std::array<double, stages> node{0.0, 2.0 * gamma, 0.6, 1.0};

/// Row s: weights of the rates of the stages before; the diagonal is gamma (0 in the first row).
inline constexpr std::array<std::array<double, stages>, stages> row{
    {{0.0, 0.0, 0.0, 0.0},
     {gamma, gamma, 0.0, 0.0},
     {2746238789719.0 / 10658868560708.0, -640167445237.0 / 6845629431997.0, gamma, 0.0},
     {1471266399579.0 / 7840856788654.0, -4482444167858.0 / 7529755066697.0,
      11266239266428.0 / 11593286722821.0, gamma}}};

/// Weights of the result of order 3 (the last row), and of the one of order 2.
inline constexpr std::array<double, stages> weight = row[3];
inline constexpr std::array<double, stages> weight_of_lower_order{
    2756255671327.0 / 12835298489170.0, -10771552573575.0 / 22201958757719.0,
    9247589265047.0 / 10645013368117.0, 2193209047091.0 / 5459859503100.0};

/// How much longer (shorter) the next step may be when the last one's error was `error` times what
/// is allowed: the error goes with the third power of the step.
inline double stretch(double error) {
  constexpr double safety = 0.9, least = 0.2, most = 6.0;
  return std::clamp(safety * std::pow(std::max(error, 1e-8), -1.0 / 3.0), least, most);
}

/// Cubic through values and slopes at both ends of a step of length h, at a share s of it.
inline double between(double s, double h, double y0, double d0, double y1, double d1) {
  const double t = 1.0 - s;
  return t * t * ((1.0 + 2.0 * s) * y0 + s * h * d0) + s * s * ((1.0 + 2.0 * t) * y1 - t * h * d1);
}

}  // namespace bellhole::numerics::esdirk
