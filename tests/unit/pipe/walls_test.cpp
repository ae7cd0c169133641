#include "pipe/walls.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <array>
#include <cmath>

namespace bellhole::pipe {
namespace {

Size size(std::string_view text) { return read_size(text, "--size").value(); }
Walls walls(std::string_view text, double ratio) {
  return walls_by_ratio(size(text), ratio, "--dr").value();
}
double in(Length length) { return length.si() / 0.0254; }
double mm(Length length) { return length.si() * 1e3; }

TEST(Walls, InchWallsAreTheMinimumAndUpToTwelvePercentMore) {
  const Walls w = walls("IPS 8", 11);
  EXPECT_NEAR(in(w.minimum), 0.784, 1e-12);
  EXPECT_NEAR(in(w.nominal), 0.784 * 1.06, 1e-12);
  EXPECT_NEAR(in(w.maximum), 0.784 * 1.12, 1e-12);
  EXPECT_FALSE(w.measured);
}

TEST(Walls, IsoWallsComeFromTheTable) {
  const Walls w = walls("dn 125", 11);
  EXPECT_NEAR(mm(w.minimum), 11.4, 1e-12);
  EXPECT_NEAR(mm(w.maximum), 12.7, 1e-12);
  EXPECT_NEAR(mm(w.nominal), 12.05, 1e-12);
  EXPECT_NEAR(mm(walls("dn 110", 11).maximum), 11.1, 1e-12)
      << "1.1 x 10.0 + 0.1 is exact and not rounded up";
  EXPECT_NEAR(mm(walls("dn 75", 11).minimum), 6.8, 1e-12)
      << "printed, though 75 / 11 rounds up to 6.9";
}

TEST(Walls, RatiosThatLookAlikeAreDifferentPipes) {
  EXPECT_NEAR(in(walls("IPS 4", 11.5).minimum), 0.391, 1e-12);
  EXPECT_NEAR(in(walls("IPS 4", 11).minimum), 0.409, 1e-12);
  EXPECT_NEAR(mm(walls("dn 180", 17).minimum), 10.7, 1e-12);
  EXPECT_NEAR(mm(walls("dn 180", 17.6).minimum), 10.3, 1e-12);
}

TEST(Walls, UnknownRatiosNameTheNearest) {
  const auto refusal = [](std::string_view text, double ratio) {
    const auto w = walls_by_ratio(size(text), ratio, "--dr");
    EXPECT_FALSE(w) << text << " " << ratio;
    return w ? Trouble{} : w.error();
  };
  const Trouble t = refusal("IPS 8", 11.2);
  EXPECT_EQ(t.code, Code::unknown_ratio);
  EXPECT_EQ(t.where, "--dr");
  EXPECT_NE(t.fix.find("11, 11.5"), std::string::npos);
  EXPECT_NE(refusal("dn 125", 13.5).fix.find("13.6"), std::string::npos);
  EXPECT_EQ(refusal("IPS 1/2", 17).code, Code::unknown_ratio) << "its wall would be under 0.062 in";
  EXPECT_EQ(refusal("dn 20", 17).code, Code::unknown_ratio);
  EXPECT_FALSE(walls_by_ratio(size("IPS 8"), std::nan(""), "--dr"));
}

TEST(Walls, PrintedWallsOverrideTheFormula) {
  EXPECT_NEAR(in(walls("CTS 1/2", 7).minimum), 0.090, 1e-12);
  EXPECT_NEAR(in(walls("CTS 1", 11).minimum), 0.099, 1e-12);
  EXPECT_FALSE(walls("CTS 1", 11).note.empty());
  EXPECT_TRUE(walls("IPS 8", 11).note.empty());
}

TEST(Walls, AMeasuredWallReplacesAllThree) {
  const std::array one{Length::from_si(0.0114)};
  const Walls w = walls_measured(size("dn 125"), one, "--wall").value();
  EXPECT_TRUE(w.measured);
  EXPECT_EQ(w.minimum, one[0]);
  EXPECT_EQ(w.nominal, one[0]);
  EXPECT_EQ(w.maximum, one[0]);
  const std::array three{Length::from_si(0.0116), Length::from_si(0.0114), Length::from_si(0.0121)};
  const Walls many = walls_measured(size("dn 125"), three, "--wall").value();
  EXPECT_EQ(many.minimum, three[1]);
  EXPECT_EQ(many.maximum, three[2]);
  EXPECT_NEAR(mm(many.nominal), 11.7, 1e-9);
}

TEST(Walls, AReadingThatNoPipeHasIsRefused) {
  for (const double reading : {0.0391, 0.0, -0.01, 0.0005, 1.0}) {
    const std::array one{Length::from_si(reading)};
    const auto w = walls_measured(size("IPS 4"), one, "--wall");
    ASSERT_FALSE(w) << reading;
    EXPECT_EQ(w.error().code, Code::out_of_range);
  }
}

RC_GTEST_PROP(Walls, AreOrderedAndNearTheRatioForEverySize, ()) {
  const Size any = *rc::gen::elementOf(sizes());
  const auto known = ratios(any);
  RC_ASSERT(!known.empty());
  const double ratio = *rc::gen::elementOf(known);
  const auto w = walls_by_ratio(any, ratio, "--dr");
  RC_ASSERT(w.has_value());
  RC_ASSERT(w->minimum < w->nominal);
  RC_ASSERT(w->nominal < w->maximum);
  RC_ASSERT(std::abs(any.od / w->minimum / ratio - 1.0) < 0.08 || any.od.si() < 0.033);
  RC_ASSERT(!w->source.empty());
}

}  // namespace
}  // namespace bellhole::pipe
