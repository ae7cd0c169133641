#include "plan/repressurise.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/unit/plan/small_town.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using test::psi;
using test::scfh;
using test::Town;

Length m(double metres) { return Length::from_si(metres); }

/// gate --- main (1,000 m) --- end, shut at A 400 m and B 600 m; customers on both sides, one in
/// the part with an excess-flow valve. A second gate at `end`.
struct Street {
  Town town;
  Index main;
  Part part;
  procedure::ProfileDraft draft{.id = "test", .title = "test"};

  Street() {
    const Index gate = town.node("gate", 0, 0), end = town.node("end", 1000, 0);
    main = town.main("M", gate, end);
    town.source("GATE", gate);
    town.source("EAST", end, 54.0);
    town.customer("near", main, 390.0, 500.0);
    town.customer("inside", main, 500.0);
    town.customer("far", main, 700.0, 500.0);
    town.network.customers.excess_flow_valve[1] = network::Ternary::yes;
    part.ends = {{"A", ShutKind::squeeze, network::none, main, m(400.0)},
                 {"B", ShutKind::squeeze, network::none, main, m(600.0)}};
    part.work = {{main, m(500.0), m(500.0)}};
    part.out = {1};
    part.opening = {0, 1};
    row("squeeze.opening_speed", 0.5, "in/min");
    row("squeeze.opening_step", 0.5, "in");
    row("squeeze.opening_pause", 1.0, "min");
  }
  void row(const char* rule, double value, const char* unit) {
    procedure::RowDraft one;
    one.rule = rule;
    one.value = value;
    one.unit = unit;
    one.grade = Grade::halt;
    one.source = "test";
    one.evidence = Evidence::company;
    draft.rows.push_back(one);
  }
  void valves(double trip_scfh) {
    row("repressurise.valve_trip", trip_scfh, "scfh");
    row("repressurise.service_length", 100.0, "ft");
    row("repressurise.service_bore", 0.5, "in");
  }
  [[nodiscard]] Refill ask() const {
    const network::Model model = test::model_of(town);
    const auto profile = *procedure::compose(draft, nullptr);
    Unwatched watch;
    return *repressurise({.model = model,
                          .profile = profile,
                          .conditions = {.air = Temperature::from_si(273.15)},
                          .part = part},
                         watch);
  }
};

bool has(const Refill& refill, std::string_view rule, Grade grade) {
  return std::ranges::any_of(refill.findings, [&](const Finding& finding) {
    return finding.rule == rule && finding.grade == grade;
  });
}

TEST(Repressurise, TheRiseThatTheValvesStandIsByHand) {
  Street street;
  street.valves(400.0);
  const Refill refill = street.ask();
  // 100 ft of 1/2 in: 0.1364 ft3. 400 scfh into it at 14.73 psia, 283 K against 288.7 K:
  // 400 / 0.1364 x 14.73 x 0.9803 = 42,360 psi an hour.
  EXPECT_NEAR(refill.rise_most->si() * 3600 / psi, 42360.0, 100.0);
  EXPECT_LE(refill.rise, *refill.rise_most);
  EXPECT_FALSE(has(refill, "repressurise.rise", Grade::halt));
}

TEST(Repressurise, FillsFirstThenOpensOnLikeGauges) {
  Street street;
  street.valves(2.0);
  const Refill refill = street.ask();
  ASSERT_EQ(refill.steps.size(), 3u);
  EXPECT_TRUE(refill.steps[0].fills);
  ASSERT_TRUE(refill.steps[0].throttle);
  EXPECT_LT(*refill.steps[0].throttle, 0.05);
  for (const RefillStep& step : refill.steps) {
    if (step.fills) continue;
    const RefillReading& live = step.readings[2 * step.end];
    const RefillReading& inside = step.readings[2 * step.end + 1];
    EXPECT_NEAR(live.ends.si(), inside.ends.si(), 0.02 * live.ends.si());
  }
  // The fill ends at line pressure, from nothing.
  EXPECT_LT(refill.steps[0].readings[1].lowest.si(), 1.0 * psi);
  EXPECT_GT(refill.steps[0].readings[1].ends.si(), 50.0 * psi);
  EXPECT_LE(refill.rise.si(), refill.rise_most->si() * (1 + 1e-6));
}

