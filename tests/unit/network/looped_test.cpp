// A looped network that was solved once by other means (a plain Newton method in another language,
// with a linear blend of the friction factor and its own Z and viscosity): see also the ledger.
#include <gtest/gtest.h>

#include "network/steady.hpp"
#include "tests/support/looped.hpp"

namespace bellhole::network {
namespace {

TEST(Looped, MediumPressure) {
  const auto [town, wanted] = support::looped_town(1.0);
  const auto model = Model::prepare(town.net, support::looped_conditions());
  ASSERT_TRUE(model.has_value());
  const auto state = model->solve({.air = Temperature::from_si(288.15)});
  ASSERT_TRUE(state.has_value());
  EXPECT_EQ(state->outcome, Outcome::solved);
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    EXPECT_NEAR(state->node_pressure[i].si() / support::psi, wanted[i], 0.005);
  }
  EXPECT_LT(state->mass_imbalance, 1e-10);
}

TEST(Looped, LowPressureLaminarTransitionAndTurbulentInOne) {
  const auto [town, wanted] = support::looped_town(0.04);
  const auto model = Model::prepare(town.net, support::looped_conditions());
  ASSERT_TRUE(model.has_value());
  const auto state = model->solve({.air = Temperature::from_si(288.15)});
  ASSERT_TRUE(state.has_value());
  EXPECT_EQ(state->outcome, Outcome::solved);
  for (std::size_t i = 0; i < wanted.size(); ++i) {
    EXPECT_NEAR(state->node_pressure[i].si() / support::inch_of_water, wanted[i], 0.01);
  }
}

}  // namespace
}  // namespace bellhole::network
