#include "linepack/vent.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/unit/linepack/closed.hpp"

namespace bellhole::linepack {
namespace {

VentQuestion four_inch_mile() {
  VentQuestion question;
  question.gas = gas::flowing(*gas::from_gravity(0.6), gas::us_base.temperature);
  question.closed = closed_ft3(390.0, question.gas.k_per_pa);
  question.from = psig(55);
  question.to = GaugePressure::from_si(units::inch_water_pa);
  question.stack.bore = Length::from_si(0.0525);
  question.stack.length = Length::from_si(3.0);
  question.stack.height = Length::from_si(3.0);
  return question;
}

TEST(Vent, ChokesFirstAndRestsALittleBelowTheAir) {
  const auto vented = vent(four_inch_mile());
  ASSERT_TRUE(vented);
  ASSERT_TRUE(vented->choked_until);
  EXPECT_GT(vented->choked_until->si(), 0.0);
  EXPECT_LT(*vented->choked_until, vented->takes);
  EXPECT_NEAR(vented->rests_at.si(), -4.8 * 3.0, 0.3);
  EXPECT_EQ(vented->course.front().at.si(), 0.0);
  EXPECT_EQ(vented->course.back().at, vented->takes);
  EXPECT_NEAR(vented->course.back().pressure.si(), units::inch_water_pa, 1e-6);
}

TEST(Vent, TheGasThatLeavesIsTheGasThatWasHeld) {
  const auto question = four_inch_mile();
  const auto vented = vent(question);
  const double at_base = gas::base_density(*gas::from_gravity(0.6), gas::us_base).si();
  EXPECT_NEAR(vented->gas.si() * at_base, vented->mass.si(), 1e-9 * vented->mass.si());
  EXPECT_NEAR(vented->gas.si(),
              (held(question.closed, question.from) - held(question.closed, question.to)).si(),
              1e-12);
}

TEST(Vent, AStepwiseBlowDownTakesAsLong) {
  // Small steps of time, each with the flow at its start.
  const auto question = four_inch_mile();
  const auto vented = vent(question);
  const double rest = 101325.0 + vented->rests_at.si(), dt = 0.02;
  const double volume = question.closed.volume.si();
  double mass = volume * question.gas.density(101325.0 + question.from.si()), time = 0.0;
  const double end = volume * question.gas.density(101325.0 + question.to.si());
  const auto pressure_of = [&](double kg) {
    const double c = kg / volume * question.gas.specific_constant * question.gas.temperature_k;
    return 2.0 * c / (1.0 + std::sqrt(1.0 + 4.0 * question.gas.k_per_pa * c));
  };
  while (mass > end) {
    const auto inside = AbsolutePressure::from_si(pressure_of(mass));
    mass -= dt * gas::flow_into({inside, question.stack.length, question.stack.bore,
                                 question.stack.roughness, question.stack.loss},
                                question.gas, AbsolutePressure::from_si(rest))
                     .flow.si();
    time += dt;
  }
  EXPECT_NEAR(vented->takes.si(), time, 0.005 * time);
}

TEST(Empties, AHoleWithoutALossEmptiesAsTheClosedFormOfItsChokeSays) {
  // Choked all the way: dp/dt is in proportion to p.
  auto closed = closed_ft3(390.0);
  const gas::Flowing gas{.gravity = 0.6,
                         .specific_constant = 478.4,
                         .temperature_k = 288.7,
                         .k_per_pa = 0.0,
                         .viscosity_pa_s = 1e-5};
  const gas::Hole hole{1e-4, 0.8};
  const auto takes = empties(closed, gas, psig(60), psig(20), hole, 1.30);
  ASSERT_TRUE(takes);
  const double start = 101325.0 + psig(60).si(), end = 101325.0 + psig(20).si();
  const double m = gas::through(hole, {478.4, 288.7, 1.0, 1.30}, start, 101325.0).kg_per_s;
  const double tau = closed.volume.si() * start / (478.4 * 288.7) / m;
  EXPECT_NEAR(takes->si(), tau * std::log(start / end), 1e-6 * takes->si());
  EXPECT_FALSE(empties(closed, gas, psig(20), psig(60), hole, 1.30));
  EXPECT_FALSE(empties(closed, gas, psig(20), GaugePressure(), hole, 1.30)) << "only ever nearly";
}

TEST(Vent, RefusesWhatNoStackDoes) {
  auto question = four_inch_mile();
  question.to = psig(60);
  EXPECT_EQ(vent(question).error().code, Code::contradiction);
  question = four_inch_mile();
  question.stack.height = Length();
  question.to = GaugePressure();
  EXPECT_EQ(vent(question).error().where, "down_to") << "it only comes near";
  question = four_inch_mile();
  question.stack.height = Length::from_si(5.0);
  EXPECT_EQ(vent(question).error().where, "height");
  question = four_inch_mile();
  question.stack.bore = Length();
  EXPECT_EQ(vent(question).error().code, Code::out_of_range);
}

RC_GTEST_PROP(Vent, AWiderStackIsQuickerAndTwiceTheVolumeTakesTwiceAsLong, ()) {
  auto question = four_inch_mile();
  question.stack.bore = Length::from_si(*rc::gen::inRange(15, 200) * 1e-3);
  question.from = psig(*rc::gen::inRange(1, 100));
  const auto takes = vent(question)->takes;
  auto wider = question;
  wider.stack.bore = question.stack.bore * 1.1;
  RC_ASSERT(vent(wider)->takes < takes);
  auto twice = question;
  twice.closed.volume = question.closed.volume * 2.0;
  RC_ASSERT(std::abs(vent(twice)->takes / takes - 2.0) < 1e-9);
}

}  // namespace
}  // namespace bellhole::linepack
