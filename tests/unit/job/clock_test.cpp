#include "job/clock.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace bellhole::job {
namespace {

TEST(Moments, AreReadWithTheirOffsetAndPrintedAlike) {
  for (const char* text :
       {"2026-11-25T10:41:07-05:00", "2026-11-25T10:41:07.250Z", "1999-12-31T23:59:59+05:45"}) {
    const auto read = read_moment(text, "t");
    ASSERT_TRUE(read) << text;
    EXPECT_EQ(print_moment(*read), text);
  }
  EXPECT_EQ(local_clock(*read_moment("2026-11-25T00:30:00+01:00", "t")), "00:30:00");
  EXPECT_EQ(local_date(*read_moment("2026-11-25T00:30:00+01:00", "t")), "2026-11-25");
}

TEST(Moments, WhatIsNoMomentIsRefused) {
  for (const char* text :
       {"", "2026-11-25", "2026-11-25T10:41:07", "2026-11-25 10:41:07Z", "2026-13-25T10:41:07Z",
        "2026-11-25T24:00:00Z", "2026-11-25T10:60:00Z", "2026-11-25T10:41:07.Z",
        "2026-11-25T10:41:07+24:00", "2026-11-25T10:41:07Zx", "2026-11-25T10:41:07-0500"})
    EXPECT_FALSE(read_moment(text, "t")) << text;
}

RC_GTEST_PROP(Moments, ReadBackWhatWasPrinted, ()) {
  const Moment moment{{*rc::gen::inRange<std::int64_t>(-2'000'000'000'000, 7'000'000'000'000)},
                      *rc::gen::inRange(-1439, 1440)};
  const auto read = read_moment(print_moment(moment), "t");
  RC_ASSERT(read.has_value());
  RC_ASSERT(*read == moment);
}

RC_GTEST_PROP(Uuids, CarryTheirTime, ()) {
  const Instant at{*rc::gen::inRange<std::int64_t>(0, std::int64_t{1} << 48)};
  std::array<std::uint8_t, 10> random{};
  for (auto& byte : random) byte = *rc::gen::arbitrary<std::uint8_t>();
  RC_ASSERT(time_of_uuid(uuid_v7(at, random)) == at);
}

TEST(Uuids, OtherTextsHaveNone) {
  EXPECT_FALSE(time_of_uuid("017f22e2-79b0-4cc3-98c4-dc0c0c07398f")) << "version 4";
  EXPECT_FALSE(time_of_uuid("017f22e2-79b0-7cc3-18c4-dc0c0c07398f")) << "another variant";
  EXPECT_FALSE(time_of_uuid("017f22e279b07cc398c4dc0c0c07398f"));
  EXPECT_FALSE(time_of_uuid("017g22e2-79b0-7cc3-98c4-dc0c0c07398f"));
}

}  // namespace
}  // namespace bellhole::job
