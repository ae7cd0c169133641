// What a model refuses, what loads are, and that folding changes nothing.
#include "network/steady.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "tests/support/random_town.hpp"

namespace bellhole::network {
namespace {

using namespace support;

const Conditions conditions{.gas = *gas::from_gravity(0.6), .ground = Temperature::from_si(288.7)};

Town street() {
  Town town;
  const Index tier = town.tier("street", 60 * psi, 10 * psi);
  const Index a = town.node("A", tier), b = town.node("B", tier);
  const Index pipe = town.pipe("A-B", a, b, 300.0, 0.0493);
  town.source("S", a, 20 * psi, 10.0);
  town.customer("C", pipe, 100.0, 1e-4, 1e-5);
  town.valve("V", pipe, 200.0);
  return town;
}

Code refused(const Town& town) {
  const auto model = Model::prepare(town.net, conditions);
  return model ? Code::bug : model.error().code;
}
Code refused(const Scenario& scenario) {
  const Town town = street();
  const auto state = Model::prepare(town.net, conditions)->solve(scenario);
  return state ? Code::bug : state.error().code;
}

TEST(Steady, RefusesANetworkThatCannotBe) {
  Town town = street();
  town.net.pipes.length[0] = Length();
  EXPECT_EQ(refused(town), Code::bad_network);
  town = street();
  town.net.sources = {};
  EXPECT_EQ(refused(town), Code::no_source);
  town = street();
  town.net.sources.pressure[0] = GaugePressure::from_si(std::nan(""));
  EXPECT_EQ(refused(town), Code::missing_value);
  town = street();
  town.net.customers.station[0] = Length::from_si(301.0);
  EXPECT_EQ(refused(town), Code::bad_network);
  town = street();
  town.net.pipes.to[0] = 7;
  EXPECT_EQ(refused(town), Code::bad_network);
  town = street();
  town.regulator("R", 0, 1, std::nan(""));
  EXPECT_EQ(refused(town), Code::missing_value);
  town = street();
  town.net.base_pressure = AbsolutePressure();
  EXPECT_EQ(refused(town), Code::bad_network);
}

TEST(Steady, RefusesAScenarioThatCannotBe) {
  const Temperature mild = Temperature::from_si(283.15);
  EXPECT_EQ(refused({.air = Temperature::from_si(400.0)}), Code::out_of_range);
  EXPECT_EQ(refused({.air = mild, .hour = 24.0}), Code::out_of_range);
  EXPECT_EQ(refused({.air = mild, .hour = std::nan("")}), Code::out_of_range);
  EXPECT_EQ(refused({.air = mild, .closures = {{3, Length()}}}), Code::unknown_element);
  EXPECT_EQ(refused({.air = mild, .closures = {{0, Length::from_si(300.1)}}}), Code::out_of_range);
  EXPECT_EQ(refused({.air = mild, .valves = {{1, Position::closed}}}), Code::unknown_element);
  EXPECT_EQ(refused({.air = mild, .regulators_shut = {0}}), Code::unknown_element);
  EXPECT_EQ(refused({.air = mild, .sources_shut = {-1}}), Code::unknown_element);
  EXPECT_EQ(refused({.air = mild, .without_load = {1, 1}}), Code::bad_network);
}

TEST(Steady, LoadsFollowTemperatureHourAndCase) {
  Town town = street();
  town.net.shapes.hour_factor[0].fill(0.5);
  town.net.shapes.hour_factor[0][7] = 12.5;
  const auto load = [&](const Scenario& scenario) { return loads(town.net, scenario)[0].si(); };
  const Temperature reference = town.net.shapes.reference[0],
                    colder = Temperature::from_si(reference.si() - 10);
  EXPECT_NEAR(load({.air = reference, .hour = 3.0}), 0.5e-4, 1e-12);
  EXPECT_NEAR(load({.air = Temperature::from_si(reference.si() + 9), .hour = 3.0}), 0.5e-4, 1e-12);
  EXPECT_NEAR(load({.air = colder, .hour = 3.0}), 0.5 * 2e-4, 1e-12);
  EXPECT_NEAR(load({.air = colder, .hour = 7.99}), 12.5 * 2e-4, 1e-12)
      << "a load holds for its whole hour";
  EXPECT_NEAR(load({.air = colder, .hour = 3.0, .load = LoadCase::high}), 1.2 * 0.5 * 2e-4, 1e-12);
  EXPECT_NEAR(load({.air = colder, .hour = 3.0, .load = LoadCase::low}), 0.8 * 0.5 * 2e-4, 1e-12);
  EXPECT_EQ(load({.air = colder, .hour = 3.0, .without_load = {1}}), 0.0);
}

TEST(Steady, ATownOnAGridIsSolvedAndItsCustomersAreWhereTheyStand) {
  const Town town = grid_town({.pipes = 800, .seed = 5, .load = 3.0});
  const auto model = Model::prepare(town.net, conditions);
  const auto state = model->solve({.air = Temperature::from_si(255.0)});
  ASSERT_TRUE(state.has_value());
  EXPECT_EQ(state->outcome, Outcome::solved);
  EXPECT_LT(state->mass_imbalance, 1e-12);
  EXPECT_LT(state->pressure_residual_pa, 1e-4);
  double drawn = 0.0;
  for (std::size_t c = 0; c < town.net.customers.size(); ++c) {
    drawn += state->delivered[c].si();
    if (std::isnan(state->customer_pressure[c].si())) continue;
    // Between the pressures of the ends of its main, or under both where gas comes from both ends.
    const auto pipe = static_cast<std::size_t>(town.net.customers.pipe[c]);
    const double from =
        state->node_pressure[static_cast<std::size_t>(town.net.pipes.from[pipe])].si();
    const double to = state->node_pressure[static_cast<std::size_t>(town.net.pipes.to[pipe])].si();
    EXPECT_LE(state->customer_pressure[c].si(), std::max(from, to) + 1e-6);
  }
  const double kg =
      gas::base_density(conditions.gas, {town.net.base_pressure, town.net.base_temperature}).si();
  EXPECT_NEAR(drawn * kg, state->into_network.si(), 1e-9 * drawn * kg);
}

TEST(Steady, TheFuelGasCodeFormIsAnotherLawAndSaysSo) {
  Town town = street();
  Conditions code = conditions;
  code.law = gas::Law::fuel_gas_code;
  const Scenario cold{.air = Temperature::from_si(200.0)};
  const auto general = Model::prepare(town.net, conditions)->solve(cold),
             table = Model::prepare(town.net, code)->solve(cold);
  ASSERT_TRUE(general.has_value() && table.has_value());
  EXPECT_EQ(table->law, gas::Law::fuel_gas_code);
  const auto drop = [](const SteadyState& state) {
    return state.node_pressure[0].si() - state.node_pressure[1].si();
  };
  EXPECT_GT(drop(*table), 1.05 * drop(*general)) << "it loses more than a smooth pipe does";
}

}  // namespace
}  // namespace bellhole::network
