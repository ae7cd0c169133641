// Logs that were apart: any order, any repetition, any split gives the same state.
#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "tests/unit/job/devices.hpp"
#include "wire/job.hpp"

namespace bellhole::job {
namespace {

std::string state_of(const Log& log) { return wire::state_json(log, fold(log)).dump(); }

/// Three phones on one job that meet now and then, at random.
std::vector<Device> job_at_random() {
  std::vector<Device> phones;
  for (const char* name : {"phone-1", "phone-2", "phone-3"})
    phones.emplace_back(
        name, std::string("P-") + name[6],
        Instant{1'764'000'000'000 + *rc::gen::inRange<std::int64_t>(-90'000, 90'000)});
  phones[0].enter("opened", R"({"title": "Quay Street", "work": "planned"})");
  phones[0].enter("planned", small_plan());
  const auto count = *rc::gen::inRange(1, 40);
  for (int i = 0; i < count; ++i) {
    Device& phone = phones[*rc::gen::inRange<std::size_t>(0, 3)];
    phone.wait(*rc::gen::inRange(0, 100));
    const int what = *rc::gen::inRange(0, 9);
    const std::string yes = *rc::gen::arbitrary<bool>() ? "yes" : "no";
    const std::string letter = *rc::gen::arbitrary<bool>() ? "A" : "B";
    if (what == 0) phone.enter("step", R"({"step": "let-by", "answer": ")" + yes + "\"}");
    if (what == 1) phone.enter("act", R"({"did": "shut", "about": ")" + letter + "\"}");
    if (what == 2) phone.enter("act", R"({"did": "opened", "about": ")" + letter + "\"}");
    if (what == 3) phone.enter("act", R"({"did": "cut"})");
    if (what == 4) phone.enter("note", R"({"says": "n"})");
    if (what == 5) phone.enter("meter", R"({"meter": "c-1", "did": "off"})");
    if (what == 6)
      phone.enter("pipe_found", R"({"about": "A", "pipe": {"size": "IPS 4", "dr": )" +
                                    std::string(yes == "yes" ? "11" : "11.5") + "}}");
    if (what == 7)
      phone.enter("corrected", R"({"because": "slip", "event": ")" +
                                   wire::seal_of(*rc::gen::elementOf(phone.all().lines.empty()
                                                                         ? phones[0].all().lines
                                                                         : phone.all().lines),
                                                 "")
                                       ->hash +
                                   "\"}");
    if (what == 8) phone.learn(phones[*rc::gen::inRange<std::size_t>(0, 3)]);
  }
  return phones;
}

std::vector<std::string> everything(const std::vector<Device>& phones) {
  std::vector<std::string> lines;
  for (const Device& phone : phones)
    lines.insert(lines.end(), phone.own().lines.begin(), phone.own().lines.end());
  return lines;
}

RC_GTEST_PROP(Merge, AnyOrderAndAnyRepetitionGiveTheSameState, ()) {
  const auto phones = job_at_random();
  const Lines straight{everything(phones)};
  Lines shuffled = straight;
  for (const std::string& line : straight.lines)
    if (*rc::gen::arbitrary<bool>()) shuffled.lines.push_back(line);
  for (std::size_t i = shuffled.lines.size(); i > 1; --i)
    std::swap(shuffled.lines[i - 1], shuffled.lines[*rc::gen::inRange<std::size_t>(0, i)]);
  RC_ASSERT(state_of(straight.log()) == state_of(shuffled.log()));
}

RC_GTEST_PROP(Merge, IsCommutativeAssociativeAndIdempotent, ()) {
  const auto phones = job_at_random();
  std::vector<Lines> parts(3);
  for (const std::string& line : everything(phones)) {
    parts[*rc::gen::inRange<std::size_t>(0, 3)].lines.push_back(line);
    if (*rc::gen::arbitrary<bool>())
      parts[*rc::gen::inRange<std::size_t>(0, 3)].lines.push_back(line);
  }
  const Log a = parts[0].log(), b = parts[1].log(), c = parts[2].log();
  const std::string whole = state_of(Lines{everything(phones)}.log());
  RC_ASSERT(state_of(merge(merge(a, b), c)) == whole);
  RC_ASSERT(state_of(merge(c, merge(b, a))) == whole);
  RC_ASSERT(state_of(merge(merge(a, merge(b, c)), b)) == whole);
}

RC_GTEST_PROP(Merge, TheOrderKeepsWhatADeviceKnew, ()) {
  const auto phones = job_at_random();
  const Log log = Lines{everything(phones)}.log();
  for (std::size_t i = 0; i < log.events().size(); ++i) {
    const Event& event = log.events()[i];
    std::vector<Hash> known = event.seen;
    if (!event.previous.empty()) known.push_back(event.previous);
    for (const Hash& hash : known) {
      RC_ASSERT(*log.find(hash) < i);
      RC_ASSERT(log.knew(i, *log.find(hash)));
    }
    for (std::size_t j = i; j < log.events().size(); ++j) RC_ASSERT(!log.knew(i, j));
  }
}

TEST(Merge, DevicesThatWereApartAndDisagreeAreAConflict) {
  Device one("phone-1", "P-1"), two("phone-2", "P-2");
  one.enter("opened", R"({"title": "T", "work": "planned"})");
  one.enter("planned", small_plan());
  two.learn(one);
  one.wait(10).enter("step", R"({"step": "let-by", "answer": "yes"})");
  two.wait(20).enter("step", R"({"step": "let-by", "answer": "no"})");
  Device both("phone-3", "P-3");
  both.learn(one);
  both.learn(two);
  const State apart = fold(both.all().log());
  ASSERT_EQ(apart.conflicts.size(), 1U);
  EXPECT_EQ(apart.conflicts[0].about, "step let-by");
  EXPECT_EQ(apart.conflicts[0].sides.size(), 2U);
  EXPECT_EQ(apart.conflicts[0].used, "no");
  // Somebody who has seen both settles it.
  both.wait(60).enter("step", R"({"step": "let-by", "answer": "yes"})");
  const State settled = fold(both.all().log());
  EXPECT_TRUE(settled.conflicts.empty());
  EXPECT_TRUE(settled.steps[4].behind());
}

TEST(Merge, DevicesThatAgreeAreNone) {
  Device one("phone-1"), two("phone-2");
  one.enter("planned", small_plan());
  two.learn(one);
  one.enter("step", R"({"step": "let-by", "answer": "yes"})");
  two.enter("step", R"({"step": "let-by", "answer": "yes"})");
  two.learn(one);
  EXPECT_TRUE(fold(two.all().log()).conflicts.empty());
}

TEST(Merge, AClockThatIsWrongDoesNotPutALaterThingFirst) {
  Device slow("phone-2", "P-2", {1'764'000'000'000 - 3'600'000}), right("phone-1");
  right.enter("planned", small_plan());
  right.enter("step", R"({"step": "let-by", "answer": "no"})");
  slow.learn(right);
  slow.enter("step", R"({"step": "let-by", "answer": "yes"})");
  EXPECT_TRUE(fold(slow.all().log()).steps[4].behind());
}

}  // namespace
}  // namespace bellhole::job
