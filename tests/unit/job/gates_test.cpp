// What stands before a cut, an opening after it and gas going back; and what is never stood before.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "job/handover.hpp"
#include "tests/unit/job/devices.hpp"

namespace bellhole::job {
namespace {

std::size_t count(const Findings& findings, std::string_view rule) {
  return static_cast<std::size_t>(std::ranges::count(findings, rule, &Finding::rule));
}

void answer(Device& phone, const std::string& step, const std::string& second = "",
            const std::string& answer = "yes") {
  phone.wait(30).enter(
      "step", nlohmann::json{{"step", step}, {"answer", answer}, {"second", second}}.dump());
}
void act(Device& phone, const std::string& did, const std::string& about = "") {
  phone.wait(30).enter("act", nlohmann::json{{"did", did}, {"about", about}}.dump());
}

Device planned_job() {
  Device phone("phone-1", "P-1");
  phone.enter("opened", R"({"title": "T", "work": "planned"})");
  phone.enter("planned", small_plan());
  return phone;
}

/// Everything up to the cut, as it should be.
Device ready_to_cut() {
  Device phone = planned_job();
  phone.enter("plan_accepted", R"({"plan_id": "plan-1", "result": ")" + hash_of('a') + "\"}");
  answer(phone, "brief");
  answer(phone, "identify-A", "P-2");
  act(phone, "shut", "A");
  answer(phone, "squeeze-A");
  act(phone, "shut", "B");
  answer(phone, "squeeze-B");
  answer(phone, "let-by", "P-2");
  return phone;
}

TEST(Gates, NothingIsFoundAgainstACutWhenAllIsBehindIt) {
  const State state = fold(ready_to_cut().all().log());
  const auto reasons = gate_reasons(state, Gate::cut);
  EXPECT_TRUE(reasons.empty()) << reasons[0].says;
  EXPECT_FALSE(gate_reasons(state, Gate::open_after_cut).empty()) << "the test is not behind it";
}

TEST(Gates, EachThingThatLacksIsNamed) {
  Device phone = planned_job();
  const Findings bare = gate_reasons(fold(phone.all().log()), Gate::cut);
  EXPECT_EQ(count(bare, "job.plan_not_accepted"), 1U);
  EXPECT_EQ(count(bare, "job.step_open"), 5U);
  EXPECT_EQ(count(bare, "job.not_shut"), 2U);
  answer(phone, "identify-A");  // one name where two are wanted
  EXPECT_EQ(count(gate_reasons(fold(phone.all().log()), Gate::cut), "job.names"), 1U);
  answer(phone, "identify-A", "P-1");  // the same name twice is one
  EXPECT_EQ(count(gate_reasons(fold(phone.all().log()), Gate::cut), "job.names"), 1U);
  answer(phone, "identify-A", "P-2");
  EXPECT_EQ(count(gate_reasons(fold(phone.all().log()), Gate::cut), "job.names"), 0U);
  EXPECT_EQ(count(gate_reasons(fold(Device("x").all().log()), Gate::cut), "job.no_plan"), 1U);
}

RC_GTEST_PROP(Gates, ShuttingAndUndoingBeforeACutAreAlwaysFree, ()) {
  Device phone("phone-1", *rc::gen::element<std::string>("", "P-1"));
  const auto events = *rc::gen::inRange(0, 25);
  if (*rc::gen::arbitrary<bool>()) phone.enter("planned", small_plan());
  for (int i = 0; i < events; ++i) {
    const int what = *rc::gen::inRange(0, 5);
    if (what == 0) answer(phone, "let-by", "", "no");
    if (what == 1) act(phone, "shut", *rc::gen::element<std::string>("A", "B", "C"));
    if (what == 2) act(phone, "undone", "A");
    if (what == 3) act(phone, "opened", "B");
    if (what == 4)
      phone.enter("pipe_found", R"({"about": "A", "pipe": {"size": "IPS 6", "dr": 11}})");
    const State state = fold(phone.all().log());
    RC_ASSERT(reasons_against(state, Did::shut, "A").empty());
    RC_ASSERT(reasons_against(state, Did::undone, "A").empty());
    RC_ASSERT(reasons_against(state, Did::opened, "B").empty());
    RC_ASSERT(state.breaches.empty());
  }
}

TEST(Gates, UndoingAfterTheCutIsNoWayRoundTheGate) {
  Device phone = ready_to_cut();
  act(phone, "cut");
  act(phone, "undone", "A");
  const State state = fold(phone.all().log());
  ASSERT_EQ(state.breaches.size(), 1U);
  EXPECT_EQ(state.breaches[0].gate, Gate::open_after_cut);
}

TEST(Gates, WhatWasDoneAgainstAGateIsKeptAndSaid) {
  Device phone = planned_job();
  act(phone, "cut");
  const State state = fold(phone.all().log());
  EXPECT_TRUE(state.cut()) << "an event is never refused";
  ASSERT_EQ(state.breaches.size(), 1U);
  EXPECT_GE(state.breaches[0].reasons.size(), 5U);
}

TEST(Gates, AnAnswerAfterTheCutDoesNotMendIt) {
  Device phone = ready_to_cut();
  answer(phone, "let-by", "P-2", "no");
  act(phone, "cut");
  answer(phone, "let-by", "P-2");
  EXPECT_EQ(fold(phone.all().log()).breaches.size(), 1U);
}

TEST(Gates, ACorrectionAfterTheCutDoesNotMendItEither) {
  Device phone = ready_to_cut();
  const Hash no = phone.enter("step", R"({"step": "let-by", "answer": "no"})");
  act(phone, "cut");
  phone.enter(
      "corrected",
      R"({"event": ")" + no +
          R"(", "because": "slip", "kind": "step", "fact": {"step": "let-by", "answer": "yes"}})");
  const State state = fold(phone.all().log());
  EXPECT_EQ(state.breaches.size(), 1U);
  EXPECT_TRUE(state.steps[4].behind()) << "but the state has it as corrected";
}

