// Tampering is pinned to the event: edited, removed, moved, doubled, whichever line of the file.
#include "job/chain.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include "tests/unit/job/devices.hpp"
#include "wire/job.hpp"
#include "wire/profile.hpp"

namespace bellhole::job {
namespace {

/// Two phones that hear of each other, in the order in which a store writes them.
std::vector<std::string> written_log(int rounds = 6) {
  Device one("phone-1", "P-1"), two("phone-2", "P-2");
  one.enter("opened", R"({"title": "T", "work": "planned"})");
  for (int i = 0; i < rounds; ++i) {
    one.wait(7).enter("note", R"({"says": "one"})");
    two.learn(one);
    two.wait(9).enter("note", R"({"says": "two"})");
    if (i % 2 == 0) one.learn(two);
  }
  one.learn(two);
  const Log log = one.all().log();
  std::vector<std::string> lines;
  for (const Event& event : log.events())
    for (const std::string& line : one.all().lines)
      if (line.find(event.hash) == line.size() - 66) lines.push_back(line);
  return lines;
}

std::vector<ChainFault> faults_of(const std::vector<std::string>& lines,
                                  const std::vector<Head>& heads = {}) {
  const std::string text = Lines{lines}.text();
  const auto read = wire::read_lines(text, "log");
  return check_file(wire::log_lines(*read), heads);
}

Event event_of(const std::string& line) { return *wire::read_event(line, ""); }

TEST(Chain, AWholeLogHasNoFault) {
  const auto lines = written_log();
  EXPECT_TRUE(faults_of(lines).empty()) << faults_of(lines)[0].says;
  EXPECT_TRUE(faults_of(lines, Lines{lines}.log().heads()).empty());
  EXPECT_TRUE(check_log(Lines{lines}.log()).empty());
}

TEST(Chain, EveryEditedLineIsNamed) {
  const auto lines = written_log();
  for (std::size_t i = 0; i < lines.size(); ++i) {
    for (const auto& [from, to] :
         {std::pair("P-", "Q-"), std::pair("\"entered_at\":\"2025", "\"entered_at\":\"2024"),
          std::pair("\"sequence\":", "\"sequence\":1"), std::pair("\"says\":", "\"say\":"),
          std::pair("\"device\":\"phone", "\"device\":\"fone")}) {
      auto edited = lines;
      const auto at = edited[i].find(from);
      if (at == std::string::npos) continue;
      edited[i].replace(at, std::string(from).size(), to);
      const auto faults = faults_of(edited);
      ASSERT_FALSE(faults.empty()) << i << from;
      EXPECT_EQ(faults[0].line, i + 1) << from << faults[0].says;
      EXPECT_TRUE(faults[0].how == Broken::edited || faults[0].how == Broken::unread);
    }
  }
}

TEST(Chain, EveryRemovedLineIsNamed) {
  const auto lines = written_log();
  const auto heads = Lines{lines}.log().heads();
  for (std::size_t i = 0; i < lines.size(); ++i) {
    auto cut = lines;
    const Event gone = event_of(cut[i]);
    cut.erase(cut.begin() + static_cast<std::ptrdiff_t>(i));
    const auto faults = faults_of(cut, heads);
    ASSERT_FALSE(faults.empty()) << i;
    EXPECT_EQ(faults[0].how, Broken::removed) << faults[0].says;
    const std::string named =
        "event " + std::to_string(gone.sequence) + " of device " + gone.device;
    EXPECT_TRUE(faults[0].says.find(named) != std::string::npos ||
                faults[0].says.find(gone.hash) != std::string::npos)
        << i << ": " << faults[0].says;
  }
}

TEST(Chain, EveryMovedLineIsAMove) {
  const auto lines = written_log();
  for (std::size_t from = 0; from < lines.size(); ++from) {
    for (std::size_t to = 0; to < lines.size(); ++to) {
      if (from == to) continue;
      auto moved = lines;
      const std::string line = moved[from];
      moved.erase(moved.begin() + static_cast<std::ptrdiff_t>(from));
      moved.insert(moved.begin() + static_cast<std::ptrdiff_t>(to), line);
      const auto faults = faults_of(moved);
      ASSERT_FALSE(faults.empty()) << from << " to " << to;
      EXPECT_EQ(faults[0].how, Broken::moved) << faults[0].says;
      EXPECT_GE(faults[0].line, std::min(from, to) + 1);
      EXPECT_LE(faults[0].line, std::max(from, to) + 1);
    }
  }
}

TEST(Chain, ADoubledLineAndAForkAreNamed) {
  auto lines = written_log();
  auto doubled = lines;
  doubled.insert(doubled.begin() + 4, lines[2]);
  EXPECT_EQ(faults_of(doubled)[0].how, Broken::doubled);
  Device one("phone-1"), again("phone-1");
  one.enter("note", R"({"says": "a"})");
  again.enter("note", R"({"says": "b"})");
  EXPECT_EQ(faults_of({one.own().lines[0], again.own().lines[0]})[0].how, Broken::forked);
}

TEST(Chain, TheLastEventIsMissedOnlyByItsHead) {
  auto lines = written_log();
  const auto heads = Lines{lines}.log().heads();
  lines.pop_back();
  EXPECT_TRUE(faults_of(lines).empty()) << "nothing after it names it";
  ASSERT_EQ(faults_of(lines, heads).size(), 1U);
  EXPECT_EQ(faults_of(lines, heads)[0].how, Broken::removed);
}

TEST(Chain, AnEventThatWasSealedAnewIsFoundByWhatFollows) {
  auto lines = written_log();
  const auto heads = Lines{lines}.log().heads();
  std::string body = wire::seal_of(lines[3], "")->body;
  body.replace(body.find("P-"), 2, "Q-");
  lines[3] = *wire::seal(body);
  EXPECT_FALSE(faults_of(lines).empty());
  std::string last = wire::seal_of(lines.back(), "")->body;
  auto other = written_log();
  last.replace(last.find("P-"), 2, "Q-");
  other.back() = *wire::seal(last);
  EXPECT_EQ(faults_of(other, heads)[0].how, Broken::edited) << "only the heads know";
}

constexpr const char* five_seconds =
    R"({"rule": "job.clock_error", "value": 5, "unit": "s", "grade": "warn", "source": "test", "evidence": "company"})";
constexpr const char* not_set = R"({"rule": "job.clock_error", "value": null})";

std::vector<std::string> rules_of(const std::vector<std::string>& lines,
                                  const char* row = five_seconds) {
  std::vector<std::string> says;
  const auto profile = wire::read_profile(
      std::string(R"({"document": "bellhole.profile", "version": 1, "id": "t", "title": "T", )") +
          R"("rows": [)" + row + "]}",
      "t");
  EXPECT_TRUE(profile);
  for (const ClockFault& fault : check_clocks(Lines{lines}.log(), *profile, units::System::us))
    says.push_back(fault.finding.says + " [" + fault.finding.quantity + "]");
  return says;
}

TEST(Clocks, AWallClockThatWasSetIsFoundByTheOtherClock) {
  Device phone("phone-1");
  phone.enter("note", R"({"says": "a"})");
  phone.wait(60).enter("note", R"({"says": "b"})");
  EXPECT_TRUE(rules_of(phone.own().lines).empty());
  phone.wait(60).set_wall(-600).enter("note", R"({"says": "c"})");
  const auto says = rules_of(phone.own().lines);
  ASSERT_EQ(says.size(), 1U);
  EXPECT_NE(says[0].find("set by 10.0 min"), std::string::npos) << says[0];
}

TEST(Clocks, OfSeveralErrorsOfADeviceTheGreatestIsNamed) {
  Device phone("phone-1");
  phone.enter("note", R"({"says": "a"})");
  for (const int by : {10, -600, 20}) phone.wait(60).set_wall(by).enter("note", R"({"says": "b"})");
  const auto says = rules_of(phone.own().lines);
  ASSERT_EQ(says.size(), 1U);
  EXPECT_NE(says[0].find("set by 10.0 min"), std::string::npos) << says[0];
}

TEST(Clocks, WithoutALimitTheGreatestOfAllDevicesIsLeftToDecideOnce) {
  Device one("phone-1"), two("phone-2");
  for (Device* phone : {&one, &two}) {
    phone->enter("note", R"({"says": "a"})");
    phone->wait(60).set_wall(phone == &one ? 2 : 7).enter("note", R"({"says": "b"})");
  }
  one.learn(two);
  const auto says = rules_of(one.all().lines, not_set);
  ASSERT_EQ(says.size(), 1U);
  EXPECT_NE(says[0].find("no limit set"), std::string::npos) << says[0];
  EXPECT_NE(says[0].find("phone-2"), std::string::npos) << says[0];
}

TEST(Clocks, WhatAMillisecondHidesIsNoError) {
  Device phone("phone-1");
  for (int i = 0; i < 5; ++i) phone.wait(0.3337).enter("note", R"({"says": "a"})");
  EXPECT_TRUE(rules_of(phone.own().lines, not_set).empty());
}

TEST(Clocks, AStartAnewIsNoError) {
  Device phone("phone-1");
  phone.enter("note", R"({"says": "a"})");
  phone.restart("boot-2");
  phone.wait(3600).enter("note", R"({"says": "b"})");
  EXPECT_TRUE(rules_of(phone.own().lines).empty());
}

TEST(Clocks, ADeviceThatSawTheFutureIsBehind) {
  Device one("phone-1"), late("phone-2", "P-2", {1'764'000'000'000 - 90'000});
  one.enter("note", R"({"says": "a"})");
  late.learn(one);
  late.enter("note", R"({"says": "b"})");
  const auto says = rules_of(late.all().lines);
  ASSERT_EQ(says.size(), 1U);
  EXPECT_NE(says[0].find("phone-2 is 90.0 s behind"), std::string::npos) << says[0];
}

TEST(Clocks, NothingHappensAfterItWasEntered) {
  Device phone("phone-1");
  phone.enter("note", R"({"says": "a"})", R"({"happened_at": "2030-01-01T00:00:00Z"})");
  EXPECT_EQ(rules_of(phone.own().lines).size(), 1U);
}

}  // namespace
}  // namespace bellhole::job
