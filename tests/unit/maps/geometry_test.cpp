#include "maps/geometry.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <set>

namespace bellhole::maps {
namespace {

XY point() {
  return {*rc::gen::inRange(-5000, 5000) / 10.0, *rc::gen::inRange(-5000, 5000) / 10.0};
}
Line line() {
  Line out{point()};
  const int steps = *rc::gen::inRange(1, 6);
  for (int i = 0; i < steps; ++i) out.push_back(point());
  return out;
}

TEST(MapGeometry, FootIsTheNearestPointAndLiesAtItsStation) {
  rc::check([] {
    const Line l = line();
    const XY p = point();
    const Foot foot = foot_on(l, p);
    RC_ASSERT(std::abs(distance(foot.at, p) - foot.away) < 1e-6);
    RC_ASSERT(distance(point_at(l, foot.station), foot.at) < 1e-6);
    for (int k = 0; k <= 200; ++k)
      RC_ASSERT(distance(point_at(l, length(l) * k / 200.0), p) >= foot.away - 1e-6);
  });
}

TEST(MapGeometry, CutPartsAddUpToTheLine) {
  rc::check([] {
    const Line l = line();
    const double whole = length(l);
    RC_PRE(whole > 1.0);
    const double at = whole * *rc::gen::inRange(1, 99) / 100.0;
    const Line a = cut(l, 0.0, at), b = cut(l, at, whole);
    RC_ASSERT(std::abs(length(a) + length(b) - whole) < 1e-6);
    RC_ASSERT(distance(a.back(), b.front()) < 1e-6);
    RC_ASSERT(a.front() == l.front());
  });
}

TEST(MapGeometry, CrossingLiesOnBothSegments) {
  rc::check([] {
    const XY a = point(), b = point(), c = point(), d = point();
    const auto at = crossing(a, b, c, d);
    RC_ASSERT(at.has_value() == crossing(c, d, a, b).has_value());
    if (at) {
      RC_ASSERT(foot_on(Line{a, b}, *at).away < 1e-6);
      RC_ASSERT(foot_on(Line{c, d}, *at).away < 1e-6);
    }
  });
}

TEST(MapGeometry, IndexFindsEveryLineThatIsNear) {
  rc::check([] {
    const double cell = *rc::gen::inRange(1, 400) / 2.0;
    SegmentIndex index(cell);
    std::vector<Line> lines;
    for (int i = 0; i < 20; ++i) {
      lines.push_back(line());
      index.add(static_cast<std::size_t>(i), lines.back());
    }
    const XY p = point();
    const double reach = *rc::gen::inRange(0, 200);
    std::set<std::size_t> found;
    for (const auto* segment : index.near(p, p, reach)) found.insert(segment->line);
    for (std::size_t i = 0; i < lines.size(); ++i) {
      if (foot_on(lines[i], p).away <= reach) RC_ASSERT(found.contains(i));
    }
  });
}

TEST(MapGeometry, PointIndexFindsExactlyWhatIsNear) {
  rc::check([] {
    PointIndex index(7.0);
    std::vector<XY> points;
    for (std::size_t i = 0; i < 40; ++i) {
      points.push_back(point());
      index.add(i, points.back());
    }
    const XY p = point();
    const double reach = *rc::gen::inRange(0, 300);
    std::vector<std::size_t> expected;
    for (std::size_t i = 0; i < points.size(); ++i) {
      if (distance(points[i], p) <= reach) expected.push_back(i);
    }
    RC_ASSERT(index.near(p, reach) == expected);
  });
}

TEST(MapGeometry, AStrayAcrossTheWorldIsFoundAndCostsNothing) {
  SegmentIndex index(50.0);
  index.add(0, Line{{-1e8, 3.0}, {1e8, 3.0}});
  EXPECT_EQ(index.near({17.0, 0.0}, {17.0, 0.0}, 5.0).size(), 1u);
}

}  // namespace
}  // namespace bellhole::maps
