#include "network/feeds.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "tests/support/town.hpp"

namespace bellhole::network {
namespace {

using support::Town;

/// S --M0-- a --M1-- b --M2-- c, T --M3-- c: two sources, one at each end.
struct Line {
  Town town;
  Index s, a, b, c, t, m0, m1, m2, m3;
  Line() {
    const Index tier = town.tier("60", 60 * support::psi, 20 * support::psi);
    s = town.node("S", tier, 0), a = town.node("a", tier, 100), b = town.node("b", tier, 200),
    c = town.node("c", tier, 300), t = town.node("T", tier, 400);
    m0 = town.pipe("M0", s, a, 100, 0.1), m1 = town.pipe("M1", a, b, 100, 0.1),
    m2 = town.pipe("M2", b, c, 100, 0.1), m3 = town.pipe("M3", t, c, 100, 0.1);
    town.source("west", s, 50 * support::psi);
    town.source("east", t, 50 * support::psi);
  }
};

Length metres(double m) { return Length::from_si(m); }

bool has(const Findings& findings, std::string_view rule) {
  return std::ranges::any_of(findings, [&](const Finding& f) { return f.rule == rule; });
}

TEST(Feeds, EachSideNamesItsSourcesAndTheWay) {
  Line line;
  line.town.valve("V", line.m0, 30);
  const Feeds feeds = feeds_of(line.town.net, line.m1, metres(40));
  ASSERT_EQ(feeds.sides.size(), 2u);
  EXPECT_EQ(feeds.fed_sides(), 2u);
  ASSERT_EQ(feeds.sides[0].feeds.size(), 1u);
  EXPECT_EQ(feeds.sides[0].feeds[0].source, 0);
  EXPECT_DOUBLE_EQ(feeds.sides[0].feeds[0].length.si(), 140);
  EXPECT_EQ(feeds.sides[0].feeds[0].valves.size(), 1u);
  EXPECT_EQ(feeds.sides[1].feeds[0].source, 1);
  EXPECT_DOUBLE_EQ(feeds.sides[1].feeds[0].length.si(), 260);
  EXPECT_TRUE(has(findings(line.town.net, feeds), "feeds.both_sides"));
}

TEST(Feeds, AClosedValveOnTheSameMainPartsOnlyItsSide) {
  Line line;
  line.town.valve("V", line.m1, 70, Position::closed);
  const Feeds before = feeds_of(line.town.net, line.m1, metres(40));
  EXPECT_FALSE(before.sides[0].feeds.empty());
  EXPECT_TRUE(before.sides[1].feeds.empty());
  const Feeds behind = feeds_of(line.town.net, line.m1, metres(80));
  EXPECT_TRUE(behind.sides[0].feeds.empty());
  EXPECT_FALSE(behind.sides[1].feeds.empty());
  EXPECT_TRUE(has(findings(line.town.net, behind), "feeds.one_side"));
}

TEST(Feeds, GasDoesNotComeRoundThroughThePlaceItself) {
  Line line;
  line.town.net.sources.node[1] = line.s;  // both sources in the west
  const Feeds feeds = feeds_of(line.town.net, line.m1, metres(40));
  EXPECT_EQ(feeds.sides[0].feeds.size(), 2u);
  EXPECT_TRUE(feeds.sides[1].feeds.empty());
}

TEST(Feeds, ARegulatorIsPassedBackwardsOnlyWhereNothingStopsTheGas) {
  Line line;
  line.town.valve("V", line.m0, 30, Position::closed);
  const Index d = line.town.node("d", 0, 150);
  const Index behind = line.town.pipe("B", d, line.town.node("e", 0, 160), 10, 0.1);
  const Index r = line.town.regulator("R", d, line.c,
                                      30 * support::psi);  // outlet at c: gas to d only backwards
  auto& blocks = line.town.net.regulators.blocks_reverse[static_cast<std::size_t>(r)];
  blocks = Ternary::yes;
  EXPECT_EQ(feeds_of(line.town.net, behind, metres(5)).fed_sides(), 0u);
  EXPECT_TRUE(
      has(findings(line.town.net, feeds_of(line.town.net, behind, metres(5))), "feeds.none"));
  blocks = Ternary::unknown;
  const Feeds feeds = feeds_of(line.town.net, behind, metres(5));
  ASSERT_EQ(feeds.fed_sides(), 1u);
  EXPECT_EQ(feeds.sides[0].feeds[0].backwards, std::vector<Index>{r});
  EXPECT_TRUE(has(findings(line.town.net, feeds), "feeds.backwards"));
}

TEST(Feeds, ANodeHasASideForEachMainRegulatorAndSource) {
  Line line;
  const Feeds at_b = feeds_of(line.town.net, line.b);
  EXPECT_EQ(at_b.sides.size(), 2u);
  EXPECT_EQ(at_b.fed_sides(), 2u);
  const Feeds at_s = feeds_of(line.town.net, line.s);
  EXPECT_EQ(at_s.sides.size(), 2u) << "M0 and the source itself";
  EXPECT_EQ(at_s.fed_sides(), 2u);
}

}  // namespace
}  // namespace bellhole::network
