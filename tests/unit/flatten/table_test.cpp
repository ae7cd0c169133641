#include "flatten/table.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

namespace bellhole::flatten {
namespace {

/// Two ratios, two bars, two stations on the way and one pressed.
struct Small {
  std::array<double, 2> ratios{8.0, 16.0}, bars{0.1, 0.4}, way{0.5, 1.0};
  std::array<double, 1> pressed{0.3};
  std::vector<std::uint16_t> values;
  Table table;
  Small() {
    for (const int ratio : {1, 4})
      for (const int bar : {1, 9})
        for (const int run : {100, 90, 110})
          for (const int station : {1, 2, 3})
            values.push_back(static_cast<std::uint16_t>(ratio * bar * run * station));
    table = {.ratios = ratios,
             .bars = bars,
             .way = way,
             .pressed = pressed,
             .quick_s = 10.0,
             .slow_s = 1000.0,
             .gas = 0.05,
             .gas_power = 0.5,
             .unit = 1e-4,
             .values = values};
  }
};

Jaws jaws(double od, double ratio, double bar, double yield = 20e6, double pressure = 0.0) {
  return {Length::from_si(od),    Length::from_si(od / ratio),   Length::from_si(od * bar),
          Stress::from_si(yield), Stress::from_si(40.0 * yield), GaugePressure::from_si(pressure)};
}

Duration seconds(double s) { return Duration::from_si(s); }

/// Forces as shares of yield x wall x OD.
std::vector<double> shares(const Table& t, const Jaws& j, double closing_s) {
  std::vector<double> list;
  for (const Sample& s : tabulated(t, j, seconds(closing_s)))
    list.push_back(s.force.si() / (j.yield.si() * j.wall.si() * j.od.si()));
  return list;
}

TEST(Table, StandsOnItsNodesAndHalfWayInLogarithmsBetweenThem) {
  const Small small;
  const auto node = shares(small.table, jaws(0.1, 8.0, 0.1), 10.0);
  ASSERT_EQ(node.size(), 3U);
  for (std::size_t i = 0; i < 3; ++i) EXPECT_NEAR(node[i], 0.01 * static_cast<double>(i + 1), 1e-9);
  EXPECT_NEAR(shares(small.table, jaws(0.1, 16.0, 0.4), 10.0)[0], 0.36, 1e-9);
  EXPECT_NEAR(shares(small.table, jaws(0.1, 8.0 * std::sqrt(2.0), 0.2), 10.0)[0], 0.06, 1e-9);
  EXPECT_NEAR(shares(small.table, jaws(0.1, 8.0, 0.1), 1000.0)[0], 0.009, 1e-9);
  EXPECT_NEAR(shares(small.table, jaws(0.1, 8.0, 0.1), 100.0)[0], 0.0095, 1e-9);
  EXPECT_NEAR(shares(small.table, jaws(0.1, 8.0, 0.1, 20e6, 1e6), 10.0)[0], 0.011, 1e-9);
  EXPECT_NEAR(shares(small.table, jaws(0.1, 8.0, 0.1, 20e6, 0.25e6), 10.0)[0], 0.0105, 1e-9)
      << "a quarter of the gas, and the square root of it";
}

TEST(Table, StationsAreGaps) {
  const Small small;
  const auto curve = tabulated(small.table, jaws(0.1, 8.0, 0.1), seconds(10.0));
  EXPECT_NEAR(curve[0].gap.si(), 0.1 - 0.5 * (0.1 - 0.025), 1e-12);
  EXPECT_NEAR(curve[1].gap.si(), 0.025, 1e-12);
  EXPECT_NEAR(curve[2].gap.si(), 0.025 * 0.7, 1e-12);
}

TEST(Table, NeverFallsOnTheWayDown) {
  Small small;
  small.values[1] = 50;  // below the station before it
  const auto node = shares(small.table, jaws(0.1, 8.0, 0.1), 10.0);
  EXPECT_EQ(node[1], node[0]);
}

TEST(Table, SaysWhatItDoesNotReach) {
  const Small small;
  const auto says = [&](const Jaws& j, double closing_s = 100.0, double gap_over_two_walls = 0.7) {
    return beyond(small.table, j, seconds(closing_s), walls_meet(j.wall) * gap_over_two_walls);
  };
  EXPECT_EQ(says(jaws(0.1, 8.0, 0.1), 10.0), "");
  EXPECT_EQ(says(jaws(0.1, 16.0, 0.4, 20e6, 1e6), 1000.0), "");
  EXPECT_NE(says(jaws(0.1, 16.1, 0.1)).find("wall is 16.1"), std::string::npos);
  EXPECT_NE(says(jaws(0.1, 7.9, 0.1)).find("from 8 to 16"), std::string::npos);
  EXPECT_NE(says(jaws(0.1, 9.0, 0.09)).find("bar radius"), std::string::npos);
  EXPECT_NE(says(jaws(0.1, 9.0, 0.1), 9.0).find("time"), std::string::npos);
  EXPECT_NE(says(jaws(0.1, 9.0, 0.1, 20e6, 1.1e6)).find("line pressure"), std::string::npos);
  EXPECT_NE(says(jaws(0.1, 9.0, 0.1), 100.0, 0.69).find("compression"), std::string::npos);
}

/// Somewhere in the table that comes with this version.
Jaws anywhere(double od) {
  const auto part = [] { return *rc::gen::inRange(0, 1001) / 1000.0; };
  const Table& t = table();
  const auto between = [&](std::span<const double> nodes) {
    return nodes.front() * std::pow(nodes.back() / nodes.front(), part());
  };
  const double ratio = between(t.ratios), bar = between(t.bars);
  return jaws(od, ratio, bar, 18e6, part() * t.gas * 18e6);
}

RC_GTEST_PROP(Table, RisesOnTheWayDownAndScalesWithSizeAndYield, ()) {
  const Jaws j = anywhere(0.1);
  const Duration closing = seconds(std::pow(10.0, *rc::gen::inRange(100, 301) / 100.0));
  RC_ASSERT(beyond(table(), j, closing, j.wall * 1.4).empty());
  const auto curve = tabulated(table(), j, closing);
  Jaws larger = j;
  larger.od = j.od * 3.0;
  larger.wall = j.wall * 3.0;
  larger.bar_radius = j.bar_radius * 3.0;
  larger.yield = j.yield * 1.5;
  larger.pressure = GaugePressure::from_si(j.pressure.si() * 1.5);
  const auto scaled = tabulated(table(), larger, closing);
  Force before;
  for (std::size_t i = 0; i < curve.size(); ++i) {
    RC_ASSERT(curve[i].force >= before);
    RC_ASSERT(std::abs(scaled[i].force / (curve[i].force * 13.5) - 1.0) < 1e-9);
    before = curve[i].force;
  }
}

TEST(Table, SaysHowFarItIsOff) {
  const Score& score = table().score;
  EXPECT_GE(score.runs, 12);
  EXPECT_GE(score.within, 0.95)
      << "of the places that it was held against are off by less than 4 %";
  EXPECT_GT(score.worst, 0.0);
  EXPECT_FALSE(table().made_by.empty());
}

}  // namespace
}  // namespace bellhole::flatten
