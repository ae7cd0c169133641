#include "linepack/watch.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <limits>

#include "linepack/words.hpp"
#include "tests/unit/linepack/closed.hpp"

namespace bellhole::linepack {
namespace {

procedure::Profile profile() {
  procedure::ProfileDraft draft{"p", "P", {}};
  draft.rows.push_back({.rule = "linepack.low_pressure",
                        .value = 0.5,
                        .unit = "psig",
                        .grade = Grade::info,
                        .source = "test"});
  return *procedure::compose(std::move(draft), nullptr);
}

/// The capped main of the handbook: 1,738 ft3 at 58 psig, 112.5 to 562.5 scfh.
WatchQuestion capped_main() {
  WatchQuestion question;
  question.closed = closed_ft3(1738);
  question.pressure = psig(58);
  question.draw = Draw{scfh(112.5), scfh(562.5)};
  question.gauge = {psi(2), 1, true, std::nullopt};
  question.drift = {psi(0), std::nullopt, TemperatureDifference(), std::nullopt};
  question.floor = psig(10);
  return question;
}

Watched ask(const WatchQuestion& question) {
  const auto answer = watch(question, profile(), units::System::us);
  EXPECT_TRUE(answer) << answer.error().where << ": " << answer.error().fix;
  return *answer;
}

std::optional<Grade> grade_of(const Watched& watched, std::string_view rule) {
  const auto found = std::ranges::find(watched.findings, rule, &Finding::rule);
  return found == watched.findings.end() ? std::nullopt : std::optional(found->grade);
}

void read(WatchQuestion& question, std::initializer_list<std::pair<double, double>> needle) {
  for (const auto& [minute, pressure] : needle)
    question.readings.push_back({minutes(minute), psig(pressure)});
}

TEST(Watch, TheLowDrawRulesTheWatchAndTheHighDrawTheTimeLeft) {
  const Watched watched = ask(capped_main());
  EXPECT_NEAR(watched.watch->si() / 60.0, 125.86, 0.01);
  EXPECT_NEAR(watched.left->shortest->si() / 3600.0, 10.07, 0.005);
  EXPECT_NEAR(watched.fall->high / watched.fall->low, 5.0, 1e-12);
  EXPECT_EQ(verdict_of(watched.findings), Verdict::nothing_found);
  EXPECT_NE(watched.says.find("is this part fed from elsewhere?"), std::string::npos);
  EXPECT_NE(watched.says.find("2 h 6 min"), std::string::npos) << watched.says;
  EXPECT_NE(watched.says.find("passes your own shut-off"), std::string::npos)
      << "what may not be concluded";
}

TEST(Watch, OneDrawAnswersButIsUndecided) {
  auto question = capped_main();
  question.draw = Draw{scfh(562.5), scfh(562.5)};
  const Watched watched = ask(question);
  EXPECT_NEAR(watched.watch->si() / 60.0, 25.17, 0.01);
  EXPECT_EQ(grade_of(watched, "watch.one_draw"), Grade::undecided);
}

TEST(Watch, NothingDrawnProvesNothing) {
  auto question = capped_main();
  question.draw = Draw{};
  EXPECT_EQ(grade_of(ask(question), "watch.no_draw"), Grade::halt);
  EXPECT_FALSE(ask(question).watch);
  question.draw = Draw{StdFlow(), scfh(500)};
  EXPECT_EQ(grade_of(ask(question), "watch.no_draw"), Grade::undecided);
  read(question, {{0, 58}, {600, 58}});
  EXPECT_EQ(ask(question).judged->needle, Needle::too_soon) << "no time is long enough";
}

TEST(Watch, WhatCanBeFakedMustShowToo) {
  auto question = capped_main();
  question.drift.barometer = psi(0.5);
  EXPECT_NEAR(ask(question).watch->si() / 60.0, 125.86 * 2.5 / 2.0, 0.02);
  question = capped_main();
  question.drift.temperature_k_per_s = 1.0;  // far faster than the needle falls
  EXPECT_FALSE(ask(question).watch);
  EXPECT_EQ(grade_of(ask(question), "watch.drift"), Grade::undecided);
  question = capped_main();
  question.drift = {};
  EXPECT_EQ(grade_of(ask(question), "watch.drift"), Grade::warn) << "not given is said";
  EXPECT_EQ(ask(question).assumed.size(), 2U);
}

TEST(Watch, AGaugeTooCoarseForWhatIsThereSeesNothing) {
  auto question = capped_main();
  question.gauge.step = psi(70);
  EXPECT_EQ(grade_of(ask(question), "watch.gauge_blind"), Grade::undecided);
  EXPECT_FALSE(ask(question).watch);
  question = capped_main();
  question.pressure = GaugePressure();
  question.gauge.range = {psig(0), psig(100)};
  const Watched watched = ask(question);
  EXPECT_EQ(grade_of(watched, "watch.gauge_blind"), Grade::undecided);
  EXPECT_NE(watched.findings.front().says.find("dial"), std::string::npos);
}

TEST(Watch, CustomersMayBeOutBeforeTheNeedleMoves) {
  auto question = capped_main();
  question.floor = psig(57);
  EXPECT_EQ(grade_of(ask(question), "watch.too_coarse"), Grade::undecided);
  question = capped_main();
  question.draw->high = scfh(6000);
  EXPECT_EQ(grade_of(ask(question), "watch.out_before_seen"), Grade::warn);
  question = capped_main();
  question.pressure = GaugePressure::from_si(7 * units::inch_water_pa);
  question.floor = GaugePressure::from_si(4 * units::inch_water_pa);
  question.gauge.step = PressureDifference::from_si(0.2 * units::inch_water_pa);
  EXPECT_EQ(grade_of(ask(question), "watch.out_at_once"), Grade::halt);
}

TEST(Watch, AHeldNeedleMeansGasComesInOnlyAfterTheTime) {
  auto question = capped_main();
  read(question, {{0, 58}, {60, 58}, {125, 58}});
  EXPECT_EQ(ask(question).judged->needle, Needle::too_soon);
  EXPECT_EQ(grade_of(ask(question), "watch.needle"), Grade::undecided);
  read(question, {{127, 57}});
  EXPECT_EQ(ask(question).judged->needle, Needle::held);
  EXPECT_EQ(grade_of(ask(question), "watch.needle"), Grade::info);
}

TEST(Watch, AFallSaysWhatIsDrawnAndHowLongItLasts) {
  auto question = capped_main();
  read(question, {{0, 58}, {60, 56}, {120, 54}});
  const Watched watched = ask(question);
  EXPECT_EQ(watched.judged->needle, Needle::fell);
  EXPECT_EQ(grade_of(watched, "watch.needle"), Grade::halt);
  // 4 psi of 1738 ft3 in 2 h, by 14.73 psia.
  EXPECT_NEAR(watched.judged->flow->si(), -scfh(1738 * 4 / 14.73 / 2).si(), 1e-9);
  EXPECT_NEAR(watched.judged->at_rate->si() / 3600.0, 22.0, 1e-9);
  EXPECT_LT(*watched.judged->left->shortest, *watched.left->shortest);
}

TEST(Watch, ANeedleThatRisesOrGoesBothWaysIsNoAnswer) {
  auto question = capped_main();
  read(question, {{0, 58}, {200, 60}});
  EXPECT_EQ(ask(question).judged->needle, Needle::rose);
  EXPECT_EQ(grade_of(ask(question), "watch.needle"), Grade::undecided);
  read(question, {{210, 56}});
  EXPECT_EQ(ask(question).judged->needle, Needle::both_ways);
}

TEST(Watch, BetweenOneStepAndTheStepsThatMustShowNothingIsSaid) {
  auto question = capped_main();
  question.gauge.steps = 2;
  read(question, {{0, 58}, {600, 56}});
  EXPECT_EQ(ask(question).judged->needle, Needle::moved);
}

TEST(Watch, RefusesReadingsOutOfOrderAndAPressureOffTheDial) {
  auto question = capped_main();
  read(question, {{10, 58}, {5, 58}});
  EXPECT_EQ(watch(question, profile(), units::System::us).error().code, Code::contradiction);
  question = capped_main();
  question.gauge.range = {psig(0), psig(30)};
  EXPECT_EQ(watch(question, profile(), units::System::us).error().where, "pressure");
  question = capped_main();
  question.draw.reset();
  EXPECT_EQ(watch(question, profile(), units::System::us).error().code, Code::missing_value);
}

WatchQuestion vented_section() {
  WatchQuestion question;
  question.asks = Asks::shut_off_tight;
  question.closed = closed_ft3(20);
  question.draw = Draw{};
  question.let_by = scfh(2);
  question.gauge = {PressureDifference::from_si(0.5 * units::inch_water_pa), 2, true, std::nullopt};
  question.drift = {psi(0), std::nullopt, TemperatureDifference(), std::nullopt};
  return question;
}

TEST(ShutOffTight, TheNeedleMustNotRise) {
  auto question = vented_section();
  const Watched watched = ask(question);
  // 20 ft3 x 1 inWC / (14.73 psi in inWC) at 2 scfh.
  EXPECT_NEAR(watched.watch->si(), 20.0 / (14.73 * 27.6799) / 2.0 * 3600.0, 0.05);
  EXPECT_FALSE(watched.fall);
  read(question, {{0, 0}, {5, 0}});
  EXPECT_EQ(ask(question).judged->needle, Needle::held);
  read(question, {{6, 0.1}});
  EXPECT_EQ(grade_of(ask(question), "watch.needle"), Grade::halt);
  question = vented_section();
  question.pressure = psig(1);
  read(question, {{0, 1}, {5, 0.8}});
  EXPECT_EQ(grade_of(ask(question), "watch.needle"), Grade::undecided) << "it can only rise";
}

TEST(ShutOffTight, ServicesThatDrawHideLetBy) {
  auto question = vented_section();
  question.draw = Draw{scfh(0), scfh(1)};
  EXPECT_NEAR(*ask(question).watch / *ask(vented_section()).watch, 2.0, 1e-9);
  question.draw = Draw{scfh(0), scfh(2)};
  EXPECT_EQ(grade_of(ask(question), "watch.let_by_hidden"), Grade::halt);
  EXPECT_FALSE(ask(question).watch);
  question.draw.reset();
  EXPECT_EQ(grade_of(ask(question), "watch.draw"), Grade::undecided);
}

TEST(ShutOffTight, WithoutALimitSomebodyDecides) {
  auto question = vented_section();
  question.let_by.reset();
  EXPECT_EQ(grade_of(ask(question), "squeeze.let_by"), Grade::undecided);
}

TEST(ShutOffTight, ACoarseGaugeDoesNotSeeALowPressureFeed) {
  auto question = vented_section();
  question.gauge.step = psi(2);
  EXPECT_EQ(grade_of(ask(question), "watch.gauge_blind"), Grade::undecided);
  EXPECT_FALSE(grade_of(ask(vented_section()), "watch.gauge_blind"));
}

TEST(AllMetersShut, AFallIsAMeterLeftOpen) {
  auto question = capped_main();
  question.asks = Asks::all_meters_shut;
  question.draw = Draw{scfh(1), scfh(50)};
  EXPECT_FALSE(grade_of(ask(question), "watch.floor"));
  read(question, {{0, 58}, {100, 56}});
  EXPECT_EQ(grade_of(ask(question), "watch.needle"), Grade::halt);
  question.draw = Draw{};
  EXPECT_EQ(grade_of(ask(question), "watch.no_draw"), Grade::halt);
  EXPECT_EQ(ask(question).findings.front().says.find("fed"), std::string::npos)
      << "speaks of this question, not of a feed";
}

RC_GTEST_PROP(Watch, AtTheEndOfTheWatchTheNeedleHasMovedAsFarAsMustShow, ()) {
  auto question = capped_main();
  question.closed.volume = Volume::from_si(*rc::gen::inRange(1, 10000) * 0.1);
  question.closed.k_per_pa = *rc::gen::inRange(0, 30) * 1e-9;
  question.drift.barometer = psi(*rc::gen::inRange(0, 20) * 0.01);
  question.gauge.steps = *rc::gen::inRange(1, 5);
  const Watched watched = ask(question);
  RC_ASSERT(watched.watch.has_value());
  const auto moved = question.pressure - watched.expect.back().at_low;
  RC_ASSERT(moved.si() >= watched.must_move.si() * (1.0 - 1e-9));
  RC_ASSERT(moved.si() <= watched.must_move.si() * 1.01);
  RC_ASSERT(watched.finer.back().watch < *watched.watch);
}

TEST(Spell, RoundsTheWayAsked) {
  using units::Toward;
  EXPECT_EQ(spell(Duration::from_si(7551.0), Toward::up), "2 h 6 min");
  EXPECT_EQ(spell(Duration::from_si(7551.0), Toward::down), "2 h 5 min");
  EXPECT_EQ(spell(Duration::from_si(89.2), Toward::up), "1 min 30 s");
  EXPECT_EQ(spell(Duration::from_si(120.0), Toward::down), "2 min");
  EXPECT_EQ(spell(Duration::from_si(3.2 * 86400), Toward::down), "3 d 4 h");
  EXPECT_EQ(spell(Duration::from_si(std::numeric_limits<double>::infinity()), Toward::up),
            "not known");
}

}  // namespace
}  // namespace bellhole::linepack