TEST(Repressurise, GaugesThatStandStillApartAreWaitedForNoLonger) {
  Street street;
  // Behind B stands no more than 30 psig: no filling from A brings its gauges
  // nearer.
  street.town.network.sources.pressure[1] = GaugePressure::from_si(30.0 * psi);
  street.valves(400.0);
  const Refill refill = street.ask();
  EXPECT_TRUE(has(refill, "repressurise.apart_most", Grade::undecided)) << "no limit is set";
  ASSERT_EQ(refill.steps.size(), 3u);
  const RefillStep& opened = refill.steps[1];
  EXPECT_LT((opened.done - opened.begins).si(), 3600.0) << "not as long as one may look";
  const auto& readings = opened.readings;
  EXPECT_NEAR((readings[2].ends.si() - readings[3].ends.si()) / psi, 30.0 - 55.0, 2.0);
  street.row("repressurise.apart_most", 20.0, "psi");
  EXPECT_TRUE(has(street.ask(), "repressurise.apart_most", Grade::halt));
  street.draft.rows.pop_back();
  street.row("repressurise.apart_most", 30.0, "psi");
  const Refill kept = street.ask();
  EXPECT_TRUE(std::ranges::none_of(kept.findings, [](const Finding& finding) {
    return finding.rule == "repressurise.apart_most";
  }));
}

TEST(Repressurise, APartWithoutACustomerIsFilledToo) {
  Street street;
  street.part.ends[0].station = m(510.0);  // between "inside" at 500 m and "far"
  street.part.work = {{street.main, m(550.0), m(550.0)}};
  street.part.out.clear();
  street.valves(400.0);
  const Refill refill = street.ask();
  ASSERT_TRUE(refill.steps[0].fills);
  EXPECT_LT(refill.steps[0].readings[1].lowest.si(), 1.0 * psi) << "it begins empty";
  EXPECT_GT(refill.steps[0].readings[1].ends.si(), 50.0 * psi);
}

/// What the gauges of an end read over a step: live side, side of the part.
std::pair<RefillReading, RefillReading> gauges(const RefillStep& step, std::size_t end) {
  return {step.readings[2 * end], step.readings[2 * end + 1]};
}

TEST(Repressurise, EachOfSeveralPartsIsFilledThroughItsOwnThrottle) {
  Street street;  // a second length of work, 1,200 to 1,300 m from the gate, beyond a third gate
  const Index end = 1, last = street.town.node("last", 1500, 0);
  const Index other = street.town.main("N", end, last);
  street.town.source("LAST", last);
  street.part.ends.push_back({"C", ShutKind::squeeze, network::none, other, m(200.0)});
  street.part.ends.push_back({"D", ShutKind::squeeze, network::none, other, m(300.0)});
  street.part.work.push_back({other, m(250.0), m(250.0)});
  street.part.opening = {0, 1, 2, 3};
  street.valves(2.0);
  const Refill refill = street.ask();
  ASSERT_EQ(refill.steps.size(), 6u);
  std::string order;
  for (const RefillStep& step : refill.steps)
    order += street.part.ends[step.end].letter + (step.fills ? "+" : " ");
  EXPECT_EQ(order, "A+A B C+C D ");
  const RefillStep& second = refill.steps[3];
  ASSERT_TRUE(second.throttle);
  // As much less goes in as the part is shorter: 100 m of 200.
  EXPECT_NEAR(*second.flow_most / *refill.steps[0].flow_most, 0.5, 1e-6);
  EXPECT_EQ(second.begins, refill.steps[2].done);
  const auto [live, inside] = gauges(second, 2);
  EXPECT_GT(live.lowest.si(), 50.0 * psi);
  EXPECT_LT(inside.lowest.si(), 1.0 * psi) << "it begins empty";
  EXPECT_NEAR(inside.ends.si(), live.ends.si(), 0.01 * live.ends.si());
  EXPECT_LE(refill.rise.si(), refill.rise_most->si() * (1 + 1e-6));
  EXPECT_EQ(std::ranges::count(refill.findings, "repressurise.throttle", &Finding::rule), 2);
}

