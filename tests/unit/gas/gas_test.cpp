#include "gas/gas.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <array>
#include <cmath>

namespace bellhole::gas {
namespace {

TEST(Gas, RefusesWhatIsAsHeavyAsAir) {
  for (double gravity : {1.0, 1.52, std::nan(""), 0.3, -1.0}) {
    const auto gas = from_gravity(gravity);
    ASSERT_FALSE(gas.has_value()) << gravity;
    EXPECT_EQ(gas.error().code, Code::bad_gas);
  }
  const std::array propane{Share{"C3H8", 1.0}};
  ASSERT_FALSE(from_composition(propane).has_value());
  EXPECT_EQ(from_composition(propane).error().code, Code::bad_gas);
}

TEST(Gas, ReadsACompositionOrSaysWhatIsWrong) {
  const std::array good{Share{"CH4", 0.95}, Share{"N2", 0.05}};
  ASSERT_TRUE(from_composition(good).has_value());
  EXPECT_NEAR(from_composition(good)->kg_per_mol, 0.95 * 16.0425e-3 + 0.05 * 28.0134e-3, 1e-9);
  const auto code = [](std::initializer_list<Share> shares) {
    const auto gas = from_composition(std::span(shares.begin(), shares.size()));
    return gas ? Code::bug : gas.error().code;
  };
  EXPECT_EQ(code({{"CH4", 0.9}}), Code::bad_gas);
  EXPECT_EQ(code({{"CH5", 1.0}}), Code::unreadable_value);
  EXPECT_EQ(code({{"CH4", 1.2}, {"N2", -0.2}}), Code::out_of_range);
  EXPECT_EQ(code({{"CH4", std::nan("")}}), Code::out_of_range);
  EXPECT_EQ(code({{"CH4", 0.5}, {"CH4", 0.5}}), Code::contradiction);
  EXPECT_EQ(code({}), Code::bad_gas);
}

TEST(Gas, LightGasRisesInPressureUphill) {
  const Flowing gas = flowing(*from_gravity(0.6), Temperature::from_si(288.15));
  const AbsolutePressure barometer = AbsolutePressure::from_si(101325.0);
  const double below = barometer.si() + 1744.0;  // 7 inches of water
  const double above = gas.at_rest_higher(below, 30.48);
  const double gauge =
      above - barometer_higher(barometer, 30.48, Temperature::from_si(288.15)).si();
  EXPECT_NEAR((gauge - 1744.0) / 249.089, 0.588, 0.02) << "about 0.59 inches of water in 100 feet";
}

RC_GTEST_PROP(Gas, PotentialAndPressureAreInverse, ()) {
  const double k = *rc::gen::inRange(0, 50) * 1e-9;
  const Flowing gas{.k_per_pa = k};
  const double p = *rc::gen::inRange(-1'100'000, 1'100'000);
  RC_ASSERT(std::abs(gas.pressure(gas.potential(p)) - p) <= 1e-9 * (1.0 + std::abs(p)));
}

RC_GTEST_PROP(Gas, AColumnAtRestLeadsBackToItself, ()) {
  const Flowing gas = flowing(*from_gravity(0.6), Temperature::from_si(280.0));
  const double p = *rc::gen::inRange(80'000, 1'100'000), rise = *rc::gen::inRange(-500, 500);
  RC_ASSERT(std::abs(gas.at_rest_higher(gas.at_rest_higher(p, rise), -rise) - p) < 1e-7);
  RC_ASSERT((gas.at_rest_higher(p, rise) < p) == (rise > 0));
}

}  // namespace
}  // namespace bellhole::gas
