#include <gtest/gtest.h>

#include "network/steady.hpp"
#include "tests/support/town.hpp"

namespace bellhole::network {
namespace {

using namespace support;

/// One main, one customer at its end whose draw grows with the cold.
Town one_street(double per_k) {
  Town town;
  const Index tier = town.tier("street", 60 * psi, 10 * psi);
  const Index a = town.node("A", tier), b = town.node("B", tier);
  const Index pipe = town.pipe("A-B", a, b, 2000.0, 0.0493);
  town.source("S", a, 20 * psi, 10.0);
  town.customer("C", pipe, 2000.0, 500 * cubic_foot_per_hour, per_k);
  return town;
}

LimitTemperature limit_of(const Town& town,
                          const Scenario& scenario = {.air = Temperature::from_si(290.0)}) {
  const auto model = Model::prepare(
      town.net, {.gas = *gas::from_gravity(0.6), .ground = Temperature::from_si(288.7)});
  return *limit_temperature(*model, scenario);
}

TEST(LimitTemperature, IsWhereTheStateTurns) {
  const Town town = one_street(100 * cubic_foot_per_hour);
  const LimitTemperature limit = limit_of(town);
  ASSERT_TRUE(limit.holds_down_to.has_value());
  EXPECT_FALSE(limit.holds_at_coldest);
  const auto model = Model::prepare(
      town.net, {.gas = *gas::from_gravity(0.6), .ground = Temperature::from_si(288.7)});
  const auto outcome_at = [&](double off) {
    return model->solve({.air = Temperature::from_si(limit.holds_down_to->si() + off)})->outcome;
  };
  EXPECT_EQ(outcome_at(0.0), Outcome::solved);
  EXPECT_EQ(outcome_at(-0.06), Outcome::cannot_carry);
}

TEST(LimitTemperature, SaysWhereEvenTheColdestHolds) {
  const LimitTemperature limit = limit_of(one_street(0.0));
  EXPECT_TRUE(limit.holds_at_coldest);
  EXPECT_EQ(limit.holds_down_to, limit.coldest_looked_at);
}

TEST(LimitTemperature, SaysWhereNoneHolds) {
  Town town = one_street(0.0);
  town.net.customers.least[0] = GaugePressure::from_si(30 * psi);  // more than the source has
  EXPECT_FALSE(limit_of(town).holds_down_to.has_value());
}

TEST(LimitTemperature, RisesWithTheLoad) {
  const Town town = one_street(100 * cubic_foot_per_hour);
  const auto at = [&](LoadCase load) {
    return limit_of(town, {.air = Temperature::from_si(290.0), .load = load}).holds_down_to->si();
  };
  EXPECT_LT(at(LoadCase::low), at(LoadCase::expected));
  EXPECT_LT(at(LoadCase::expected), at(LoadCase::high));
}

}  // namespace
}  // namespace bellhole::network
