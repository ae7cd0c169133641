// An opening in a network against the closed forms, where those hold.
#include "network/opening.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/looped.hpp"
#include "tests/support/town.hpp"

namespace bellhole::network {
namespace {

using namespace support;

const Conditions conditions{.gas = *gas::from_gravity(0.6), .ground = Temperature::from_si(288.7)};
constexpr double bore_m = 1.943 * inch;

/// 500 ft of two inch main from a source at 60 psig, and as much again from another at B.
Town street(double psig_at_b = 60.0) {
  Town town;
  const Index tier = town.tier("street", 100 * psi, 5 * psi);
  const Index a = town.node("A", tier), b = town.node("B", tier);
  town.pipe("A-B", a, b, 1000 * foot, bore_m);
  town.source("S", a, 60 * psi);
  if (std::isfinite(psig_at_b)) town.source("T", b, psig_at_b * psi);
  return town;
}

Closure middle() { return {0, Length::from_si(500 * foot)}; }

Opening hole(double inches) {
  return {gas::round_hole(Length::from_si(inches * inch)), 0.85, 1.30};
}

gas::OpenLength half(const Town& town) {
  return {absolute(GaugePressure::from_si(60 * psi), town.net.barometer),
          Length::from_si(500 * foot), Length::from_si(bore_m), town.net.pipes.roughness[0]};
}

Escape closed_form(const Town& town, std::size_t sides, const Opening& opening) {
  return escape(std::vector(sides, half(town)), opening,
                gas::flowing(conditions.gas, conditions.ground), town.net.barometer);
}

std::vector<OpeningState> opened(const Town& town, const Opening& opening,
                                 const std::vector<Scenario>& scenarios) {
  const auto states = open_at(town.net, conditions, middle(), opening, scenarios);
  EXPECT_TRUE(states) << states.error().where << ": " << states.error().fix;
  return *states;
}

const Scenario open_scenario{.air = Temperature::from_si(288.7)};

TEST(Opening, AHoleIsLimitedByBothEndsAsInTheClosedForm) {
  for (const double inches : {0.25, 0.5, 1.0}) {
    const Town town = street();
    const auto state = opened(town, hole(inches), {open_scenario}).front();
    const auto wanted = closed_form(town, 2, hole(inches));
    EXPECT_NEAR(state.escape.flow.si(), wanted.flow.si(), 0.003 * wanted.flow.si()) << inches;
    EXPECT_TRUE(state.fed);
    EXPECT_NEAR(state.before.si(), 60 * psi, 1.0);
    EXPECT_NEAR(state.escape.unlimited.si(), wanted.unlimited.si(), 1e-3 * wanted.unlimited.si());
  }
}

TEST(Opening, ABrokenMainBlowsFromBothEndsAsInTheClosedForm) {
  const Town town = street();
  const auto state = opened(town, {}, {open_scenario}).front();
  const auto wanted = closed_form(town, 2, {});
  EXPECT_NEAR(state.escape.flow.si(), wanted.flow.si(), 0.003 * wanted.flow.si());
  ASSERT_EQ(state.escape.sides.size(), 2U);
  EXPECT_NEAR(state.escape.sides[0].flow.si(), state.escape.sides[1].flow.si(),
              1e-3 * wanted.flow.si());
  EXPECT_EQ(state.escape.regime, wanted.regime);
}

TEST(Opening, AShortBrokenMainChokes) {
  Town town = street();
  town.net.pipes.length[0] = Length::from_si(200 * foot);
  const auto states =
      open_at(town.net, conditions, {0, Length::from_si(100 * foot)}, {}, {open_scenario});
  ASSERT_TRUE(states);
  EXPECT_EQ(states->front().escape.regime, gas::Regime::choked);
  gas::OpenLength side = half(town);
  side.length = Length::from_si(100 * foot);
  const auto wanted =
      gas::flow_into(side, gas::flowing(conditions.gas, conditions.ground), town.net.barometer);
  EXPECT_NEAR(states->front().escape.sides[0].flow.si(), wanted.flow.si(),
              0.003 * wanted.flow.si());
  EXPECT_NEAR(states->front().escape.at.si(), wanted.exit.si(), 0.005 * wanted.exit.si());
}

TEST(Opening, EachSqueezeLessensItAndTheLastOneLeavesNothing) {
  const Town town = street();
  Scenario one = open_scenario, two;
  one.closures.push_back({0, Length::from_si(400 * foot)});
  two = one;
  two.closures.push_back({0, Length::from_si(600 * foot)});
  for (const Opening& opening : {hole(1.0), Opening{}}) {
    const auto states = opened(town, opening, {open_scenario, one, two});
    EXPECT_GT(states[0].escape.flow, states[1].escape.flow);
    EXPECT_GT(states[1].escape.flow.si(), 0.0);
    EXPECT_TRUE(states[1].fed);
    EXPECT_EQ(states[2].escape.flow.si(), 0.0);
    EXPECT_FALSE(states[2].fed);
    EXPECT_EQ(states[2].escape.regime, gas::Regime::none);
  }
}

TEST(Opening, CustomersFallShortWhileItBlows) {
  Town town = street(unknown);
  town.customer("C", 0, 900 * foot, 50 * cubic_foot_per_hour, 0.0, 40 * psi);
  const auto state = opened(town, hole(1.0), {open_scenario}).front();
  EXPECT_EQ(state.customers_short, 1U) << "the opening itself does not count";
  EXPECT_EQ(town.net.customers.size(), 1U) << "the map stays as it is";
}

TEST(Opening, AMainIsNotBrokenAtItsVeryEnd) {
  const Town town = street();
  EXPECT_EQ(open_at(town.net, conditions, {0, Length()}, {}, {open_scenario}).error().code,
            Code::out_of_range);
  EXPECT_TRUE(open_at(town.net, conditions, {0, Length()}, hole(0.5), {open_scenario}));
}

/// What the opening would pass at the pressure that a draw of `flow` leaves: the same network,
/// asked without any of what open_at does.
double passes(const Town& town, const Closure& place, const Opening& opening, double kg_per_s) {
  Town drawn = town;
  const double density =
      gas::base_density(conditions.gas, {town.net.base_pressure, town.net.base_temperature}).si();
  drawn.customer("draw", place.pipe, place.station.si(), kg_per_s / density, 0.0, 1.0);
  const auto model = Model::prepare(drawn.net, conditions);
  const auto state = model->solve(open_scenario);
  const double inside = absolute(state->customer_pressure.back(), town.net.barometer).si();
  const auto gas = gas::flowing(conditions.gas, conditions.ground);
  return gas::through({opening.area->si(), opening.coefficient},
                      {gas.specific_constant, gas.temperature_k, gas.z(inside), opening.k}, inside,
                      town.net.barometer.si())
      .kg_per_s;
}

TEST(Opening, WhatLeavesIsWhatTheHolePassesAtThePressureLeft) {
  LoopedTown looped = looped_town(1.0);
  for (double& low : looped.town.net.shapes.low) low = 1.0;
  for (double& high : looped.town.net.shapes.high) high = 1.0;
  for (Index pipe = 0; pipe < static_cast<Index>(looped.town.net.pipes.size()); ++pipe) {
    const Closure place{pipe, looped.town.net.pipes.length[static_cast<std::size_t>(pipe)] * 0.4};
    for (const double inches : {0.25, 1.0, 3.0}) {
      const auto states =
          open_at(looped.town.net, conditions, place, hole(inches), {open_scenario});
      ASSERT_TRUE(states) << states.error().where;
      const double leaves = states->front().escape.flow.si();
      EXPECT_NEAR(passes(looped.town, place, hole(inches), leaves), leaves, 2e-4 * leaves)
          << "pipe " << pipe << ", " << inches << " in";
    }
  }
}

TEST(Opening, SeveralCoefficientsAnswerAsEachAlone) {
  const Town town = street();
  const auto both =
      open_at(town.net, conditions, middle(), hole(1.0), {0.85, 0.62}, {open_scenario});
  ASSERT_TRUE(both);
  for (std::size_t i = 0; i < 2; ++i) {
    Opening alone = hole(1.0);
    alone.coefficient = i == 0 ? 0.85 : 0.62;
    const double flow = opened(town, alone, {open_scenario}).front().escape.flow.si();
    EXPECT_NEAR((*both)[i].front().escape.flow.si(), flow, 1e-5 * flow);
  }
}

}  // namespace
}  // namespace bellhole::network
