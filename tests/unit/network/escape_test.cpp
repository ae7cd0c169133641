#include "network/escape.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <numbers>

#include "units/unit.hpp"

namespace bellhole::network {
namespace {

constexpr double air_pa = 101325.0;
constexpr auto air = AbsolutePressure::from_si(air_pa);

gas::Flowing natural_gas() {
  return gas::flowing(*gas::from_gravity(0.6), Temperature::from_si(288.70555555));
}

gas::OpenLength two_inch(double psig, double feet) {
  return {AbsolutePressure::from_si(air_pa + psig * units::psi_pa), Length::from_si(feet * 0.3048),
          Length::from_si(1.943 * units::inch_m), Length::from_si(1.5e-6)};
}

Opening hole(double inches, double coefficient = 0.85) {
  return {gas::round_hole(Length::from_si(inches * units::inch_m)), coefficient, 1.30};
}

double area_of(const gas::OpenLength& side) {
  return std::numbers::pi / 4.0 * side.bore.si() * side.bore.si();
}

TEST(Escape, ALongMainIsSubsonicAtItsOpenEndAndAShortOneChokes) {
  const auto shortly = escape({two_inch(60, 100)}, {}, natural_gas(), air);
  EXPECT_EQ(shortly.regime, gas::Regime::choked);
  EXPECT_NEAR(shortly.at.si() / air_pa, 1.58, 0.02);
  const auto longer = escape({two_inch(60, 500)}, {}, natural_gas(), air);
  EXPECT_EQ(longer.regime, gas::Regime::subsonic);
  EXPECT_EQ(longer.at, air);
  EXPECT_LT(longer.flow, shortly.flow);
}

TEST(Escape, AtTheChokeTheOpenEndRunsAtTheSpeedOfIsothermalSound) {
  const auto flowing = natural_gas();
  const gas::OpenLength side = two_inch(60, 100);
  const auto out = escape({side}, {}, flowing, air);
  const double speed = out.flow.si() / (area_of(side) * flowing.density(out.at.si()));
  const double rt = flowing.specific_constant * flowing.temperature_k;
  EXPECT_NEAR(speed, std::sqrt(rt), 0.01 * std::sqrt(rt));
}

TEST(Escape, ASmallHoleIsTheHolesAndAWideOneTheMains) {
  const auto small = escape({two_inch(60, 500)}, hole(0.25), natural_gas(), air);
  EXPECT_NEAR(small.flow / small.unlimited, 1.0, 0.005);
  const auto wide = escape({two_inch(60, 500)}, hole(1.0), natural_gas(), air);
  EXPECT_LT(wide.flow / wide.unlimited, 0.75);
  const auto open = escape({two_inch(60, 500)}, {}, natural_gas(), air);
  EXPECT_LT(wide.flow, open.flow);
}

TEST(Escape, TwoEndsAreLimitedTogether) {
  const auto one = escape({two_inch(60, 500)}, hole(1.0), natural_gas(), air);
  const auto both = escape({two_inch(60, 500), two_inch(60, 500)}, hole(1.0), natural_gas(), air);
  EXPECT_GT(both.flow, one.flow);
  EXPECT_LT(both.flow.si(), 2.0 * one.flow.si());
  EXPECT_NEAR(both.sides[0].flow.si(), both.sides[1].flow.si(), 1e-9);
  const auto broken = escape({two_inch(60, 500), two_inch(60, 500)}, {}, natural_gas(), air);
  const auto alone = escape({two_inch(60, 500)}, {}, natural_gas(), air);
  EXPECT_NEAR(broken.flow.si(), 2.0 * alone.flow.si(), 1e-9) << "a broken main blows from both";
}

TEST(Escape, GasPassesAHoleTowardsTheLowerSide) {
  const auto out = escape({two_inch(60, 100), two_inch(5, 100)}, hole(0.1), natural_gas(), air);
  EXPECT_GT(out.sides[0].flow.si(), 0.0);
  EXPECT_LT(out.sides[1].flow.si(), 0.0);
  EXPECT_NEAR(out.sides[0].flow.si() + out.sides[1].flow.si(), out.flow.si(), 1e-15);
}

TEST(Escape, NothingLeavesAMainAtTheAirsPressure) {
  const auto out = escape({two_inch(0, 500)}, {}, natural_gas(), air);
  EXPECT_EQ(out.flow.si(), 0.0);
  EXPECT_EQ(out.regime, gas::Regime::none);
  EXPECT_EQ(escape({two_inch(-1, 500)}, hole(1.0), natural_gas(), air).flow.si(), 0.0);
}

RC_GTEST_PROP(Escape, WhatTheMainsBringIsWhatTheHolePasses, ()) {
  const auto within = [](int low, int high) { return *rc::gen::inRange(low, high); };
  const std::vector<gas::OpenLength> sides{two_inch(within(1, 1000) * 0.1, within(1, 5000)),
                                           two_inch(within(1, 1000) * 0.1, within(1, 5000))};
  const auto flowing = natural_gas();
  const auto opening = hole(within(1, 190) * 0.01);
  const auto out = escape(sides, opening, flowing, air);
  const double blows = gas::through({opening.area->si(), opening.coefficient},
                                    {flowing.specific_constant, flowing.temperature_k,
                                     flowing.z(out.at.si()), opening.k},
                                    out.at.si(), air_pa)
                           .kg_per_s;
  RC_ASSERT(std::abs(out.flow.si() - blows) < 1e-6 * blows + 1e-9);
  RC_ASSERT(out.flow.si() <= out.unlimited.si() * (1 + 1e-6));
}

}  // namespace
}  // namespace bellhole::network
