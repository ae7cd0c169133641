#include "squeeze/pace.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

namespace bellhole::squeeze {
namespace {

Length in(double value) { return Length::from_si(value * 0.0254); }
Speed in_per_min(double value) { return Speed::from_si(value * 0.0254 / 60); }
Duration s(double value) { return Duration::from_si(value); }

PaceQuestion opening() {
  return {.from = in(1.0976),
          .to = in(8.625),
          .speed = in_per_min(0.5),
          .step = in(0.5),
          .pause = s(60),
          .mark_every = in(0.5),
          .per_count = {}};
}

TEST(Pace, ClosingWithoutStepsIsOneStretch) {
  const Timetable t = timetable({.from = in(8.625),
                                 .to = in(1.0976),
                                 .speed = in_per_min(2),
                                 .step = {},
                                 .pause = {},
                                 .mark_every = in(0.5),
                                 .per_count = {}});
  ASSERT_EQ(t.stretches.size(), 1u);
  EXPECT_NEAR(t.moving.si(), 225.822, 1e-6);
  EXPECT_EQ(t.moving, t.with_waits);
  EXPECT_EQ(t.marks.size(), 17u);
  EXPECT_EQ(t.marks.front().gap, in(8.625));
  EXPECT_EQ(t.marks.back().gap, in(1.0976));
  EXPECT_NEAR(t.marks[1].at.si(), 15.0, 1e-9);
}

TEST(Pace, OpeningWaitsBetweenStepsAndNotAfterTheLast) {
  const Timetable t = timetable(opening());
  ASSERT_EQ(t.stretches.size(), 16u);
  EXPECT_NEAR(t.moving.si(), 903.288, 1e-6);
  EXPECT_NEAR(t.with_waits.si(), 1803.288, 1e-6);
  EXPECT_EQ(t.stretches.back().wait, Duration());
  EXPECT_NEAR(t.stretches[1].starts.si(), 120.0, 1e-9);
  EXPECT_EQ(t.stretches.back().to, in(8.625));
}

TEST(Pace, AWholeNumberOfStepsHasNoCrumb) {
  PaceQuestion q = opening();
  q.from = in(0.5);
  q.to = in(3.5);
  EXPECT_EQ(timetable(q).stretches.size(), 6u);
}

TEST(Pace, CountsStrokesAndTheirShortestTime) {
  PaceQuestion q = opening();
  q.per_count = in(0.05);
  const Timetable t = timetable(q);
  EXPECT_NEAR(t.per_count->si(), 6.0, 1e-9);
  EXPECT_NEAR(*t.marks.back().count, 7.5274 / 0.05, 1e-6);
  EXPECT_EQ(*t.marks.front().count, 0.0);
  EXPECT_FALSE(timetable(opening()).marks.front().count);
}

RC_GTEST_PROP(Pace, NeverAsksForMoreThanTheSpeedAndNeverSkipsAWait, ()) {
  const auto tenth = [](int low, int high) { return *rc::gen::inRange(low, high) / 10.0; };
  PaceQuestion q;
  q.from = in(tenth(1, 120));
  q.to = in(tenth(1, 120));
  q.speed = in_per_min(tenth(1, 40));
  if (*rc::gen::arbitrary<bool>()) q.step = in(tenth(1, 30));
  if (*rc::gen::arbitrary<bool>()) q.pause = s(tenth(0, 1200));
  q.mark_every = in(tenth(1, 20));
  const Timetable t = timetable(q);
  RC_ASSERT(std::abs(t.travel.si() - std::abs((q.from - q.to).si())) < 1e-12);
  Duration moved, clock;
  for (std::size_t i = 0; i < t.stretches.size(); ++i) {
    const Stretch& stretch = t.stretches[i];
    const double length = std::abs((stretch.to - stretch.from).si());
    RC_ASSERT(std::abs((stretch.ends - stretch.starts).si() - length / q.speed.si()) < 1e-6);
    RC_ASSERT(std::abs((stretch.starts - clock).si()) < 1e-6);
    if (q.step) RC_ASSERT(length <= q.step->si() + 1e-9);
    moved = moved + (stretch.ends - stretch.starts);
    clock = stretch.ends + stretch.wait;
  }
  RC_ASSERT(std::abs((moved - t.moving).si()) < 1e-6);
  RC_ASSERT(std::abs((clock - t.with_waits).si()) < 1e-6);
  for (std::size_t i = 1; i < t.marks.size(); ++i) {
    const double travelled = (t.marks[i].travelled - t.marks[i - 1].travelled).si();
    RC_ASSERT(travelled >= -1e-12);
    RC_ASSERT((t.marks[i].at - t.marks[i - 1].at).si() >= travelled / q.speed.si() - 1e-6);
  }
}

}  // namespace
}  // namespace bellhole::squeeze
