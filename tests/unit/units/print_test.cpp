#include "units/print.hpp"

#include <gtest/gtest.h>

#include <limits>

namespace bellhole::units {
namespace {

TEST(Print, UsesTheUnitThatACrewReads) {
  EXPECT_EQ(print(GaugePressure::from_si(379211.65), System::us), "55.0 psig");
  EXPECT_EQ(print(GaugePressure::from_si(1743.62), System::us), "7.00 inWC");
  EXPECT_EQ(print(GaugePressure::from_si(2.5e5), System::metric), "2.500 bar(g)");
  EXPECT_EQ(print(Length::from_si(0.02788), System::us), "1.098 in");
  EXPECT_EQ(print(Temperature::from_si(288.7055556), System::us), "60.0 degF");
  EXPECT_EQ(print(Duration::from_si(225.82), System::us), "3.8 min");
}

TEST(Print, RoundsTowardTheSideAskedFor) {
  const auto left = Duration::from_si(61.99);
  EXPECT_EQ(print_in(left, "min", 0, Toward::down), "1 min");
  EXPECT_EQ(print_in(left, "min", 0, Toward::up), "2 min");
  EXPECT_EQ(print_in(Length::from_si(0.4572), "in", 0, Toward::up), "18 in")
      << "an exact value stays";
  EXPECT_EQ(print_in(Length::from_si(0.4572), "in", 0, Toward::down), "18 in");
}

TEST(Print, AnUnknownNumberIsSaid) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  EXPECT_EQ(print(Length::from_si(nan), System::us), "not known");
  EXPECT_EQ(print_in(Length::from_si(nan), "in", 2), "not known");
}

TEST(Print, NeverShowsMinusZero) {
  EXPECT_EQ(print_in(Length::from_si(-1e-9), "in", 2), "0.00 in");
}

}  // namespace
}  // namespace bellhole::units
