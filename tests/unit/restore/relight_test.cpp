#include "restore/relight.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <map>
#include <set>

#include "tests/unit/restore/profiles.hpp"

namespace bellhole::restore {
namespace {

Meter meter(std::string id, std::string street = "Bakers Row", double along = 10.0,
            bool must = false) {
  Meter m;
  m.id = std::move(id);
  m.street = std::move(street);
  m.along = Length::from_si(along);
  m.must_not_lose = must;
  m.excess_flow_valve = false;
  return m;
}

/// Three houses and a hospital in two streets; Quay Street is nearer to where gas comes in.
RelightQuestion four() {
  RelightQuestion q;
  q.meters = {meter("b2", "Bakers Row", 320), meter("q1", "Quay Street", 60),
              meter("H", "Bakers Row", 400, true), meter("b1", "Bakers Row", 300)};
  q.technicians = 2;
  q.rate = Rate{0.4, 0.5, 0.6};
  q.revisits = 0.15;
  return q;
}

Relight ask(const RelightQuestion& q, const procedure::Profile& profile = shipped()) {
  const auto answer = relight(q, profile, units::System::us);
  EXPECT_TRUE(answer) << answer.error().value;
  return *answer;
}

const Finding* find(const Relight& answer, std::string_view rule) {
  const auto found = std::ranges::find(answer.findings, rule, &Finding::rule);
  return found == answer.findings.end() ? nullptr : &*found;
}

std::vector<ShutRow> listed(const std::vector<std::string>& ids, Shut how = Shut::meter) {
  std::vector<ShutRow> rows;
  for (const std::string& id : ids) rows.push_back({id, how, "", ""});
  return rows;
}

std::vector<std::string> order(const RelightQuestion& q, const Relight& answer) {
  std::vector<std::string> ids;
  for (const Visit& visit : answer.visits) ids.push_back(q.meters[visit.meter].id);
  return ids;
}

TEST(Relight, TimeIsVisitsByTechniciansAndRate) {
  EXPECT_NEAR(time_of_visits(500, 0.15, 20, 0.5).si() / 3600.0, 57.5, 1e-12);
  EXPECT_NEAR(time_of_visits(1, 0.0, 20, 0.5).si() / 3600.0, 2.0, 1e-12)
      << "nobody lights half a meter";
}

TEST(Relight, EqualCountsWithOneSwappedMeterAreRefusedNamingBoth) {
  RelightQuestion q = four();
  q.shut = listed({"b1", "b2", "q1", "x9"});
  const Relight answer = ask(q);
  EXPECT_EQ(answer.same, false);
  EXPECT_EQ(answer.not_shut, std::vector<std::string>{"H"});
  EXPECT_EQ(answer.not_affected, std::vector<std::string>{"x9"});
  const Finding* set = find(answer, "relight.set");
  ASSERT_NE(set, nullptr);
  EXPECT_EQ(set->grade, Grade::halt);
  EXPECT_NE(set->says.find("not shut: H"), std::string::npos) << set->says;
  EXPECT_NE(set->says.find("not affected: x9"), std::string::npos) << set->says;
}

TEST(Relight, WithoutAListWalkAndHoldNothingIsTakenAsDone) {
  const Relight answer = ask(four());
  for (const char* rule : {"relight.set", "relight.walked", "relight.held"}) {
    ASSERT_NE(find(answer, rule), nullptr) << rule;
    EXPECT_EQ(find(answer, rule)->grade, Grade::undecided) << rule;
  }
  EXPECT_FALSE(answer.same);
}

TEST(Relight, WhereNobodyIsOutThereIsNothingToSayUnlessSomebodyIsShut) {
  RelightQuestion q = four();
  q.meters.clear();
  EXPECT_EQ(find(ask(q), "relight.set"), nullptr);
  q.shut = listed({"x9"});
  EXPECT_EQ(find(ask(q), "relight.set")->grade, Grade::halt);
}

TEST(Relight, TheSameSetWalkedAndHeldLeavesNoFindingAgainstGasGoingBack) {
  RelightQuestion q = four();
  q.shut = listed({"H", "q1", "b2", "b1"});
  q.walked = {"Quay Street", "Bakers Row"};
  q.hold = Hold::held;
  const Relight answer = ask(q);
  EXPECT_EQ(answer.same, true);
  for (const char* rule : {"relight.set", "relight.walked", "relight.held", "relight.early"})
    EXPECT_EQ(find(answer, rule), nullptr) << rule;
}

TEST(Relight, AStreetNotWalkedIsNamed) {
  RelightQuestion q = four();
  q.walked = {"Quay Street"};
  const Relight answer = ask(q);
  EXPECT_NE(find(answer, "relight.walked")->says.find("Bakers Row"), std::string::npos);
  EXPECT_EQ(find(answer, "relight.walked")->says.find("Quay Street"), std::string::npos);
}

TEST(Relight, ASectorThatMovedHalts) {
  RelightQuestion q = four();
  q.hold = Hold::moved;
  EXPECT_EQ(find(ask(q), "relight.held")->grade, Grade::halt);
  q.hold = Hold::too_soon;
  EXPECT_EQ(find(ask(q), "relight.held")->grade, Grade::undecided);
}

TEST(Relight, LitBeforeTheListIsRightHalts) {
  RelightQuestion q = four();
  q.shut = listed({"H", "q1", "b2", "b1"});
  q.shut->front().how = Shut::relit;
  EXPECT_EQ(find(ask(q), "relight.early")->grade, Grade::halt);
  q.walked = {"Quay Street", "Bakers Row"};
  q.hold = Hold::held;
  EXPECT_EQ(find(ask(q), "relight.early"), nullptr);
}

TEST(Relight, LitAreNotVisitedAgainAndLockedAre) {
  RelightQuestion q = four();
  q.shut = listed({"H", "q1", "b2", "b1"});
  (*q.shut)[0].how = Shut::relit;
  (*q.shut)[1].how = Shut::locked;
  const Relight answer = ask(q);
  EXPECT_EQ(order(q, answer), (std::vector<std::string>{"q1", "b1", "b2"}));
  EXPECT_EQ(answer.relit, 1u);
  EXPECT_EQ(answer.locked, 1u);
}

TEST(Relight, CriticalFirstThenTheStreetNearestToWhereGasComesIn) {
  const RelightQuestion q = four();
  const Relight answer = ask(q);
  EXPECT_EQ(order(q, answer), (std::vector<std::string>{"H", "q1", "b1", "b2"}));
  EXPECT_EQ(answer.streets.front().name, "Quay Street");
  EXPECT_EQ(find(answer, "relight.first")->grade, Grade::warn);
}

TEST(Relight, RatesOfTheProfileCarryTheirSource) {
  RelightQuestion q = four();
  q.rate.reset();
  q.revisits.reset();
  const Relight answer = ask(q);
  ASSERT_TRUE(answer.rate);
  EXPECT_GE(answer.rate->low, 0.4);
  EXPECT_LE(answer.rate->high, 0.6);
  EXPECT_TRUE(std::ranges::any_of(answer.assumed, [](const std::string& line) {
    return line.find("Newport") != std::string::npos;
  }));
}

TEST(Relight, RatesThatAreNotSetLeaveTheTimeOpen) {
  procedure::ProfileDraft draft;
  draft.id = "bare";
  const auto bare = procedure::compose(draft, nullptr);
  RelightQuestion q = four();
  q.rate.reset();
  const Relight answer = ask(q, *bare);
  EXPECT_FALSE(answer.all);
  EXPECT_EQ(find(answer, "relight.rate_low")->grade, Grade::undecided);
  q.revisits.reset();
  q.rate = Rate{0.5, 0.5, 0.5};
  EXPECT_EQ(find(ask(q, *bare), "relight.revisit_share")->grade, Grade::undecided);
}

TEST(Relight, WhatCannotBeIsRefused) {
  const auto code = [](RelightQuestion q) {
    const auto answer = relight(q, shipped(), units::System::us);
    return answer ? Code::bug : answer.error().code;
  };
  RelightQuestion q = four();
  q.technicians = 0;
  EXPECT_EQ(code(q), Code::out_of_range);
  q = four();
  q.rate = Rate{0.0, 0.5, 0.6};
  EXPECT_EQ(code(q), Code::out_of_range);
  q = four();
  q.revisits = 1.5;
  EXPECT_EQ(code(q), Code::out_of_range);
  q = four();
  q.shut = listed({"b1", "b1"});
  EXPECT_EQ(code(q), Code::contradiction);
  q = four();
  q.meters.push_back(q.meters.front());
  EXPECT_EQ(code(q), Code::contradiction);
}

/// Meters m0 … of a few streets, some of whom must not lose gas.
RelightQuestion some() {
  RelightQuestion q;
  const int count = *rc::gen::inRange(1, 40);
  for (int i = 0; i < count; ++i)
    q.meters.push_back(meter("m" + std::to_string(i),
                             std::string(1, char('A' + *rc::gen::inRange(0, 4))),
                             *rc::gen::inRange(0, 900), *rc::gen::inRange(0, 6) == 0));
  q.technicians = *rc::gen::inRange(1, 9);
  q.rate = Rate{0.4, 0.5, 0.6};
  q.revisits = 0.1 * *rc::gen::inRange(0, 5);
  return q;
}

RC_GTEST_PROP(RelightProperties, EveryMeterIsVisitedOnceAndRoundsAreEven, ()) {
  const RelightQuestion q = some();
  const Relight answer = ask(q);
  std::set<std::size_t> meters;
  std::map<std::int64_t, std::set<std::int64_t>> rounds;
  for (const Visit& visit : answer.visits) {
    RC_ASSERT(meters.insert(visit.meter).second);
    RC_ASSERT(rounds[visit.round].insert(visit.place).second);
    RC_ASSERT(visit.done->expected <= answer.all->expected);
  }
  RC_ASSERT(meters.size() == q.meters.size());
  const auto n = static_cast<std::int64_t>(q.meters.size());
  for (const auto& [round, places] : rounds) {
    const auto has = static_cast<std::int64_t>(places.size());
    RC_ASSERT(has == n / *q.technicians || has == n / *q.technicians + 1);
    RC_ASSERT(*places.begin() == 1 && *places.rbegin() == has);
  }
}

RC_GTEST_PROP(RelightProperties, TheOrderDoesNotHangOnTheOrderOfTheList, ()) {
  const RelightQuestion q = some();
  RelightQuestion other = q;
  std::ranges::reverse(other.meters);
  RC_ASSERT(order(q, ask(q)) == order(other, ask(other)));
}

RC_GTEST_PROP(RelightProperties, MorePeopleAreNeverSlowerAndTheBandIsInOrder, ()) {
  RelightQuestion q = some();
  const Relight before = ask(q);
  RC_ASSERT(before.all->shortest <= before.all->expected);
  RC_ASSERT(before.all->expected <= before.all->longest);
  ++*q.technicians;
  RC_ASSERT(ask(q).all->longest <= before.all->longest);
}

RC_GTEST_PROP(RelightProperties, SidesOfTheListAreTheDifferencesOfTheSets, ()) {
  RelightQuestion q = some();
  std::set<std::string> shut;
  q.shut.emplace();
  for (int i = 0; i < 45; ++i) {
    if (*rc::gen::inRange(0, 3) == 0) continue;
    shut.insert("m" + std::to_string(i));
    q.shut->push_back({"m" + std::to_string(i), Shut::meter, "", ""});
  }
  const Relight answer = ask(q);
  std::size_t missing = 0;
  for (const Meter& m : q.meters) missing += shut.contains(m.id) ? 0u : 1u;
  RC_ASSERT(answer.not_shut.size() == missing);
  RC_ASSERT(answer.not_affected.size() == shut.size() + missing - q.meters.size());
  RC_ASSERT(*answer.same == (answer.not_shut.empty() && answer.not_affected.empty()));
  RC_ASSERT((find(answer, "relight.set") == nullptr) == *answer.same);
}

}  // namespace
}  // namespace bellhole::restore