TEST(Repressurise, APartBehindAPartWaitsForGasAndIsThrottledToo) {
  Street street;  // C at 800 m: between B and C nobody works, but no gas comes in either
  street.part.ends.push_back({"C", ShutKind::squeeze, network::none, street.main, m(800.0)});
  street.part.work.push_back({street.main, m(700.0), m(700.0)});
  street.part.out = {1, 2};
  street.part.opening = {0, 1, 2};
  street.valves(2.0);
  const Refill refill = street.ask();
  std::string order;
  for (const RefillStep& step : refill.steps)
    order += street.part.ends[step.end].letter + (step.fills ? "+" : " ");
  EXPECT_EQ(order, "A+A B+B C ");
  const auto [live, inside] = gauges(refill.steps[2], 1);
  EXPECT_GT(live.lowest.si(), 45.0 * psi) << "fed through A";
  EXPECT_LT(inside.lowest.si(), 1.0 * psi);
  // From C's far side first nothing comes from A: the part between B and C fills from there.
  street.part.opening = {2, 0, 1};
  EXPECT_EQ(street.ask().steps.size(), 5u);
  street.part.opening = {1, 0, 2};  // B parts two lengths without gas: nothing to be throttled
  order.clear();
  for (const RefillStep& step : street.ask().steps)
    order += street.part.ends[step.end].letter + (step.fills ? "+" : " ");
  EXPECT_EQ(order, "B A+A C ");
}

TEST(Repressurise, TheFillTakesAsLongAsTheGasNeeds) {
  Street street;
  street.valves(2.0);
  const Refill refill = street.ask();
  // 200 m of 3.633 in hold 1.337 m3; to 55 psig that is 1.337 x 55 / 14.73 x 288.7 / 283 =
  // 5.09 std m3 at no more than flow_most: it takes at least so long.
  const double least = 5.09 / refill.steps[0].flow_most->si();
  EXPECT_GT(refill.steps[0].done.si(), 0.95 * least);
  EXPECT_LT(refill.steps[0].done.si(), 3.0 * least);
}

TEST(Repressurise, WithoutALimitItIsUndecidedAndNothingIsThrottled) {
  const Refill refill = Street().ask();
  EXPECT_FALSE(refill.rise_most);
  EXPECT_EQ(refill.steps.size(), 2u);
  EXPECT_TRUE(std::ranges::none_of(refill.steps, &RefillStep::fills));
  EXPECT_TRUE(has(refill, "repressurise.valve_trip", Grade::undecided));
}

TEST(Repressurise, ValvesAreListedAndUnknownOnesAreSaid) {
  Street street;
  const Refill yes = street.ask();
  EXPECT_EQ(yes.valves, std::vector<Index>{1});
  street.town.network.customers.excess_flow_valve[1] = network::Ternary::unknown;
  const Refill unknown = street.ask();
  EXPECT_TRUE(unknown.valves.empty());
  EXPECT_TRUE(has(unknown, "repressurise.valve_not_known", Grade::undecided));
}

TEST(Repressurise, WhoFallsShortMeanwhileIsNamed) {
  Street street;
  street.town.network.pipes.bore[0] = m(0.02);
  street.town.network.tiers.least = {GaugePressure::from_si(52.5 * psi)};
  for (auto& base : street.town.network.customers.base) base = StdFlow::from_si(20.0 * scfh);
  const Refill refill = street.ask();
  EXPECT_TRUE(has(refill, "repressurise.short", Grade::halt));
  EXPECT_FALSE(refill.short_of_gas.empty());
  EXPECT_EQ(std::ranges::count(refill.short_of_gas, 1), 0) << "the part's own meter is shut";
}

TEST(Repressurise, ASqueezeIsAPoorThrottle) {
  Street street;
  EXPECT_TRUE(has(street.ask(), "repressurise.throttle", Grade::warn));
  street.part.ends[0].rider = true;
  EXPECT_FALSE(has(street.ask(), "repressurise.throttle", Grade::warn));
}

TEST(Repressurise, APaceThatNobodySetIsTakenAsAtOnce) {
  Street street;
  street.draft.rows.clear();
  EXPECT_TRUE(has(street.ask(), "repressurise.pace", Grade::undecided));
}

}  // namespace
}  // namespace bellhole::plan
