#include "procedure/when.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace bellhole::procedure {
namespace {

When od(Range range) {
  When when;
  when[Ranged::od] = range;
  return when;
}

Case pipe(double diameter) {
  Case in;
  in[Ranged::od] = Between{diameter, diameter};
  return in;
}

TEST(When, NamesNothingAndHoldsAlways) {
  EXPECT_EQ(applies({}, {}), Applies::yes);
  EXPECT_EQ(specificity({}), 0);
}

TEST(When, EndsOfARangeBelongOrNotAsWritten) {
  EXPECT_EQ(applies(od({.up_to = 0.250}), pipe(0.250)), Applies::yes);
  EXPECT_EQ(applies(od({.below = 0.250}), pipe(0.250)), Applies::no);
  EXPECT_EQ(applies(od({.above = 0.250}), pipe(0.250)), Applies::no);
  EXPECT_EQ(applies(od({.from = 0.250}), pipe(0.250)), Applies::yes);
  EXPECT_EQ(applies(od({.above = 0.250}), pipe(0.315)), Applies::yes);
}

TEST(When, TwoConversionsOfOneValueAreTheSame) {
  EXPECT_EQ(applies(od({.up_to = 250 * 1e-3}), pipe(250 / 1000.0 + 1e-17)), Applies::yes);
}

TEST(When, UnknownIsNeverNo) {
  When when;
  when[Listed::material] = {"PE4710"};
  when[Ranged::temperature].from = 283.15;
  std::vector<std::string_view> missing;
  EXPECT_EQ(applies(when, {}, &missing), Applies::unknown);
  EXPECT_EQ(missing, (std::vector<std::string_view>{"material", "temperature"}));
  Case in;
  in[Listed::material] = "PE2708";
  EXPECT_EQ(applies(when, in), Applies::no) << "one condition that fails settles it";
}

TEST(When, AYearThatStraddlesADateIsUnknown) {
  When when;
  when[Ranged::made].from = 100;
  Case in;
  in[Ranged::made] = Between{50, 150};
  EXPECT_EQ(applies(when, in), Applies::unknown);
  in[Ranged::made] = Between{100, 150};
  EXPECT_EQ(applies(when, in), Applies::yes);
  in[Ranged::made] = Between{10, 99};
  EXPECT_EQ(applies(when, in), Applies::no);
}

TEST(When, AListOfSizesWithItsDiametersCountsOnce) {
  When when = od({.from = 0.06, .up_to = 0.06});
  when[Listed::size] = {"IPS 2"};
  EXPECT_EQ(specificity(when), 1);
}

RC_GTEST_PROP(When, ContainedRangesOverlapAndHoldWhereTheOuterHolds, ()) {
  const auto number = [] { return static_cast<double>(*rc::gen::inRange(0, 12)); };
  const auto range = [&] {
    Range out;
    if (*rc::gen::arbitrary<bool>()) out.from = number();
    if (*rc::gen::arbitrary<bool>()) out.above = number();
    if (*rc::gen::arbitrary<bool>()) out.up_to = number();
    if (*rc::gen::arbitrary<bool>()) out.below = number();
    return out;
  };
  const When a = od(range());
  const When b = od(range());
  bool met = false;
  for (double x = -1.0; x <= 13.0; x += 0.5) {
    const bool in_a = applies(a, pipe(x)) == Applies::yes;
    const bool in_b = applies(b, pipe(x)) == Applies::yes;
    met = met || (in_a && in_b);
    if (contains(a, b) && in_b) RC_ASSERT(in_a);
  }
  if (met) RC_ASSERT(overlap(a, b));
}

}  // namespace
}  // namespace bellhole::procedure
