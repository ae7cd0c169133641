// The watches of a plan's hold points, held against the question watch by hand.
#include "plan/step_watch.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/unit/steps/a_plan.hpp"

namespace bellhole::plan {
namespace {

using namespace test;

procedure::Profile with_divisions() {
  const procedure::Profile base = with_gauges();
  return support::invented({{"steps.gauge_step", 0.5, "psig"},
                            {"steps.vented_gauge_step", 0.1, "inWC"},
                            {"squeeze.let_by", 10.0, "scfh"}},
                           &base);
}

const Step* with_watch(const StepList& list, StepKind kind) {
  const auto found = std::ranges::find_if(
      list.steps, [&](const Step& step) { return step.kind == kind && step.watch.has_value(); });
  return found == list.steps.end() ? nullptr : &*found;
}

TEST(StepWatch, InAnEmergencyThePartIsAskedWhetherItIsFed) {
  const Asked asked(street(), with_divisions(), *wire::built_in_order(Kind::emergency),
                    Kind::emergency);
  const ShutoffPlan& plan = asked.answer.plans.front();
  const Step* hold = with_watch(plan.steps, StepKind::hold_watch);
  ASSERT_NE(hold, nullptr);
  const StepWatch& watch = *hold->watch;
  EXPECT_EQ(watch.asks, linepack::Asks::fed_elsewhere);
  EXPECT_EQ(watch.volume, plan.isolated.volume);
  ASSERT_TRUE(watch.least && watch.pressure);
  // Two steps of 0.5 psi out of the part's volume at the low draw (an ideal gas; Z makes it a
  // little faster).
  const auto& net = asked.town.network;
  const double base = net.base_pressure.si() / net.base_temperature.si(),
               ground = asked.model.conditions().ground.si();
  const double by_hand = 2 * 0.5 * psi * watch.volume.si() / (base * ground) / watch.draw.low.si();
  EXPECT_NEAR(watch.least->si(), by_hand, 0.05 * by_hand);
  EXPECT_LT(watch.draw.low, watch.draw.high);
  EXPECT_TRUE(watch.left) << "how long its gas lasts, at the high draw";
  EXPECT_NE(watch.says.find("fed from elsewhere"), std::string::npos);
  EXPECT_FALSE(watch.not_concluded.empty());
}

TEST(StepWatch, LetByIsWatchedOnTheVentedPart) {
  const Asked asked(street(), with_divisions(), *wire::built_in_order(Kind::planned));
  const StepList& list = asked.answer.plans.front().steps;
  const Step* let_by = with_watch(list, StepKind::let_by_watch);
  ASSERT_NE(let_by, nullptr);
  EXPECT_EQ(let_by->watch->asks, linepack::Asks::shut_off_tight);
  EXPECT_EQ(let_by->watch->pressure, GaugePressure());
  EXPECT_TRUE(let_by->watch->least);
  // Meters are shut before: nothing draws, and a steady gauge at line pressure says nothing.
  EXPECT_EQ(with_watch(list, StepKind::hold_watch), nullptr);
}

TEST(StepWatch, AGaugeWhoseDivisionIsNotSetNamesNoTime) {
  const Asked asked;
  const StepList& list = asked.answer.plans.front().steps;
  const Step* let_by = with_watch(list, StepKind::let_by_watch);
  ASSERT_NE(let_by, nullptr);
  EXPECT_FALSE(let_by->watch->least);
  EXPECT_TRUE(std::ranges::any_of(list.findings, [](const Finding& finding) {
    return finding.rule == "steps.vented_gauge_step" && finding.grade == Grade::undecided;
  }));
}

}  // namespace
}  // namespace bellhole::plan
