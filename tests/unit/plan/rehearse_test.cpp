// Plans rehearsed on networks that are small enough to reckon by hand.
#include "plan/rehearse.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "tests/support/town.hpp"

namespace bellhole::plan {
namespace {

using namespace support;
using network::Index;

constexpr double minute = 60.0, hour = 3600.0;
const network::Conditions conditions{.gas = *gas::from_gravity(0.6),
                                     .ground = Temperature::from_si(288.70555555555556)};

Duration s(double seconds) { return Duration::from_si(seconds); }

/// 1,000 ft of 3.682 in from S at 45 psig to B; a valve next to S; 2,000 cfh drawn at B.
Town dead_end() {
  Town town;
  const Index tier = town.tier("street", 60 * psi, 10 * psi);
  const Index a = town.node("A", tier), b = town.node("B", tier);
  const Index main = town.pipe("A-B", a, b, 1000 * foot, 3.682 * inch);
  town.source("S", a, 45 * psi);
  town.valve("V", main, 0.5);
  town.customer("C", main, 1000 * foot, 2000 * cubic_foot_per_hour);
  town.net.shapes.low = town.net.shapes.high = {1.0};
  return town;
}

Step step(std::string id, StepKind kind, std::string about = {}) {
  Step made;
  made.id = std::move(id);
  made.kind = kind;
  made.about = std::move(about);
  return made;
}

GaugePoint at_node(std::string id, Index node, PointKind kind) {
  GaugePoint point;
  point.id = std::move(id);
  point.at = point.id;
  point.kind = kind;
  point.node = node;
  return point;
}

/// Shuts V, vents, cuts, joins, opens V.
Script shut_the_valve() {
  Script script;
  ScriptShutoff valve;
  valve.letter = "A";
  valve.place.kind = ShutKind::valve;
  valve.place.element = 0;
  valve.place.time_s = 10 * minute;
  script.shutoffs = {valve};
  script.points = {at_node("A-live", 0, PointKind::live_side),
                   at_node("A-part", 1, PointKind::part_side)};
  script.steps = {step("brief", StepKind::report),      step("shut-A", StepKind::shut, "A"),
                  step("hold-A", StepKind::hold_watch), step("vent", StepKind::vent_down),
                  step("join", StepKind::join),         step("open-A", StepKind::open, "A"),
                  step("settle", StepKind::hold_watch)};
  script.steps[1].undo = s(2 * minute);
  return script;
}

procedure::Profile no_rows() { return *procedure::compose({"test", "test", {}}, nullptr); }

const Takes all_said{{"report", s(5 * minute)}, {"shut", s(30.0)},     {"hold_watch", s(minute)},
                     {"vent_down", s(minute)},  {"join", s(2 * hour)}, {"open", s(30.0)}};

struct Played {
  Town town = dead_end();
  Script script = shut_the_valve();
  procedure::Profile profile = no_rows();
  Takes takes = all_said;
  std::vector<network::Weather> weather;
  std::optional<Blows> blows;

