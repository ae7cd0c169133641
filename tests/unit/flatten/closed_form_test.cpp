#include "flatten/closed_form.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace bellhole::flatten {
namespace {

Length mm(double value) { return Length::from_si(value / 1e3); }

/// IPS 8 between round bars of 25.4 mm radius, at a true yield of 25 MPa.
Jaws eight_inch(double ratio, double bar_mm = 25.4) {
  return {mm(219.08),           mm(219.08 / ratio), mm(bar_mm), Stress::from_si(25e6),
          Stress::from_si(1e9), GaugePressure()};
}

double kn(const Jaws& jaws, double gap_over_two_walls) {
  return force_at(jaws, jaws.wall * (2.0 * gap_over_two_walls)).si() / 1e3;
}

TEST(ClosedForm, NothingBeforeTouch) {
  const Jaws jaws = eight_inch(11);
  EXPECT_EQ(force_at(jaws, jaws.od).si(), 0.0);
  EXPECT_EQ(force_at(jaws, jaws.od * 1.1).si(), 0.0);
}

RC_GTEST_PROP(ClosedForm, ForceRisesAsTheBarsClose, ()) {
  const double ratio = *rc::gen::inRange(70, 210) / 10.0;
  Jaws jaws = eight_inch(ratio, *rc::gen::inRange(10, 60));
  jaws.pressure = GaugePressure::from_si(*rc::gen::inRange(0, 700000));
  double before = 0.0;
  for (int i = 1; i <= 60; ++i) {
    const double now = force_at(jaws, jaws.od - (jaws.od - jaws.wall * 1.2) * (i / 60.0)).si();
    RC_ASSERT(now >= before - 1e-6);
    before = now;
  }
}

RC_GTEST_PROP(ClosedForm, ScalesWithTheSquareOfTheSize, ()) {
  const Jaws jaws = eight_inch(*rc::gen::inRange(90, 170) / 10.0);
  const double scale = *rc::gen::inRange(20, 200) / 100.0;
  Jaws other = jaws;
  other.od = jaws.od * scale;
  other.wall = jaws.wall * scale;
  other.bar_radius = jaws.bar_radius * scale;
  const Length gap = jaws.wall * (*rc::gen::inRange(130, 1000) / 100.0);
  const double want = force_at(jaws, gap).si() * scale * scale;
  RC_ASSERT(std::abs(force_at(other, gap * scale).si() - want) <= 1e-9 * (want + 1.0));
}

TEST(ClosedForm, TheBandHoldsTheExpectedAndAThickerWallPressesHarder) {
  const Jaws jaws = eight_inch(11);
  const Walls walls{mm(19.92), mm(21.1), mm(22.3)};
  const Band stops = band_at(jaws, walls, mm(27.9));
  EXPECT_LT(stops.low, stops.expected);
  EXPECT_LT(stops.expected, stops.high);
  const Band same = band_at(jaws, {mm(19.92), mm(19.92), mm(19.92)}, mm(27.9));
  EXPECT_LT(same.high, stops.high);
}

TEST(ClosedForm, TwoThirdsOfTheForceComeAfterTheWallsMeet) {
  const Jaws jaws = eight_inch(11);
  EXPECT_GT(kn(jaws, 0.70), 3.0 * kn(jaws, 1.0));
}

TEST(ClosedForm, CurveRunsFromTouchToTheStops) {
  const Jaws jaws = eight_inch(11);
  const auto points = curve(jaws, {jaws.wall, jaws.wall, jaws.wall}, mm(27.9), 20);
  ASSERT_EQ(points.size(), 21u);
  EXPECT_EQ(points.front().gap, jaws.od);
  EXPECT_NEAR(points.back().gap.si(), 0.0279, 1e-12);
}

TEST(Strength, ColderAndFasterIsHarder) {
  const auto at = [](double celsius, double closing_s) {
    return strength_of("PE4710", Temperature::from_si(273.15 + celsius),
                       Duration::from_si(closing_s))
        ->yield.si();
  };
  EXPECT_NEAR(at(23, 50), 25e6, 1.0);
  EXPECT_NEAR(at(23, 500) / at(23, 50), 0.91, 1e-12) << "a decade of rate";
  EXPECT_NEAR(at(-20, 50) / at(23, 50), 1.55, 0.005);
  EXPECT_NEAR(at(40, 50) / at(23, 50), 0.78, 0.005);
  EXPECT_TRUE(
      strength_of("PE4710", Temperature::from_si(253.15), Duration::from_si(50))->extrapolated);
  EXPECT_FALSE(strength_of("PVC", Temperature::from_si(293.15), Duration::from_si(50)));
}

TEST(Strength, ColdestForIsTheInverse) {
  const auto warm = Temperature::from_si(293.15);
  const auto cold = coldest_for(warm, 1.2);
  const auto yield = [](Temperature t) {
    return strength_of("PE100", t, Duration::from_si(100))->yield.si();
  };
  EXPECT_NEAR(yield(cold) / yield(warm), 1.2, 1e-9);
}

TEST(Strength, HeldPipeEasesByADecade) {
  const auto closing = Duration::from_si(120);
  EXPECT_EQ(held_share(Duration(), closing), 1.0);
  const double a = held_share(Duration::from_si(30), closing),
               b = held_share(Duration::from_si(300), closing);
  EXPECT_NEAR(a - b, per_decade, 1e-3);
  EXPECT_GE(held_share(Duration::from_si(1e15), closing), 0.0);
}

}  // namespace
}  // namespace bellhole::flatten
