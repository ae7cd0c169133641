#include "linepack/drain.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "tests/unit/linepack/closed.hpp"

namespace bellhole::linepack {
namespace {

DrainQuestion capped_main() {
  return {closed_ft3(1738), psig(58), psig(10), {scfh(112.5), scfh(562.5)}, psig(2)};
}

TEST(Drain, TheHighDrawRulesTheTimeLeft) {
  const auto drained = drain(capped_main());
  ASSERT_TRUE(drained);
  EXPECT_NEAR(drained->shortest->si() / 3600.0, 10.07, 0.005);
  EXPECT_NEAR(drained->longest->si(), 5.0 * drained->shortest->si(), 1e-6);
  EXPECT_FALSE(drained->at_once);
}

TEST(Drain, RealGasHoldsMoreThanIdealGas) {
  auto question = capped_main();
  question.closed.k_per_pa = 2.2e-8;
  EXPECT_GT(drain(question)->usable, drain(capped_main())->usable * 1.01);
}

TEST(Drain, NothingDrawnHasNoEnd) {
  auto question = capped_main();
  question.draw.low = StdFlow();
  const auto drained = drain(question);
  EXPECT_FALSE(drained->longest);
  EXPECT_TRUE(drained->shortest);
}

TEST(Drain, LowPressureAndBelowTheFloorAreOutAtOnce) {
  auto low = capped_main();
  low.from = GaugePressure::from_si(7 * units::inch_water_pa);
  low.floor = GaugePressure::from_si(4 * units::inch_water_pa);
  EXPECT_TRUE(drain(low)->at_once);
  EXPECT_EQ(drain(low)->shortest->si(), 0.0);
  EXPECT_GT(drain(low)->usable.si(), 0.0);
  low.low_pressure.reset();
  EXPECT_FALSE(drain(low)->at_once) << "what is low is not known";

  auto below = capped_main();
  below.from = psig(9);
  EXPECT_TRUE(drain(below)->at_once);
  EXPECT_EQ(drain(below)->usable.si(), 0.0);
  below.draw = {};
  EXPECT_FALSE(drain(below)->shortest) << "nobody draws";
}

TEST(Drain, RefusesWhatCannotBe) {
  auto question = capped_main();
  question.closed.volume = Volume();
  EXPECT_EQ(drain(question).error().code, Code::out_of_range);
  question = capped_main();
  question.draw.low = scfh(-1);
  EXPECT_EQ(drain(question).error().code, Code::out_of_range);
  question = capped_main();
  question.draw = {scfh(2), scfh(1)};
  EXPECT_EQ(drain(question).error().code, Code::contradiction);
}

RC_GTEST_PROP(Closed, TakingWhatIsHeldBetweenTwoPressuresGoesFromOneToTheOther, ()) {
  const auto within = [](int low, int high) { return rc::gen::inRange(low, high); };
  const Closed closed = closed_ft3(*within(1, 100000) / 10.0, *within(0, 40) * 1e-9);
  const GaugePressure from = psig(*within(0, 1450) / 10.0), to = psig(*within(-140, 1450) / 10.0);
  const auto there = after(closed, from, held(closed, from) - held(closed, to));
  RC_ASSERT(std::abs(there.si() - to.si()) < 1e-6);
}

TEST(Closed, FallIsTheSlopeOfWhatIsHeld) {
  const Closed closed = closed_ft3(1738, 2.2e-8);
  const auto later = after(closed, psig(58), scfh(562.5) * Duration::from_si(1.0));
  EXPECT_NEAR((psig(58) - later).si(), fall(closed, psig(58), scfh(562.5)).si(), 1e-5);
}

TEST(Closed, AnEmptyPipeStaysEmpty) {
  const Closed closed = closed_ft3(10);
  EXPECT_NEAR(after(closed, psig(1), StdVolume::from_si(1e3)).si(), -101325.0, 1e-9);
}

}  // namespace
}  // namespace bellhole::linepack
