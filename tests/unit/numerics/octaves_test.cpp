#include "numerics/octaves.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "gas/friction.hpp"

namespace bellhole::numerics {
namespace {

Octaves power(double q) {
  return {10, [q](double x) -> Octaves::At {
            return {std::pow(x, q), q == 1.0 ? 1.0 : q * std::pow(x, q - 1.0)};
          }};
}

TEST(Octaves, CubicsAreThemselves) {
  const Octaves cubic(4, [](double x) -> Octaves::At {
    return {x * (2.0 + x * (1.0 - x)), 2.0 + x * (2.0 - 3.0 * x)};
  });
  for (double x = 0.0; x < cubic.end(); x += 0.0137) {
    EXPECT_NEAR(cubic(x).value, x * (2.0 + x * (1.0 - x)), 1e-11 * (1.0 + x * x * x));
    EXPECT_NEAR(cubic(x).slope, 2.0 + x * (2.0 - 3.0 * x), 1e-11 * (1.0 + x * x));
  }
}

RC_GTEST_PROP(Octaves, APowerIsWithinATenMillionth, ()) {
  const double q = 1.7 + 0.3 * *rc::gen::inRange(0, 1001) / 1000.0;
  const double x = std::pow(2.0, 0.1 + 9.8 * *rc::gen::inRange(0, 1'000'001) / 1e6);
  const Octaves table = power(q);
  RC_ASSERT(std::abs(table(x).value / std::pow(x, q) - 1.0) < 1e-7);
  // Off by sqrt(3) / 216 width^3 of the fourth derivative: 1.23e-6 at x = 3, in pieces of a
  // quarter.
  RC_ASSERT(std::abs(table(x).slope / (q * std::pow(x, q - 1.0)) - 1.0) < 1.25e-6);
}

/// What it is for: f Re^2 against Re, from the end of laminar flow on, through the blend.
TEST(Octaves, TheLossOfAPipeIsWithinTwoTenMillionths) {
  for (const double roughness : {0.0, 1e-5, 1e-3}) {
    const auto loss = [&](double x) -> Octaves::At {
      const double re = gas::laminar_ends * x;
      if (x <= 1.0) return {64.0 * re, 64.0 * gas::laminar_ends};
      const gas::Friction f = gas::darcy(re, roughness);
      return {f.factor * re * re, f.factor * re * (2.0 + f.slope) * gas::laminar_ends};
    };
    const Octaves table(12, loss);
    double worst = 0.0;
    for (double x = 1e-3; x < 4e3; x *= 1.0037) {
      worst = std::max(worst, std::abs(table(x).value / loss(x).value - 1.0));
    }
    EXPECT_LT(worst, 2e-7);
    EXPECT_GT(worst, 0.0);  // it is a table
  }
}

TEST(Octaves, PiecesMeetInValueAndSlope) {
  const Octaves table = power(1.8);
  for (const double x : {1.0 / 16.0, 0.5, 1.0, 3.0, 7.0, 100.0}) {
    const double before = std::nextafter(x, 0.0), after = std::nextafter(x, 1e9);
    EXPECT_NEAR(table(before).value, table(after).value, 1e-12 * table(after).value);
    EXPECT_NEAR(table(before).slope, table(after).slope, 1e-9 * table(after).slope);
  }
}

}  // namespace
}  // namespace bellhole::numerics
