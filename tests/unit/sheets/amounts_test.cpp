#include "sheets/amounts.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <cstdlib>

namespace bellhole::sheets {
namespace {

constexpr auto us = units::System::us, metric = units::System::metric;
constexpr double inch = 0.0254, psi = 6894.757293168361;

TEST(Amounts, StopGapIsPrintedAsAGaugeReadsIt) {
  EXPECT_EQ(print(amounts::gap, 1.0977 * inch, us), "1.098 in");
  EXPECT_EQ(print(amounts::gap, 0.01824, metric), "18.24 mm");
}

TEST(Amounts, LimitsErrTowardThePressureAndPressuresTowardTheLimit) {
  EXPECT_EQ(print(amounts::least_allowed, 20.01 * psi, us), "20.1 psig");
  EXPECT_EQ(print(amounts::lowest, 45.09 * psi, us), "45.0 psig");
  EXPECT_EQ(print(amounts::most_allowed, 59.99 * psi, us), "59.9 psig");
  EXPECT_EQ(print(amounts::highest, 57.01 * psi, us), "57.1 psig");
  EXPECT_EQ(print(amounts::most_allowed, 60.0 * psi, us), "60.0 psig");
}

TEST(Amounts, TimesAndTemperaturesErrToTheSafeSide) {
  EXPECT_EQ(stop_watch(225.8), "3:46");
  EXPECT_EQ(stop_watch(3600.0), "1:00:00");
  EXPECT_EQ(min_s(903.3), "15 min 04 s");
  EXPECT_EQ(lasting(118.2), "119 s");
  EXPECT_EQ(lasting(119.2), "2 min");
  EXPECT_EQ(lasting(3661), "62 min");
  EXPECT_EQ(lasting(7261), "2 h 02 min");
  EXPECT_EQ(print(amounts::start_above, 264.9, us), "18 °F");  // 17.15 degF
  EXPECT_EQ(print(amounts::compression, 0.29999, us), "30.0 %");
}

TEST(Amounts, WhatIsNotKnownIsSaid) {
  EXPECT_EQ(print(amounts::gap, std::nullopt, us), "not known");
  EXPECT_EQ(print(amounts::gap, std::nan(""), us), "not known");
  EXPECT_EQ(bare(amounts::gap, std::nullopt, us), "–");
  EXPECT_EQ(stop_watch(std::nullopt), "not known");
  EXPECT_EQ(lasting(-1), "not known");
}

TEST(Amounts, UnitsAreWrittenAsOnPaper) {
  EXPECT_EQ(print(amounts::temperature, 288.7055555555556, us), "60.0 °F");
  EXPECT_EQ(print(amounts::volume, 0.93, us), "33 ft³");
  EXPECT_EQ(unit_of(amounts::gap, metric), "mm");
}

TEST(Amounts, AWindowOnlyLosesByRounding) {
  EXPECT_TRUE(rc::check("windows and clearances", [] {
    const double at = *rc::gen::inRange(0, 4'000'000) * 1e-6;
    for (const auto system : {us, metric}) {
      const double unit = system == us ? inch : 1e-3;
      const auto number = [&](const std::string& text) {
        return std::strtod(text.c_str(), nullptr) * unit;
      };
      RC_ASSERT(number(print(amounts::window_from, at, system)) >= at - 1e-8);
      RC_ASSERT(number(print(amounts::window_to, at, system)) <= at + 1e-8);
      RC_ASSERT(number(print(amounts::clearance, at, system)) >= at - 1e-8);
    }
  }));
}

}  // namespace
}  // namespace bellhole::sheets
