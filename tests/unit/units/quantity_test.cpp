#include "units/quantity.hpp"

#include <gtest/gtest.h>

namespace bellhole {
namespace {

template <class A, class B>
concept Adds = requires(A a, B b) { a + b; };
template <class A, class B>
concept Subtracts = requires(A a, B b) { a - b; };
template <class A, class B>
concept Compares = requires(A a, B b) { a < b; };

// Misuse does not compile.
static_assert(!Adds<GaugePressure, AbsolutePressure>);
static_assert(!Subtracts<GaugePressure, AbsolutePressure>);
static_assert(!Compares<GaugePressure, AbsolutePressure>);
static_assert(!Adds<GaugePressure, GaugePressure>);
static_assert(!Adds<Temperature, Temperature>);
static_assert(!Adds<Length, Duration>);
static_assert(!Adds<Stress, PressureDifference>);
static_assert(Adds<GaugePressure, PressureDifference>);
static_assert(Adds<Length, Length>);

TEST(Quantity, PointsDifferByTheirOwnDifference) {
  const PressureDifference d = GaugePressure::from_si(5e5) - GaugePressure::from_si(4e5);
  EXPECT_DOUBLE_EQ(d.si(), 1e5);
}

TEST(Quantity, GaugeAndAbsoluteMeetOnlyThroughTheBarometer) {
  const auto barometer = AbsolutePressure::from_si(98000);
  EXPECT_DOUBLE_EQ(absolute(GaugePressure::from_si(2e5), barometer).si(), 298000);
  EXPECT_DOUBLE_EQ(gauge(AbsolutePressure::from_si(298000), barometer).si(), 2e5);
}

TEST(Quantity, TravelOverPaceIsTime) {
  EXPECT_DOUBLE_EQ((Length::from_si(0.1) / Speed::from_si(0.002)).si(), 50);
}

}  // namespace
}  // namespace bellhole
