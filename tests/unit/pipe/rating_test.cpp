#include "pipe/rating.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace bellhole::pipe {
namespace {

Stress psi(double value) { return Stress::from_si(value * 6894.757293168361); }
Temperature degf(double value) { return Temperature::from_si((value + 459.67) * 5.0 / 9.0); }

TEST(Rating, StrengthIsTheListedOneInTheColdAndNothingAboveTheListing) {
  EXPECT_EQ(hdb_at(psi(1250), psi(800), degf(-10)), psi(1250));
  EXPECT_EQ(hdb_at(psi(1250), std::nullopt, degf(73)), psi(1250));
  EXPECT_FALSE(hdb_at(psi(1250), psi(800), degf(141)));
  EXPECT_FALSE(hdb_at(psi(1250), std::nullopt, degf(74))) << "nothing to interpolate to";
  EXPECT_FALSE(hdb_at(std::nullopt, psi(800), degf(60)));
  EXPECT_NEAR(hdb_at(psi(1250), psi(800), degf(140))->si(), psi(800).si(), 1.0);
}

RC_GTEST_PROP(Rating, WarmerIsNeverStronger, ()) {
  const double a = *rc::gen::inRange(-20, 140);
  const double b = *rc::gen::inRange(-20, 140);
  const auto cool = hdb_at(psi(1600), psi(1000), degf(std::min(a, b)));
  const auto warm = hdb_at(psi(1600), psi(1000), degf(std::max(a, b)));
  RC_ASSERT(cool.has_value() && warm.has_value());
  RC_ASSERT(*warm <= *cool);
  RC_ASSERT(warm->si() >= psi(1000).si() - 1.0);
}

TEST(Rating, ThickerPipeIsRatedHigher) {
  EXPECT_GT(design_pressure_us(psi(1250), 11, 0.32), design_pressure_us(psi(1250), 11.5, 0.32));
  EXPECT_NEAR(design_pressure_us(psi(1250), 11, 0.32).si() / 6894.757293168361, 80.0, 1e-9);
  EXPECT_NEAR(design_pressure_iso(Stress::from_si(10e6), 11, 2.0).si(), 10e5, 1e-6);
}

}  // namespace
}  // namespace bellhole::pipe
