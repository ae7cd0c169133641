// Twelve characters over the radio: what goes in comes out, on the unsafe side of a tenth, and
// nothing that was misread is taken.
#include "job/radio.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/unit/job/devices.hpp"

namespace bellhole::job {
namespace {

Radio any_radio() {
  using rc::gen::inRange;
  Radio radio{.job_mark = *inRange(0, 961),
              .letter = static_cast<char>('A' + *inRange(0, 26)),
              .cut = *rc::gen::arbitrary<bool>(),
              .minute_utc = *inRange(0, 1440)};
  const int did = *inRange(0, 4);
  if (did > 0) radio.did = std::array{Did::shut, Did::undone, Did::opened}[did - 1];
  if (*rc::gen::arbitrary<bool>()) radio.gap = Length::from_si(*inRange(0, 1'000'000) * 1e-6);
  if (*rc::gen::arbitrary<bool>())
    radio.part = GaugePressure::from_si(*inRange(0, 1'000'000) * 1.0);
  return radio;
}

std::string with(std::string code, std::size_t at, char one) {
  code[at] = one;
  return code;
}

RC_GTEST_PROP(Radio, WhatIsSaidIsHeardAndNeverLess, ()) {
  const Radio said = any_radio();
  const auto heard = read_radio(radio_code(said), "code");
  RC_ASSERT(heard.has_value());
  RC_ASSERT(heard->job_mark == said.job_mark && heard->letter == said.letter);
  RC_ASSERT(heard->did == said.did && heard->cut == said.cut);
  RC_ASSERT(heard->minute_utc == said.minute_utc);
  RC_ASSERT(heard->gap.has_value() == said.gap.has_value());
  RC_ASSERT(heard->part.has_value() == said.part.has_value());
  if (said.gap) {
    const double more = heard->gap->si() - std::min(said.gap->si(), 0.9998);
    RC_ASSERT(more > -2e-9 && more < 1.0001e-4);
  }
  if (said.part) {
    const double more = heard->part->si() - std::min(said.part->si(), 880'800.0);
    RC_ASSERT(more > -2e-3 && more < 100.001);
  }
}

// By brute force, not by the algebra of the sum: every wrong character, every two that changed
// places.
RC_GTEST_PROP(Radio, NothingMisreadIsTaken, ()) {
  const std::string code = radio_code(any_radio());
  for (std::size_t at = 0; at < radio_length; ++at) {
    for (const char one : radio_alphabet)
      RC_ASSERT(one == code[at] || !read_radio(with(code, at, one), "code"));
    for (std::size_t other = at + 1; other < radio_length; ++other) {
      std::string swapped = code;
      std::swap(swapped[at], swapped[other]);
      RC_ASSERT(swapped == code || !read_radio(swapped, "code"));
    }
  }
}

TEST(Radio, AsItIsWrittenByHand) {
  const std::string code = radio_code({.letter = 'B', .minute_utc = 647});
  std::string small = code.substr(0, 4) + " " + code.substr(4, 4) + "-" + code.substr(8);
  for (char& one : small) one = static_cast<char>(std::tolower(static_cast<unsigned char>(one)));
  for (char& one : small)
    if (one == '0') one = 'o';
  ASSERT_TRUE(read_radio(small, "code"));
  EXPECT_EQ(radio_code(*read_radio(small, "code")), code);
  EXPECT_FALSE(read_radio(code.substr(1), "code"));
  EXPECT_FALSE(read_radio(with(code, 3, '?'), "code"));
  EXPECT_EQ(spelled("A4X"), "Alfa 4 X-ray");
}

TEST(Radio, AMinuteIsTheLatestOneThatShowsIt) {
  const Instant heard = read_moment("2026-11-25T00:10:30Z", "t")->at;
  const auto at = [&](int minute) {
    return print_utc(radio_moment({.minute_utc = minute}, heard));
  };
  EXPECT_EQ(at(10), "2026-11-25T00:10:00Z");
  EXPECT_EQ(at(11), "2026-11-24T00:11:00Z");
  EXPECT_EQ(at(1439), "2026-11-24T23:59:00Z");
}

TEST(Radio, WhatTheLogSaysLast) {
  Device phone("phone-1", "P-1");
  phone.enter("opened", R"({"title": "T", "work": "emergency"})");
  phone.enter("pipe_found", R"({"about": "A", "pipe": {"size": "IPS 4"}})");
  EXPECT_FALSE(radio_of(fold(phone.all().log()), "B"));
  EXPECT_FALSE(radio_of(fold(phone.all().log()), "A")->did);
  phone.enter("bars", R"({"about": "A", "gap_m": 0.0139})");
  phone.enter("act", R"({"did": "shut", "about": "A"})");
  phone.enter("reading", R"({"point": "A-part", "pressure_pa_gauge": 3450})");
  phone.enter("reading", R"({"point": "A-live", "pressure_pa_gauge": 400000})");
  const auto radio = radio_of(fold(phone.all().log()), "A");
  ASSERT_TRUE(radio);
  EXPECT_EQ(radio->did, Did::shut);
  EXPECT_DOUBLE_EQ(radio->gap->si(), 0.0139);
  EXPECT_DOUBLE_EQ(radio->part->si(), 3450.0);
  EXPECT_FALSE(radio->cut);
}

}  // namespace
}  // namespace bellhole::job
