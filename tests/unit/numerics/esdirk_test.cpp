#include "numerics/esdirk.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace bellhole::numerics::esdirk {
namespace {

TEST(Esdirk, KeepsTheOrderConditions) {
  double sum = 0, first = 0, second = 0, chained = 0, lower = 0, lower_first = 0;
  for (std::size_t s = 0; s < stages; ++s) {
    double along = 0, inner = 0;
    for (std::size_t j = 0; j <= s; ++j) {
      along += row[s][j];
      inner += row[s][j] * node[j];
    }
    EXPECT_NEAR(along, node[s], 1e-12) << s;
    sum += weight[s];
    first += weight[s] * node[s];
    second += weight[s] * node[s] * node[s];
    chained += weight[s] * inner;
    lower += weight_of_lower_order[s];
    lower_first += weight_of_lower_order[s] * node[s];
    if (s > 0) {
      EXPECT_NEAR(inner, node[s] * node[s] / 2, 1e-12) << s;  // stage order 2
    }
  }
  EXPECT_NEAR(sum, 1.0, 1e-12);
  EXPECT_NEAR(first, 1.0 / 2.0, 1e-12);
  EXPECT_NEAR(second, 1.0 / 3.0, 1e-12);
  EXPECT_NEAR(chained, 1.0 / 6.0, 1e-12);
  EXPECT_NEAR(lower, 1.0, 1e-12);
  EXPECT_NEAR(lower_first, 1.0 / 2.0, 1e-12);
}

/// One step of y' = z y.
double growth(double z) {
  std::array<double, stages> rate{z, 0, 0, 0};
  double y = 1.0;
  for (std::size_t s = 1; s < stages; ++s) {
    double known = 1.0;
    for (std::size_t j = 0; j < s; ++j) known += row[s][j] * rate[j];
    y = known / (1.0 - gamma * z);
    rate[s] = z * y;
  }
  return y;
}

TEST(Esdirk, FollowsTheExponentialToThirdOrderAndDampsWhatIsStiff) {
  const double coarse = std::abs(growth(-0.1) - std::exp(-0.1));
  const double fine = std::abs(growth(-0.05) - std::exp(-0.05));
  EXPECT_NEAR(std::log2(coarse / fine), 4.0, 0.2);  // of one step: order + 1
  for (double z : {-1.0, -10.0, -1e3}) EXPECT_LE(std::abs(growth(z)), 1.0);
  EXPECT_LT(std::abs(growth(-1e9)), 1e-6);
}

TEST(Esdirk, CubicTakesValuesAndSlopesOfBothEnds) {
  const auto y = [](double t) { return 2 + t - 3 * t * t + t * t * t; };
  const auto d = [](double t) { return 1 - 6 * t + 3 * t * t; };
  for (double s : {0.0, 0.25, 0.5, 1.0}) {
    EXPECT_NEAR(between(s, 2.0, y(1), d(1), y(3), d(3)), y(1 + 2 * s), 1e-12);
  }
}

TEST(Esdirk, StepsGrowWhereTheErrorIsSmallAndShrinkWhereItIsNot) {
  EXPECT_GT(stretch(0.01), 1.5);
  EXPECT_LT(stretch(3.0), 0.8);
  EXPECT_LE(stretch(0.0), 6.0);
  EXPECT_GE(stretch(1e9), 0.2);
}

}  // namespace
}  // namespace bellhole::numerics::esdirk
