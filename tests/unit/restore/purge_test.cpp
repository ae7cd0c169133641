#include "restore/purge.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "tests/unit/restore/profiles.hpp"

namespace bellhole::restore {
namespace {

PurgeQuestion six_inch() {
  PurgeQuestion q;
  q.bore = Length::from_si(5.473 * 0.0254);
  q.length = Length::from_si(600 * 0.3048);
  q.speed = Speed::from_si(3 * 0.3048);
  q.roughness = Length::from_si(1.5e-6);
  q.gas = *gas::from_gravity(0.6);
  q.temperature = gas::us_base.temperature;
  q.barometer = AbsolutePressure::from_si(101325.0);
  q.base = gas::us_base;
  return q;
}

Purged ask(const PurgeQuestion& q, const procedure::Profile& profile = shipped()) {
  return *purge(q, profile, units::System::us);
}

bool has(const Purged& purged, std::string_view rule, Grade grade) {
  return std::ranges::any_of(purged.findings, [&](const Finding& finding) {
    return finding.rule == rule && finding.grade == grade;
  });
}

TEST(Purge, AmountsOfOneVolume) {
  PurgeQuestion q = six_inch();
  q.pack_to = GaugePressure::from_si(58 * 6894.757293168361);
  const Purged purged = ask(q);
  EXPECT_NEAR(purged.time.si(), 200.0, 1e-9);
  EXPECT_NEAR(purged.volume.si() / purged.flow_m3_per_s, 200.0, 1e-9);
  EXPECT_NEAR(purged.pack->si(), 10.93, 0.005);
}

TEST(Purge, AWideMainNeedsMoreSpeedThanTheFloor) {
  PurgeQuestion q = six_inch();
  q.speed.reset();
  q.bore = Length::from_si(0.05);
  EXPECT_NEAR(ask(q).least_speed->si(), 0.6, 1e-12);
  q.bore = Length::from_si(0.4);
  EXPECT_GT(ask(q).least_speed->si(), 0.9);
  EXPECT_NEAR(ask(q).speed.si(), ask(q).least_speed->si(), 0.0) << "none given: the least";
}

TEST(Purge, TooSlowIsSaid) {
  PurgeQuestion q = six_inch();
  q.speed = Speed::from_si(0.3);
  EXPECT_TRUE(has(ask(q), "purge.speed_least", Grade::warn));
  EXPECT_FALSE(has(ask(six_inch()), "purge.speed_least", Grade::warn));
}

TEST(Purge, PercentLelEndsNothing) {
  PurgeQuestion q = six_inch();
  q.readings = {{0.95, false}, {1.0, true}};
  const auto profile = with({{"purge.end_gas", {90.0, "%"}}});
  const Purged purged = ask(q, profile);
  EXPECT_TRUE(has(purged, "purge.lel", Grade::halt));
  EXPECT_EQ(purged.ended, std::optional(false));
}

TEST(Purge, TwoReadingsInARowEndIt) {
  PurgeQuestion q = six_inch();
  const auto profile = with({{"purge.end_gas", {90.0, "%"}}});
  q.instrument = Instrument::thermal_conductivity;
  q.readings = {{0.95, false}};
  EXPECT_EQ(ask(q, profile).ended, std::optional(false));
  q.readings = {{0.95, false}, {0.80, false}};
  EXPECT_TRUE(has(ask(q, profile), "purge.end", Grade::halt));
  q.readings = {{0.80, false}, {0.90, false}, {0.92, false}};
  EXPECT_EQ(ask(q, profile).ended, std::optional(true));
}

TEST(Purge, AnInstrumentThatCannotReadRichGasEndsNothing) {
  PurgeQuestion q = six_inch();
  const auto profile = with({{"purge.end_gas", {90.0, "%"}}});
  q.readings = {{0.95, false}, {0.95, false}};
  const Purged not_told = ask(q, profile);
  EXPECT_FALSE(not_told.ended);
  EXPECT_TRUE(has(not_told, "purge.instrument", Grade::undecided));
  q.instrument = Instrument::catalytic;
  const Purged blind = ask(q, profile);
  EXPECT_EQ(blind.ended, std::optional(false));
  EXPECT_TRUE(has(blind, "purge.instrument", Grade::halt));
  q.instrument = Instrument::infrared;
  EXPECT_EQ(ask(q, profile).ended, std::optional(true));
}

TEST(Purge, TheStackPassesThePurgeAtItsFoot) {
  // By hand, without friction: rho / 2 (1 + K) v2 for v in the stack from the volume in the main.
  const auto heavy = air(gas::us_base.temperature);
  const double density = heavy.density(101325.0);
  EXPECT_NEAR(density, 1.2226, 0.001) << "15.6 degC";
  PurgeStack stack{Length::from_si(0.0525), Length::from_si(2.4), 4.1, Length::from_si(46e-6)};
  const double flow = 0.01388, v = flow / (M_PI / 4 * 0.0525 * 0.0525);
  const double f = 0.0271;  // Re 22,900, relative roughness 8.8e-4, Swamee and Jain
  const double by_hand = density / 2 * v * v * (4.1 + f * 2.4 / 0.0525);
  EXPECT_NEAR(at_foot(stack, heavy, flow, AbsolutePressure::from_si(101325.0))->si(), by_hand,
              0.02 * by_hand);
}

TEST(Purge, StackAndInletAreHeldAgainstLimitsAndTheFeed) {
  PurgeQuestion q = six_inch();
  EXPECT_TRUE(has(ask(q), "purge.vent_height_least", Grade::undecided));
  q.stack = PurgeStack{Length::from_si(0.0525), Length::from_si(2.4)};
  const auto profile =
      with({{"purge.vent_height_least", {6.0, "ft"}}, {"purge.vent_bore_least", {2.0, "in"}}});
  const Purged open = ask(q, profile);
  EXPECT_FALSE(has(open, "purge.vent_height_least", Grade::halt));
  ASSERT_TRUE(open.inlet && open.foot);
  EXPECT_GE(*open.inlet, *open.foot) << "the main takes its share";
  EXPECT_TRUE(has(open, "purge.inlet", Grade::undecided)) << "what the feed has is not given";
  q.line = GaugePressure::from_si(open.inlet->si() + 1.0);
  EXPECT_FALSE(has(ask(q, profile), "purge.inlet", Grade::halt));
  q.line = GaugePressure::from_si(open.inlet->si() - 1.0);
  EXPECT_TRUE(has(ask(q, profile), "purge.inlet", Grade::halt));
  q.stack->height = Length::from_si(1.5);
  EXPECT_TRUE(has(ask(q, profile), "purge.vent_height_least", Grade::halt));
  q.stack->bore = Length::from_si(0.004);
  EXPECT_TRUE(has(ask(q, profile), "purge.vent_narrow", Grade::halt));
  q.stack->bore = Length();
  EXPECT_EQ(purge(q, shipped(), units::System::us).error().where, "stack");
}

TEST(Purge, TooSlowAsksForASlug) {
  PurgeQuestion q = six_inch();
  EXPECT_FALSE(ask(q).slug_asked);
  q.speed = Speed::from_si(0.3);
  const Purged slow = ask(q);
  EXPECT_TRUE(slow.slug_asked);
  const double area = slow.volume.si() / q.length.si();
  EXPECT_NEAR(slow.slug_gas.si(), area * slow.slug_least.si() * 101325.0 / 101559.7749, 1e-9);
}

TEST(Purge, GasLostIsWhatDoesNotStay) {
  const Purged purged = ask(six_inch());
  const double stays = purged.volume.si() * 101325.0 / 101559.7749;
  EXPECT_NEAR(purged.gas_lost->si(), purged.gas_used->si() - stays, 1e-9);
}

TEST(Purge, WithoutAnEndSetNothingIsEnded) {
  PurgeQuestion q = six_inch();
  q.readings = {{0.99, false}, {0.99, false}};
  const Purged purged = ask(q);
  EXPECT_FALSE(purged.ended);
  EXPECT_TRUE(has(purged, "purge.end_gas", Grade::undecided));
}

TEST(Purge, RefusesWhatCannotBe) {
  PurgeQuestion q = six_inch();
  q.bore = Length();
  EXPECT_EQ(purge(q, shipped(), units::System::us).error().where, "bore");
  q = six_inch();
  q.readings = {{1.2, false}};
  EXPECT_EQ(purge(q, shipped(), units::System::us).error().code, Code::out_of_range);
}

/// The front's share from the dispersion equation itself: dc/dt = K d2c/dx2 in the frame of the
/// flow, by Crank-Nicolson from a sharp front, against the closed form.
TEST(Mixing, ClosedFormIsTheSolutionOfTheDispersionEquation) {
  const Front front{Length::from_si(0.1), Length::from_si(500.0), Speed::from_si(5.0),
                    Length::from_si(1.5e-6), 1.6e-5};
  const Mixing mixed = mixing(front);
  const double sigma = mixed.sigma.si(), t = (front.length / front.speed).si();
  const double k = sigma * sigma / (2.0 * t);
  constexpr std::size_t n = 801, steps = 2000;
  const double width = 12.0 * sigma, dx = width / (n - 1), dt = t / steps;
  const double r = k * dt / (2.0 * dx * dx);
  std::vector<double> c(n), rhs(n), ahead(n);
  for (std::size_t i = 0; i < n; ++i) c[i] = i < n / 2 ? 1.0 : i == n / 2 ? 0.5 : 0.0;
  for (std::size_t step = 0; step < steps; ++step) {
    for (std::size_t i = 1; i + 1 < n; ++i) rhs[i] = c[i] + r * (c[i - 1] - 2.0 * c[i] + c[i + 1]);
    rhs[0] = 1.0;
    rhs[n - 1] = 0.0;
    // Thomas: rows 1 … n-2 are -r, 1+2r, -r; the ends are held.
    double beta = 1.0;
    c[0] = rhs[0];
    ahead[0] = 0.0;
    for (std::size_t i = 1; i + 1 < n; ++i) {
      beta = 1.0 + 2.0 * r + r * ahead[i - 1];
      ahead[i] = -r / beta;
      c[i] = (rhs[i] + r * c[i - 1]) / beta;
    }
    c[n - 1] = rhs[n - 1];
    for (std::size_t i = n - 1; i-- > 0;) c[i] -= ahead[i] * c[i + 1];
  }
  for (const double at : {-2.326, -1.645, -0.5, 0.0, 1.036, 2.0}) {
    const double x = width / 2.0 + at * sigma;
    const auto i = static_cast<std::size_t>(x / dx);
    const double share = c[i] + (c[i + 1] - c[i]) * (x / dx - static_cast<double>(i));
    EXPECT_NEAR(share, share_at(mixed, Length::from_si(-at * sigma)), 2e-3) << at;
  }
  const double from_1 = share_at(mixed, mixed.one_to_99() * -0.5);
  EXPECT_NEAR(from_1, 0.01, 1e-5);
}

TEST(Mixing, LaminarIsWorse) {
  const Front slow{Length::from_si(0.025), Length::from_si(50.0), Speed::from_si(0.6),
                   Length::from_si(1.5e-6), 1.6e-5};
  const Mixing mixed = mixing(slow);
  EXPECT_TRUE(mixed.laminar);
  EXPECT_FALSE(mixed.as_measured);
  Front longer = slow;
  longer.length = Length::from_si(200.0);
  EXPECT_NEAR(mixing(longer).sigma / mixed.sigma, 2.0, 1e-12) << "with the root of the way";
}

}  // namespace
}  // namespace bellhole::restore