  Rehearsal go() const {
    const auto model = network::Model::prepare(town.net, conditions);
    EXPECT_TRUE(model);
    network::Scenario begins;
    begins.air = Temperature::from_si(278.15);
    begins.hour = 8.0;
    Unwatched watch;
    auto made = rehearse({.model = *model,
                          .profile = profile,
                          .script = script,
                          .begins = begins,
                          .weather = weather,
                          .takes = takes,
                          .looks_ahead = s(6 * hour),
                          .blows = blows},
                         watch);
    EXPECT_TRUE(made) << made.error().where << " " << made.error().value;
    return *made;
  }
};

std::size_t samples_at(const Rehearsal& made, double seconds) {
  return static_cast<std::size_t>(std::ranges::lower_bound(made.times, s(seconds)) -
                                  made.times.begin());
}

std::size_t count(const Rehearsal& made, std::string_view rule, Grade grade) {
  return static_cast<std::size_t>(std::ranges::count_if(
      made.findings, [&](const Finding& f) { return f.rule == rule && f.grade == grade; }));
}

// The clock.

TEST(Clock, StepsFollowOneAnotherAndAClosingWaitsUntilItsCrewIsReady) {
  const Clock clock = clock_of(shut_the_valve(), no_rows(), all_said);
  EXPECT_EQ(clock.steps[0].ends.si(), 5 * minute);
  // Ready and shut 10 minutes after the order.
  EXPECT_EQ(clock.steps[1].begins.si(), 10 * minute - 30.0);
  EXPECT_EQ(clock.steps[1].ends.si(), 10 * minute);
  EXPECT_EQ(clock.steps[5].begins.si(), 12 * minute + 2 * hour);
  EXPECT_TRUE(clock.without_time.empty());
  EXPECT_EQ(clock.closing, std::vector<std::size_t>{1});
  EXPECT_EQ(clock.opening, std::vector<std::size_t>{5});
}

TEST(Clock, StepsWithoutATimeCountAsNothingAndAreNamed) {
  Script script = shut_the_valve();
  script.shutoffs[0].place.time_s = std::nan("");
  const Clock clock = clock_of(script, no_rows(), {{"join", s(hour)}});
  // The closing and the opening are among them; the briefing before the first closing is not.
  EXPECT_EQ(clock.without_time, (std::vector<std::size_t>{1, 2, 3}));
  EXPECT_EQ(clock.not_ready, std::vector<std::size_t>{1});
  EXPECT_FALSE(clock.steps[0].known);
  EXPECT_GT(clock.steps[1].ends, clock.steps[1].begins) << "nothing moves in no time";
}

TEST(Clock, CrewsShareTheShutOffs) {
  Script script = shut_the_valve();
  ScriptShutoff second = script.shutoffs[0];
  second.letter = "B";
  script.shutoffs.push_back(second);
  script.steps.insert(script.steps.begin() + 2, step("shut-B", StepKind::shut, "B"));
  const auto shut_b = [&](std::int64_t crews) {
    script.crews = crews;
    return clock_of(script, no_rows(), all_said).steps[2].ends.si();
  };
  EXPECT_EQ(shut_b(1), 20 * minute);
  EXPECT_EQ(shut_b(2), 10 * minute + 30.0);
}

TEST(Clock, AWatchLongerThanTheStepIsWatchedToItsEnd) {
  Script script = shut_the_valve();
  script.steps[2].watch.emplace().least = s(40 * minute);
  Takes takes = all_said;
  takes.erase("hold_watch");
  const Clock clock = clock_of(script, no_rows(), takes);
  EXPECT_EQ((clock.steps[2].ends - clock.steps[2].begins).si(), 40 * minute);
}

TEST(Clock, SpeaksOfTheNextDay) {
  EXPECT_EQ(clock_words(s(90 * minute), 23.5), "01:00 +1 d");
  EXPECT_EQ(clock_words(s(0.0), 7.5), "07:30");
}

// Movements.

TEST(Movements, ASqueezeIsShutWhenTheThickestWallsMeet) {
  // 4.500 in to 0.500 in at 2 in/min with a wait of a minute half way; walls of 0.5 in.
  const double speed = 2 * inch / minute;
  const std::vector<squeeze::Stretch> pace{
      {Length::from_si(4.5 * inch), Length::from_si(2.5 * inch), s(0.0), s(2 * inch / speed),
       s(minute)},
      {Length::from_si(2.5 * inch), Length::from_si(0.5 * inch), s(2 * minute),
       s(2 * minute + 2 * inch / speed), s(0.0)}};
  const auto travel = travel_of(pace, Length::from_si(4.5 * inch), Length::from_si(0.5 * inch));
  ASSERT_EQ(travel.size(), 5U);
  EXPECT_EQ(travel.front().clear, 1.0);
  EXPECT_NEAR(travel[1].at.si(), minute, 1e-9);
  EXPECT_NEAR(travel[1].clear, 1.5 / 3.5, 1e-12);
  EXPECT_EQ(travel[2].clear, travel[1].clear) << "it waits";
  // 1.5 in further the walls meet, at 1.000 in.
  EXPECT_NEAR(travel[3].at.si(), 2 * minute + 0.75 * minute, 1e-6);
  EXPECT_EQ(travel[3].clear, 0.0);
  EXPECT_EQ(travel[4].clear, 0.0);
}

TEST(Movements, AValveIsShutAndOpenedAgainInItsSteps) {
  const Script script = shut_the_valve();
  const Clock clock = clock_of(script, no_rows(), all_said);
  const auto made = movements(script, clock, 1, true);
  ASSERT_EQ(made.movers.size(), 1U);
  const auto& travel = made.movers[0].travel;
  ASSERT_EQ(travel.size(), 4U);
  EXPECT_EQ(travel[0].at, clock.steps[1].begins);
  EXPECT_EQ(travel[1].at, clock.steps[1].ends);
  EXPECT_EQ(travel[1].clear, 0.0);
  EXPECT_EQ(travel[3].at, clock.steps[5].ends);
  EXPECT_EQ(travel[3].clear, 1.0);
  EXPECT_EQ(movements(script, clock, 1, false).movers[0].travel.size(), 2U);
  EXPECT_TRUE(movements(script, clock, 0, true).movers.empty());
}

// The rehearsal.

TEST(Rehearsal, WhoIsToStayOnFallsShortWhenTheLinePackIsGone) {
  // 1,000 ft of 3.682 in from 45 to 10 psig at 2,000 cfh: 5.27 minutes of an ideal gas, 5.33 of a
  // real one (docs/theory/time.md).
  const Rehearsal made = Played().go();
  ASSERT_FALSE(made.wrong.empty());
  const Wrong& first = made.wrong.front();
  EXPECT_EQ(first.kind, WrongKind::customer_short);
  EXPECT_EQ(first.customer, 0);
  const double shut = made.clock.steps[1].ends.si();
  EXPECT_NEAR(first.at.si() - shut, 5.33 * minute, 0.03 * 5.33 * minute);
  EXPECT_EQ(first.step, std::optional<std::size_t>(4)) << "in the step join";
  EXPECT_EQ(count(made, "rehearse.short", Grade::halt), 1U);
}

TEST(Rehearsal, WhoHasNoGasAnywayIsNotWatched) {
  Played played;
  Town& town = played.town;
  const Index far = town.node("F", 0), end = town.node("E", 0);
  const Index apart = town.pipe("apart", far, end, 1000 * foot, 3.682 * inch);
  town.customer("D", apart, 500 * foot, 100 * cubic_foot_per_hour);
  played.takes.at("report") = s(0.0);  // the valve turns at once, at the very beginning
  const Rehearsal made = played.go();
  EXPECT_TRUE(std::ranges::none_of(made.wrong, [](const Wrong& wrong) {
    return wrong.kind == WrongKind::customer_short && wrong.customer == 1;
  }));
  ASSERT_TRUE(made.ways.front().short_at);
  EXPECT_EQ(made.ways.front().customer, 0);
}

TEST(Rehearsal, NothingGoesWrongForWhomThePlanPutsOut) {
  Played played;
  played.script.out = {0};
  played.script.steps.insert(played.script.steps.begin() + 1,
                             step("meters", StepKind::meters_shut));
  const Rehearsal made = played.go();
  EXPECT_TRUE(made.wrong.empty());
  EXPECT_EQ(made.out_as_planned, 0U) << "the meter is shut before the gas goes";
  EXPECT_FALSE(made.ways.front().short_at);
  EXPECT_EQ(count(made, "rehearse.out", Grade::info), 1U);
}

TEST(Rehearsal, AClosingCanBeUndoneAslongAsTheGasLasts) {
  Played played;
  const Rehearsal made = played.go();
  ASSERT_EQ(made.ways.size(), 1U);
  const WayBackOnClock& way = made.ways.front();
  ASSERT_TRUE(way.short_at && way.latest);
  EXPECT_NEAR((*way.short_at - way.shut).si(), 5.33 * minute, 0.03 * 5.33 * minute);
  EXPECT_NEAR((*way.short_at - *way.latest).si(), 2 * minute, 1e-9);
  EXPECT_FALSE(way.no_return);
  EXPECT_EQ(count(made, "rehearse.no_return", Grade::info), 1U);

  played.script.steps[1].undo = s(6 * minute);
  const Rehearsal late = played.go();
  EXPECT_TRUE(late.ways.front().no_return);
  EXPECT_EQ(count(late, "rehearse.no_return", Grade::warn), 1U);

  played.script.steps[1].undo.reset();
  const Rehearsal unknown_undo = played.go();
  EXPECT_FALSE(unknown_undo.ways.front().latest);
  EXPECT_EQ(count(unknown_undo, "rehearse.no_return", Grade::undecided), 1U);
}

TEST(Rehearsal, LowPressureIsOutAtOnce) {
  Played played;
  procedure::RowDraft row;
  row.rule = "linepack.low_pressure";
  row.value = 14.0;
  row.unit = "inWC";
  row.source = "invented for a test";
  played.profile = *procedure::compose({"test", "test", {row}}, nullptr);
  played.town.net.tiers.least = {GaugePressure::from_si(4 * inch_of_water)};
  played.town.net.sources.pressure = {GaugePressure::from_si(7 * inch_of_water)};
  const Rehearsal made = played.go();
  ASSERT_FALSE(made.wrong.empty());
  EXPECT_TRUE(made.wrong.front().at_once);
  EXPECT_EQ(made.wrong.front().at, made.clock.steps[1].begins);
}

TEST(Rehearsal, ThePartIsNotReadWhileItIsVented) {
  const Rehearsal made = Played().go();
  const Series& live = made.series[0];
  const Series& part = made.series[1];
  for (std::size_t t = 0; t < made.times.size(); ++t) {
    const bool vented =
        made.times[t] >= made.clock.steps[3].begins && made.times[t] < made.clock.steps[5].ends;
    EXPECT_EQ(std::isnan(part.expected[t]), vented) << made.times[t].si();
    EXPECT_FALSE(std::isnan(live.expected[t]));
  }
}

/// A hole of 5 mm in the middle of the main, with a coefficient from 0.62 to 1.
Played with_a_hole() {
  Played played;
  played.script.out = {0};
  played.script.work = network::Closure{0, Length::from_si(500 * foot)};
  const Area area = Area::from_si(std::numbers::pi / 4.0 * 5e-3 * 5e-3);
  played.blows = Blows{{area, 0.62}, {area, 1.0}};
  return played;
}

TEST(Rehearsal, WhatBlowsIsCountedUntilTheMainIsShutAndEmpty) {
  const Rehearsal made = with_a_hole().go();
  ASSERT_TRUE(made.lost);
  const Lost& lost = *made.lost;
  ASSERT_EQ(lost.most.size(), made.times.size());
  EXPECT_EQ(made.times[lost.all_shut], made.clock.steps[1].ends);
  // Choked at 45 psig and 60 degF with k = 1.3 (API 520 Part I, from memory): A p sqrt(k / (R T))
  // (2 / (k + 1))^((k + 1) / (2 (k - 1))) = 0.01452 kg/s for ten minutes, less what is lost along
  // 500 ft on the way.
  EXPECT_NEAR(lost.most[lost.all_shut], 0.01452 * 10 * minute, 0.015 * 8.71);
  EXPECT_NEAR(lost.least[lost.all_shut], 0.62 * lost.most[lost.all_shut], 0.01 * 5.4);
  // Then what 1,000 ft of it hold between 45 psig and the air, and no more: 304.8 m x 6.869e-3 m2
  // at 310.3 kPa over it, R T = 138.1e3 J/kg, a hundredth more for compressibility.
  const double held = 304.8 * 6.869e-3 * 310.3e3 / 138.1e3;
  EXPECT_LE(lost.most.back() - lost.most[lost.all_shut], 1.01 * held);
  EXPECT_GE(lost.most.back() - lost.most[lost.all_shut], 0.4 * held)
      << "the customer draws for some minutes too";
  for (std::size_t t = 1; t < lost.most.size(); ++t) {
    EXPECT_GE(lost.most[t], lost.most[t - 1]);
    EXPECT_LE(lost.least[t], lost.most[t] + 1e-9);
  }
}

TEST(Rehearsal, GaugesAreLowerWhereSomethingBlows) {
  Played played = with_a_hole();
  const Rehearsal with = played.go();
  played.blows.reset();
  const Rehearsal without = played.go();
  EXPECT_FALSE(without.lost);
  const std::size_t before_the_closing = samples_at(with, 5 * minute);
  const double with_hole = with.series[1].high_draw[before_the_closing];
  EXPECT_LT(with_hole, without.series[1].high_draw[before_the_closing] - 50.0);
  EXPECT_LT(with_hole, with.series[1].low_draw[before_the_closing]) << "least coefficient there";
}

TEST(Rehearsal, WhoWasShortBeforeTheFirstClosingIsNotAReasonToGoBack) {
  Played played = with_a_hole();
  played.script.out.clear();
  played.blows = Blows{{std::nullopt, 1.0}, {std::nullopt, 1.0}};  // the main is broken through
  const Rehearsal made = played.go();
  ASSERT_FALSE(made.wrong.empty());
  EXPECT_LT(made.wrong.front().at, made.clock.steps[1].begins);
  EXPECT_FALSE(made.ways.front().short_at);
}

TEST(Rehearsal, AGaugeIsHeldAgainstTheLimitsOfItsStep) {
  Played played;
  played.script.out = {0};
  Gauge gauge;
  gauge.point = "A-live";
  gauge.low = GaugePressure::from_si(40 * psi);
  gauge.high = GaugePressure::from_si(44 * psi);
  played.script.steps[4].gauges = {gauge};
  const Rehearsal made = played.go();
  ASSERT_EQ(made.wrong.size(), 1U);
  EXPECT_EQ(made.wrong.front().kind, WrongKind::gauge_high);
  EXPECT_EQ(made.wrong.front().step, std::optional<std::size_t>(4));
  EXPECT_NEAR(made.wrong.front().pressure.si(), 45 * psi, 0.01 * psi);
  ASSERT_EQ(made.expected[4].size(), 1U);
  EXPECT_NEAR(made.expected[4][0].at_end.si(), 45 * psi, 0.01 * psi);
  EXPECT_LE(made.expected[4][0].least, made.expected[4][0].most);
}

TEST(Rehearsal, AColderAfternoonIsFelt) {
  Played played;
  // Behind a long thin main a colder house is short of pressure long before noon.
  played.script.steps.erase(played.script.steps.begin() + 1, played.script.steps.begin() + 4);
  played.script.steps.erase(played.script.steps.begin() + 2);
  played.town.net.pipes.bore = {Length::from_si(1.0 * inch)};
  played.town.net.customers.base = {StdFlow::from_si(100 * cubic_foot_per_hour)};
  played.town.net.customers.per_k = {200 * cubic_foot_per_hour};
  played.town.net.shapes.reference = {Temperature::from_si(278.15)};
  EXPECT_TRUE(played.go().wrong.empty());
  played.weather = {{s(hour), Temperature::from_si(243.15)}};
  const Rehearsal colder = played.go();
  ASSERT_FALSE(colder.wrong.empty());
  EXPECT_GE(colder.wrong.front().at.si(), hour);
}

// Fewer samples.

RC_GTEST_PROP(Thinned, KeepsEveryTurnWithinItsBound, ()) {
  const auto steps = *rc::gen::container<std::vector<int>>(400, rc::gen::inRange(-50, 50));
  std::vector<Duration> times;
  std::vector<double> curve;
  double height = 0.0;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    times.push_back(s(static_cast<double>(i)));
    height += 0.01 * steps[i];
    curve.push_back(height);
  }
  const double within = 0.3;
  const auto kept = thinned(times, {&curve}, within);
  RC_ASSERT(kept.front() == 0U && kept.back() == curve.size() - 1);
  const auto has = [&](auto at) {  // of two that the last bits part, the first is kept
    return std::ranges::any_of(
        kept, [&](std::size_t i) { return std::abs(curve[i] - *at) <= 0.01 * within; });
  };
  RC_ASSERT(has(std::ranges::max_element(curve)));
  RC_ASSERT(has(std::ranges::min_element(curve)));
  for (std::size_t k = 1; k < kept.size(); ++k) {
    for (std::size_t i = kept[k - 1]; i < kept[k]; ++i) {
      const double share =
          static_cast<double>(i - kept[k - 1]) / static_cast<double>(kept[k] - kept[k - 1]);
      const double line = curve[kept[k - 1]] + share * (curve[kept[k]] - curve[kept[k - 1]]);
      RC_ASSERT(std::abs(line - curve[i]) <= within + 1e-12);
    }
  }
}

}  // namespace
}  // namespace bellhole::plan
