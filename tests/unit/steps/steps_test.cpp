// The steps that an order and a plan make: what stands in them, and where their numbers come from.
#include "plan/steps.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <set>

#include "tests/unit/steps/a_plan.hpp"

namespace bellhole::plan {
namespace {

using test::Asked;
using test::has_rule;
using test::psi;

const Step& step_of(const Asked& asked, const std::string& id) {
  for (const Step& s : asked.plan().steps.steps)
    if (s.id == id) return s;
  throw std::runtime_error("no step " + id);
}

const Gauge& gauge_of(const Step& step, const std::string& point) {
  for (const Gauge& g : step.gauges)
    if (g.point == point) return g;
  throw std::runtime_error("no gauge " + point);
}

TEST(Steps, EveryStepOfTheListIsThere) {
  const Asked asked(Kind::planned, true);
  std::set<StepKind> kinds;
  for (const Step& s : asked.plan().steps.steps) kinds.insert(s.kind);
  for (const StepKind kind :
       {StepKind::identify,       StepKind::readings,      StepKind::gauges_on,
        StepKind::bypass_made,    StepKind::bypass_tested, StepKind::bypass_purged,
        StepKind::bypass_flowing, StepKind::post,          StepKind::ground_wet,
        StepKind::shut,           StepKind::locks_on,      StepKind::hold_watch,
        StepKind::vent_down,      StepKind::let_by_watch,  StepKind::cut,
        StepKind::join,           StepKind::test,          StepKind::tie_in,
        StepKind::purge,          StepKind::soap,          StepKind::equalise,
        StepKind::open,           StepKind::bypass_off,    StepKind::reround,
        StepKind::look,           StepKind::mark,          StepKind::reinforce,
        StepKind::tracer,         StepKind::as_laid,       StepKind::tool_care})
    EXPECT_TRUE(kinds.contains(kind)) << to_string(kind);
}

TEST(Steps, TheStationBesideTheStreetHasAPersonAndTwoGauges) {
  const Asked asked;
  const StepList& list = asked.plan().steps;
  const auto post = std::ranges::find(list.posts, "R", &Post::element);
  ASSERT_NE(post, list.posts.end());
  EXPECT_EQ(post->kind, PostKind::regulator);
  const Gauge& outlet = gauge_of(step_of(asked, "shut-A"), "R-out");
  EXPECT_NEAR(outlet.expect->si(), 30 * psi, 100.0);
  EXPECT_NEAR(outlet.low->si(), 10 * psi, 1e-6);
  EXPECT_NEAR(outlet.high->si(), 40 * psi, 1e-6);
  EXPECT_EQ(outlet.post, post->id);
}

TEST(Steps, LimitsAreTheTiersAndNoughtWhereThePartIsToEmpty) {
  const Asked asked;
  const Gauge& before = gauge_of(step_of(asked, "gauges"), "A-part");
  EXPECT_NEAR(before.low->si(), 20 * psi, 1e-6);
  const Gauge& held = gauge_of(step_of(asked, "hold-B"), "A-part");
  EXPECT_EQ(held.low->si(), 0.0);
  EXPECT_NEAR(held.high->si(), 60 * psi, 1e-6);
  EXPECT_FALSE(held.expect.has_value());  // shut in: nobody knows how fast it leaks away
  const Gauge& vented = gauge_of(step_of(asked, "let-by"), "A-part");
  EXPECT_EQ(vented.expect->si(), 0.0);
  EXPECT_NEAR(vented.high->si(), 2 * 249.08891, 0.1);  // 2 inWC, the profile's
  EXPECT_NEAR(vented.range->si(), 30 * 249.08891, 1.0);
  const Gauge& soaped = gauge_of(step_of(asked, "soap"), "A-part");
  EXPECT_GT(soaped.expect->si(), 45 * psi);
  EXPECT_NEAR(soaped.low->si(), 20 * psi, 1e-6);
}

TEST(Steps, ALimitThatNobodySetIsUndecidedAndNeverFilledIn) {
  test::Town town = test::street();
  town.network.tiers.maop[0] = GaugePressure::from_si(std::nan(""));
  const Asked asked(std::move(town), test::with_gauges(), *wire::built_in_order(Kind::planned));
  EXPECT_FALSE(gauge_of(step_of(asked, "gauges"), "A-live").high.has_value());
  const auto& findings = asked.plan().findings;
  const auto found = std::ranges::find(findings, "steps.gauge_limits", &Finding::rule);
  ASSERT_NE(found, findings.end());
  EXPECT_EQ(found->grade, Grade::undecided);
  EXPECT_NE(found->says.find("no limit set for the highest reading: decide"), std::string::npos);
  EXPECT_TRUE(has_rule(check_steps(asked.checked()), "steps.gauge_limits"));
}

TEST(Steps, RangesAndVentedLimitThatNoProfileSetsAreUndecided) {
  const Asked asked(test::street(), test::round_costs(), *wire::built_in_order(Kind::planned));
  EXPECT_FALSE(gauge_of(step_of(asked, "gauges"), "A-live").range.has_value());
  for (const char* rule : {"steps.gauge_range", "steps.vented_gauge_range", "steps.vented_most"})
    EXPECT_TRUE(has_rule(asked.plan().findings, rule)) << rule;
}

TEST(Steps, ThePartIsPurgedThroughTheShutOffWithMostPressureBehind) {
  const Asked asked(Kind::planned, false);
  const StepList& list = asked.plan().steps;
  // G1 feeds at 55, G2 at 50: the squeeze on the side of G1 comes first. It is the one at the lower
  // station of M2.
  const auto& first = asked.plan().shutoffs[list.opening.front()];
  const auto& other = asked.plan().shutoffs[list.opening.back()];
  EXPECT_LT(first.place.station, other.place.station);
  EXPECT_NE(step_of(asked, "purge").does.find("Open " + first.letter), std::string::npos);
}

TEST(Steps, WhatStillComesAfterTheFirstClosingIsSaid) {
  const Asked asked;
  const StepList& list = asked.plan().steps;
  const std::string first = asked.plan().shutoffs[list.closing.front()].letter;
  const Step& hold = step_of(asked, "hold-" + first);
  ASSERT_TRUE(hold.gas_left.has_value());
  EXPECT_NE(hold.does.find("% of the gas"), std::string::npos) << hold.does;
  EXPECT_FALSE(list.closing_because.empty());
}

TEST(Steps, TheCutCannotBeUndoneAndTwoAcceptIt) {
  const Asked asked;
  const Step& cut = step_of(asked, "cut");
  EXPECT_TRUE(cut.point_of_no_return);
  EXPECT_TRUE(cut.hold_point);
  EXPECT_EQ(cut.names_needed, 2);
  EXPECT_FALSE(cut.undo.has_value());
  EXPECT_EQ(step_of(asked, "gauges").undo->si(), 0.0);
}

TEST(Steps, ABypassIsMadeWhereAskedForAndAgreedAwayWhereNot) {
  const Asked with(Kind::planned, true), without(Kind::planned, false);
  EXPECT_TRUE(with.plan().steps.bypass);
  EXPECT_NO_THROW(step_of(with, "bypass-flowing"));
  EXPECT_NO_THROW(step_of(without, "bypass-none"));
  EXPECT_THROW(step_of(without, "bypass-flowing"), std::runtime_error);
}

TEST(Steps, AnEmergencyOrderMakesNoBypassWhoeverAsks) {
  const Asked asked(Kind::emergency, true);
  EXPECT_FALSE(asked.plan().steps.bypass);
  EXPECT_EQ(asked.plan().steps.steps.front().kind, StepKind::clear_area);
}

TEST(Steps, WithoutAToolItsMakersRowsAreMissingAndItIsSaid) {
  const Asked asked;
  EXPECT_TRUE(has_rule(asked.plan().findings, "steps.tool_rows"));
}

TEST(Steps, RowsOfTheToolsRecordStandAtTheirMoment) {
  Asked asked;
  squeeze::Kit kit;
  squeeze::Tool tool;
  tool.id = "T";
  tool.drive = squeeze::Drive::screw;
  tool.source = "plate";
  tool.instructions = {{squeeze::Stage::before, "look at the screw"},
                       {squeeze::Stage::holding, "pin it"}};
  kit.tools = {tool};
  asked.question.kit = &kit;
  Unwatched watch;
  const auto answer = plan(asked.question, watch);
  ASSERT_TRUE(answer.has_value());
  const auto& steps = answer->plans.front().steps.steps;
  const auto rows_of = [&](const std::string& id) {
    return std::ranges::find(steps, id, &Step::id)->tool_rows;
  };
  ASSERT_EQ(rows_of("tool-A").size(), 1U);
  EXPECT_EQ(rows_of("tool-A").front().says, "look at the screw");
  ASSERT_EQ(rows_of("locks-A").size(), 1U);
  EXPECT_TRUE(rows_of("shut-A").empty());
  // A screw has no hoses.
  EXPECT_EQ(std::ranges::find(steps, "hoses-A", &Step::id), steps.end());
}

TEST(Steps, ACompanysOrderIsCheckedWhereItIsUsed) {
  Order order = *wire::built_in_order(Kind::planned);
  // The company makes its bypass last of all.
  OrderItem flowing;
  for (OrderBlock& block : order.blocks) {
    const auto item = std::ranges::find(block.items, "bypass-flowing", &OrderItem::id);
    if (item == block.items.end()) continue;
    flowing = *item;
    block.items.erase(item);
  }
  order.blocks.push_back({Each::job, {flowing}});
  const Asked asked(test::street(), test::with_gauges(), order, Kind::planned, true);
  const auto& findings = asked.plan().findings;
  const auto found = std::ranges::find(findings, "steps.bypass_first", &Finding::rule);
  ASSERT_NE(found, findings.end());
  EXPECT_EQ(found->grade, Grade::halt);
}

}  // namespace
}  // namespace bellhole::plan
