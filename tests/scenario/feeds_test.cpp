// Where the gas at a place comes from.
#include <gtest/gtest.h>

#include <algorithm>

#include "tests/scenario/drawing.hpp"

namespace bellhole::scenario {
namespace {

std::vector<std::string> rules(const Drawing& town, const network::Feeds& feeds) {
  std::vector<std::string> list;
  for (const Finding& finding : network::findings(town.network(), feeds))
    list.push_back(finding.rule);
  return list;
}
bool has(const std::vector<std::string>& list, const char* rule) {
  return std::ranges::find(list, rule) != list.end();
}

TEST(Feeds, ARingFeedsFromBothSides) {
  Drawing town(R"(
    A-4--------4-B
    |            |
    4            2
    |            |
    C-2----------D)");
  town.feed("A", "50psig");
  EXPECT_EQ(town.feeds("A-B@50m").fed_sides(), 2u);
  EXPECT_EQ(town.feeds("C-D@50m").fed_sides(), 2u);
}

TEST(Feeds, AStreetThatLooksTwoWayIsNotBehindAClosedValve) {
  Drawing town(R"(
    A-4------x-4-B
    |            |
    4            2
    |            |
    C-2----------D)");
  town.feed("A", "50psig");
  const auto feeds = town.feeds("C-D@50m");
  ASSERT_EQ(feeds.sides.size(), 2u);
  EXPECT_EQ(feeds.fed_sides(), 1u);
  EXPECT_EQ(feeds.sides[0].feeds.size(), 1u) << "over C";
  EXPECT_TRUE(feeds.sides[1].feeds.empty()) << "over D and B the way ends at V1";
  EXPECT_TRUE(has(rules(town, feeds), "feeds.one_side"));
}

TEST(Feeds, TheWayNamesItsRegulatorsAndValves) {
  Drawing town("A-4--v-->-4--v---B");
  town.feed("A", "50psig").regulator("R1", "10psig");
  const auto feeds = town.feeds("R1-B@70m");
  ASSERT_EQ(feeds.sides[0].feeds.size(), 1u);
  EXPECT_EQ(feeds.sides[0].feeds[0].regulators, std::vector<network::Index>{0});
  EXPECT_EQ(feeds.sides[0].feeds[0].valves.size(), 2u);
  EXPECT_TRUE(feeds.sides[1].feeds.empty()) << "B is a dead end";
}

TEST(Feeds, BackThroughARegulatorIsSaidAndACheckStopsIt) {
  Drawing town("A-4---->-4-----B");
  town.feed("B", "10psig").regulator("R1", "12psig");
  const auto feeds = town.feeds("A-R1@20m");
  EXPECT_EQ(feeds.fed_sides(), 1u);
  EXPECT_TRUE(has(rules(town, feeds), "feeds.backwards"));
  town.one_way("R1");
  const auto none = town.feeds("A-R1@20m");
  EXPECT_EQ(none.fed_sides(), 0u);
  EXPECT_TRUE(has(rules(town, none), "feeds.none"));
}

TEST(Feeds, OneHydraulicTruth) {
  // What no source reaches, the steady state has out, and the other way round.
  Drawing town(R"(
    A-4--c--x--4-B
    |            |
    4            2
    c            x
    |            |
    C-2----c-----D)");
  town.tier("A", "street", "60psig", "20psig").feed("A", "50psig", "9000scfh").customers("100scfh");
  EXPECT_EQ(town.feeds("B-D@10m").fed_sides(), 0u);
  EXPECT_EQ(town.flow().out(), "");
  EXPECT_TRUE(std::isnan(town.flow().psig("B")));
}

}  // namespace
}  // namespace bellhole::scenario
