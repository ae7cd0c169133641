#include "squeeze/windows.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>

namespace bellhole::squeeze {
namespace {

Length in(double value) { return Length::from_si(value * 0.0254); }
double to_in(Length length) { return length.si() / 0.0254; }

Hole hole(double from, double to, std::vector<Feature> features) {
  return {{in(from), in(to)}, std::move(features)};
}

TEST(Windows, LieBetweenWhatMustBeKeptClearOf) {
  const Hole h = hole(
      0, 84, {{"joint", in(8), in(8)}, {"squeeze", in(33), in(33)}, {"fitting", in(66), in(78)}});
  const auto w = windows(h, in(13.5), in(3));
  ASSERT_EQ(w.size(), 1u);
  EXPECT_NEAR(to_in(w[0].first), 46.5, 1e-9);
  EXPECT_NEAR(to_in(w[0].second), 52.5, 1e-9);
}

TEST(Windows, TheHalfWidthOnlyHasToFit) {
  const auto bare = windows(hole(0, 84, {}), in(13.5), in(3));
  ASSERT_EQ(bare.size(), 1u);
  EXPECT_NEAR(to_in(bare[0].first), 3, 1e-9);
  EXPECT_NEAR(to_in(bare[0].second), 81, 1e-9);
  EXPECT_TRUE(windows(hole(0, 5, {}), in(13.5), in(3)).empty());
  const auto wide_tool = windows(hole(0, 84, {{"joint", in(40), in(40)}}), in(2), in(6));
  ASSERT_EQ(wide_tool.size(), 2u);
  EXPECT_NEAR(to_in(wide_tool[0].second), 34, 1e-9) << "a wide tool must not touch the joint";
}

TEST(Windows, OnePositionIsAWindow) {
  const auto w =
      windows(hole(0, 27, {{"joint", in(0), in(0)}, {"joint", in(27), in(27)}}), in(13.5), in(3));
  ASSERT_EQ(w.size(), 1u);
  EXPECT_NEAR(to_in(w[0].first), 13.5, 1e-6);
  EXPECT_NEAR(to_in(w[0].second), 13.5, 1e-6);
  EXPECT_TRUE(windows(hole(0, 26.99, {{"joint", in(0), in(0)}, {"joint", in(26.99), in(26.99)}}),
                      in(13.5), in(3))
                  .empty());
}

TEST(Windows, FeaturesInTheGroundCount) {
  const auto w =
      windows(hole(0, 60, {{"fitting", in(-6), in(-2)}, {"joint", in(70), in(70)}}), in(12), in(3));
  ASSERT_EQ(w.size(), 1u);
  EXPECT_NEAR(to_in(w[0].first), 10, 1e-9);
  EXPECT_NEAR(to_in(w[0].second), 57, 1e-9) << "the tool's half-width binds at this end";
}

TEST(Windows, SeenWindowsHaveNothingHiddenWithinTheClearance) {
  const Hole h = hole(0, 40, {});
  const auto seen = seen_windows(h, windows(h, in(13.5), in(3)), in(13.5));
  ASSERT_EQ(seen.size(), 1u);
  EXPECT_NEAR(to_in(seen[0].first), 13.5, 1e-9);
  EXPECT_NEAR(to_in(seen[0].second), 26.5, 1e-9);
  const Hole small = hole(0, 20, {});
  EXPECT_TRUE(seen_windows(small, windows(small, in(13.5), in(3)), in(13.5)).empty());
}

TEST(Windows, PlacesKeepTheirDistance) {
  const std::vector<Window> w{{in(10), in(24)}, {in(40), in(41)}};
  const auto p = places(w, in(12));
  ASSERT_EQ(p.size(), 3u);
  EXPECT_NEAR(to_in(p[0]), 10, 1e-9);
  EXPECT_NEAR(to_in(p[1]), 22, 1e-9);
  EXPECT_NEAR(to_in(p[2]), 40, 1e-9);
  EXPECT_EQ(places(w, Length()).size(), 2u) << "no distance asked: one a window";
  EXPECT_TRUE(places({}, in(12)).empty());
}

TEST(Windows, AHoleForOneShowsTheClearanceOnBothSides) {
  EXPECT_NEAR(to_in(hole_length(1, in(13.5), in(13.5), in(3))), 27, 1e-9);
  EXPECT_NEAR(to_in(hole_length(3, in(13.5), in(13.5), in(3))), 54, 1e-9);
  EXPECT_NEAR(to_in(hole_length(1, in(20), in(5), in(10))), 20, 1e-9);
}

TEST(Windows, AHoleBesideANewJointEndsAtTheToolsEdge) {
  EXPECT_NEAR(to_in(hole_beside_joint(2, in(25.875), in(25.875), in(3))), 54.75, 1e-9);
  EXPECT_NEAR(to_in(hole_beside_joint(3, in(25.875), in(25.875), in(3))), 80.625, 1e-9);
  EXPECT_NEAR(to_in(hole_beside_joint(1, in(20), in(5), in(10))), 20, 1e-9)
      << "a wide tool keeps its own half-width from the joint";
}

RC_GTEST_PROP(Windows, HoldExactlyThePositionsThatTheRuleAllows, ()) {
  const auto whole = [](int low, int high) {
    return static_cast<double>(*rc::gen::inRange(low, high));
  };
  const double end = whole(1, 120), clearance = whole(0, 20), half = whole(0, 10);
  std::vector<Feature> features;
  const int count = *rc::gen::inRange(0, 5);
  for (int i = 0; i < count; ++i) {
    const double from = whole(-20, 140);
    features.push_back({"joint", in(from), in(from + whole(0, 12))});
  }
  const Hole h = hole(0, end, features);
  const auto found = windows(h, in(clearance), in(half));
  for (double x = 0.25; x < end; x += 0.5) {  // never on an edge, which lie on whole inches
    const bool fits = x - half >= 0 && x + half <= end;
    const bool clear = std::ranges::all_of(features, [&](const Feature& f) {
      const double near = std::max({to_in(f.from) - x, x - to_in(f.to), 0.0});
      const bool on_it = x > to_in(f.from) && x < to_in(f.to);
      return !on_it && near >= clearance && near >= half;
    });
    const bool inside = std::ranges::any_of(
        found, [&](const Window& w) { return w.first <= in(x) && in(x) <= w.second; });
    RC_ASSERT(inside == (fits && clear));
  }
  for (std::size_t i = 1; i < found.size(); ++i) RC_ASSERT(found[i - 1].second < found[i].first);
}

}  // namespace
}  // namespace bellhole::squeeze