TEST(Gates, ANamedReasonAndASecondPersonPassWhatStoodThen) {
  Device phone = ready_to_cut();
  answer(phone, "let-by", "P-2", "no");
  phone.enter("gate_passed",
              R"({"gate": "cut", "reason": "vented and read twice", "second": "P-2"})");
  EXPECT_TRUE(gate_reasons(fold(phone.all().log()), Gate::cut).empty());
  EXPECT_FALSE(gate_reasons(fold(phone.all().log()), Gate::put_back).empty()) << "one gate only";
  act(phone, "cut");
  EXPECT_TRUE(fold(phone.all().log()).breaches.empty());
  act(phone, "undone", "A");
  const Findings later = gate_reasons(fold(phone.all().log()), Gate::cut);
  EXPECT_EQ(count(later, "job.not_shut"), 1U) << "a later reason is not passed";
}

TEST(Gates, OnePersonCannotPassAGate) {
  for (const char* second : {"P-1"}) {
    Device phone = ready_to_cut();
    answer(phone, "let-by", "P-2", "no");
    phone.enter("gate_passed",
                nlohmann::json{{"gate", "cut"}, {"reason", "r"}, {"second", second}}.dump());
    EXPECT_FALSE(gate_reasons(fold(phone.all().log()), Gate::cut).empty());
  }
}

TEST(Gates, AnotherPipeWaitsForAPlanAcceptedWithIt) {
  Device phone = ready_to_cut();
  phone.enter("pipe_found",
              R"({"about": "A", "pipe": {"size": "IPS 4", "dr": 11, "material": "PE2708"}})");
  EXPECT_EQ(count(gate_reasons(fold(phone.all().log()), Gate::cut), "job.plan_differs"), 1U);
  EXPECT_TRUE(reasons_against(fold(phone.all().log()), Did::shut, "A").empty());
  phone.enter("plan_accepted", R"({"plan_id": "plan-1", "result": ")" + hash_of('a') + "\"}");
  EXPECT_TRUE(gate_reasons(fold(phone.all().log()), Gate::cut).empty());
}

TEST(Gates, TheSamePipeIsNoDifference) {
  Device phone = ready_to_cut();
  phone.enter("pipe_found",
              R"({"about": "A", "pipe": {"size": "IPS 4", "dr": 11.5, "material": "PE2708"}})");
  EXPECT_TRUE(gate_reasons(fold(phone.all().log()), Gate::cut).empty());
}

TEST(Corrections, TakeTheFactAwayOrPutAnotherInItsPlace) {
  Device phone = planned_job();
  const Hash wrong = phone.enter("meter", R"({"meter": "c-9", "did": "off"})");
  const Hash slip = phone.enter("meter", R"({"meter": "c-1", "did": "off"})");
  phone.enter("corrected", R"({"event": ")" + wrong + R"(", "because": "another street"})");
  phone.enter(
      "corrected",
      R"({"event": ")" + slip +
          R"(", "because": "slip", "kind": "meter", "fact": {"meter": "c-2", "did": "off"}})");
  const State state = fold(phone.all().log());
  EXPECT_EQ(state.meters.size(), 1U);
  EXPECT_TRUE(state.meters.contains("c-2"));
  ASSERT_EQ(state.corrections.size(), 2U);
  EXPECT_EQ(state.corrections[0].kind, "meter");
  EXPECT_EQ(state.events, 6U) << "nothing leaves the log";
}

TEST(HandOver, CanBeReadAloudInNinetySeconds) {
  Device phone = ready_to_cut();
  for (int i = 0; i < 40; ++i) {
    phone.enter(
        "note",
        R"({"says": "A note that somebody wrote with a great many words in it, more than anybody can read aloud in the time that there is, and then some more of them to be sure."})");
    phone.enter("reading",
                R"({"point": "point )" + std::to_string(i) + R"(", "pressure": "31psig"})");
  }
  const Handover said = handover(fold(phone.all().log()), units::System::us);
  EXPECT_LE(said.read_aloud.si(), 90.0) << said.words;
  const auto line = [&](std::string_view head) {
    return std::ranges::find(said.lines, head, &HandoverLine::head)->says;
  };
  EXPECT_EQ(line("Shut-offs").size(), 2U);
  EXPECT_EQ(line("Next step")[0], "cut: Do cut.");
  EXPECT_EQ(line("Last readings").size(), 5U);
  EXPECT_EQ(line("Main")[0], "not cut");
}

}  // namespace
}  // namespace bellhole::job
