#include "gas/orifice.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

namespace bellhole::gas {
namespace {

const Blowing gas_06{molar_gas_constant / (0.6 * air_kg_per_mol), 283.15, 1.0, 1.30};
constexpr double air_pa = 101325.0;

TEST(Orifice, FortyMillimetresAtOnePointTwoBar) {
  const Hole hole{round_hole(Length::from_si(0.040)).si(), 0.85};
  const Outflow out = through(hole, gas_06, air_pa + 1.2e5, air_pa);
  EXPECT_EQ(out.regime, Regime::choked);
  EXPECT_NEAR(out.kg_per_s, 0.4286, 0.00005);
}

TEST(Orifice, ChokesFromAboutTwelvePsigAndWithoutAStep) {
  EXPECT_NEAR(choking_ratio(1.30), 1.832, 0.0005);
  const Hole hole{1e-4, 1.0};
  const double edge = choking_ratio(1.30) * air_pa;
  const Outflow below = through(hole, gas_06, edge * (1 - 1e-9), air_pa);
  const Outflow above = through(hole, gas_06, edge * (1 + 1e-9), air_pa);
  EXPECT_EQ(below.regime, Regime::subsonic);
  EXPECT_EQ(above.regime, Regime::choked);
  EXPECT_NEAR(below.kg_per_s, above.kg_per_s, 1e-8 * above.kg_per_s);
}

TEST(Orifice, NothingFlowsWithoutADifference) {
  EXPECT_EQ(through({1e-4, 1.0}, gas_06, air_pa, air_pa).regime, Regime::none);
  EXPECT_EQ(through({1e-4, 1.0}, gas_06, 0.9 * air_pa, air_pa).kg_per_s, 0.0);
}

TEST(Orifice, ASmallDifferenceFollowsTheIncompressibleLaw) {
  // m = C A sqrt(2 density dp), within the expansion that is left out: some dp / p0.
  const double dp = 10.0, density = (air_pa + dp) / (gas_06.specific_constant * 283.15);
  const double m = through({1e-4, 0.62}, gas_06, air_pa + dp, air_pa).kg_per_s;
  EXPECT_NEAR(m, 0.62e-4 * std::sqrt(2 * density * dp), 2e-4 * m);
}

RC_GTEST_PROP(Orifice, MorePressureAndMoreAreaPassMore, ()) {
  const double p = air_pa + *rc::gen::inRange(1, 1000000);
  const double k = 1.1 + *rc::gen::inRange(0, 50) * 0.01;
  Blowing gas = gas_06;
  gas.k = k;
  const double m = through({1e-4, 0.8}, gas, p, air_pa).kg_per_s;
  RC_ASSERT(through({1e-4, 0.8}, gas, p * 1.001, air_pa).kg_per_s > m);
  RC_ASSERT(std::abs(through({2e-4, 0.8}, gas, p, air_pa).kg_per_s - 2 * m) < 1e-12 * m + 1e-15);
}

}  // namespace
}  // namespace bellhole::gas
