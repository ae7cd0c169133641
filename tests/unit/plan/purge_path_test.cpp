#include "plan/purge_path.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "tests/unit/plan/small_town.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using test::Town;

Length m(double metres) { return Length::from_si(metres); }

/// gate --- M1 (100 m) --- a --- M2 (100 m, work at 50) --- b --- M3 (100 m) --- end
///                                  from a a branch B1 (40 m) to a dead end; a gate at `end` too.
struct Street {
  Town town;
  Index m1, m2, m3, branch;
  Part part;
  procedure::Profile rows = profile();

  explicit Street(bool fed_twice = true) {
    const Index gate = town.node("gate", 0, 0), a = town.node("a", 100, 0),
                b = town.node("b", 200, 0), end = town.node("end", 300, 0),
                stub = town.node("stub", 100, 40);
    m1 = town.main("M1", gate, a);
    m2 = town.main("M2", a, b);
    m3 = town.main("M3", b, end);
    branch = town.main("B1", a, stub);
    town.source("GATE", gate);
    if (fed_twice) town.source("EAST", end, 50.0);
    town.customer("near", m1, 20.0);
    town.customer("on-branch", branch, 10.0);
    town.customer("on-main", m2, 80.0);
    town.customer("far", m3, 90.0);
    part.ends = {{"A", ShutKind::squeeze, network::none, m1, m(60.0)},
                 {"B", ShutKind::squeeze, network::none, m3, m(30.0)}};
    part.work = {{m2, m(50.0), m(50.0)}};
    part.out = {1, 2};
    if (!fed_twice) part.out.push_back(3);
  }

  static procedure::Profile profile() {
    return support::invented({{"purge.speed_least", 0.6, "m/s"},
                              {"purge.froude_least", 0.65, ""},
                              {"purge.volumes", 2.0, ""},
                              {"purge.vent_bore_least", 1.0, "in"},
                              {"purge.vent_height_least", 8.0, "ft"}},
                             nullptr, Grade::halt);
  }

  [[nodiscard]] PurgePath find(std::optional<restore::PurgeStack> stack = {}) const {
    const network::Model model = test::model_of(town);
    return *purge_path({.model = model,
                        .profile = rows,
                        .conditions = {.air = Temperature::from_si(273.15)},
                        .part = part,
                        .stack = stack});
  }
};

bool has(const PurgePath& path, std::string_view rule, Grade grade) {
  return std::ranges::any_of(path.findings, [&](const Finding& finding) {
    return finding.rule == rule && finding.grade == grade;
  });
}

double length_of(const PurgeLeg& leg) {
  double sum = 0.0;
  for (const PurgeRun& run : leg.runs) sum += std::abs((run.to - run.from).si());
  return sum;
}

TEST(PurgePath, AirLeavesAtTheWorkOnBothSides) {
  const PurgePath path = Street().find();
  ASSERT_EQ(path.legs.size(), 3u);
  // Both ends have gas: the one with more pressure behind it first, each to the vent at the work.
  EXPECT_EQ(path.legs[0].end, std::optional<std::size_t>(0));
  EXPECT_EQ(path.legs[1].end, std::optional<std::size_t>(1));
  EXPECT_EQ(path.legs[0].vent, "the work");
  EXPECT_EQ(path.legs[1].vent, "the work");
  EXPECT_NEAR(length_of(path.legs[0]), 40.0 + 50.0, 1e-9);
  EXPECT_NEAR(length_of(path.legs[1]), 30.0 + 50.0, 1e-9);
  // The second runs against the stations of its mains.
  EXPECT_GT(path.legs[1].runs.front().from, path.legs[1].runs.front().to);
  // Then the branch, with a vent of its own.
  EXPECT_EQ(path.legs[2].feed, Feed::filled);
  EXPECT_EQ(path.legs[2].vent, "node stub");
  EXPECT_NEAR(length_of(path.legs[2]), 40.0, 1e-9);
}

TEST(PurgePath, NoLegRunsTowardAnEndWithGasBehindIt) {
  for (const bool twice : {true, false}) {
    const Street street(twice);
    for (const PurgeLeg& leg : street.find().legs) {
      const PurgeRun& last = leg.runs.back();
      const bool at_a = last.pipe == street.m1 && last.to == m(60.0);
      const bool at_b = last.pipe == street.m3 && last.to == m(30.0);
      EXPECT_FALSE(at_a) << leg.vent;
      EXPECT_FALSE(at_b && twice) << leg.vent;
    }
  }
}

TEST(PurgePath, AnEndWithoutGasBehindItIsADeadEndWithAVent) {
  const PurgePath path = Street(false).find();
  ASSERT_EQ(path.legs.size(), 3u);
  EXPECT_EQ(path.legs[0].end, std::optional<std::size_t>(0));
  const auto dead = std::ranges::find_if(
      path.legs, [](const PurgeLeg& leg) { return leg.vent.starts_with("the part side of B"); });
  ASSERT_NE(dead, path.legs.end());
  EXPECT_EQ(dead->feed, Feed::filled);
  EXPECT_NEAR(length_of(*dead), 80.0, 1e-9) << "from the work on";
}

TEST(PurgePath, EveryMetreOfThePartIsOnALeg) {
  for (const bool twice : {true, false}) {
    const PurgePath path = Street(twice).find();
    double volume = 0.0;
    for (const PurgeLeg& leg : path.legs) volume += leg.volume.si();
    EXPECT_NEAR(volume, path.volume.si(), 1e-12) << "a tree has no metre twice";
  }
}

TEST(PurgePath, ABypassFeedsBeforeARiderAndARiderBeforeASqueeze) {
  Street street;
  EXPECT_EQ(street.find().legs[0].feed, Feed::squeeze);
  EXPECT_TRUE(has(street.find(), "purge.feed_squeeze", Grade::warn));
  street.part.ends[1].rider = true;
  const PurgePath rider = street.find();
  EXPECT_EQ(rider.legs[0].end, std::optional<std::size_t>(1)) << "though A has more pressure";
  EXPECT_EQ(rider.legs[0].feed, Feed::rider);
  street.part.bypass = true;
  const PurgePath bypass = street.find();
  EXPECT_EQ(bypass.legs[0].feed, Feed::bypass);
  EXPECT_FALSE(has(bypass, "purge.feed_squeeze", Grade::warn));
}

TEST(PurgePath, ServicesComeNearestFirst) {
  const PurgePath path = Street().find();
  ASSERT_EQ(path.services.size(), 2u) << "those on the part, nobody else";
  EXPECT_EQ(path.services[0].customer, 1);  // on the branch: 40 + 10 m from A
  EXPECT_NEAR(path.services[0].away.si(), 50.0, 1e-9);
  EXPECT_EQ(path.services[1].customer, 2);  // 40 + 80 m
  EXPECT_NEAR(path.services[1].away.si(), 120.0, 1e-9);
}

TEST(PurgePath, AmountsAreThoseOfTheLeastSpeed) {
  const PurgeLeg leg = Street().find().legs[0];
  const double area = M_PI / 4 * std::pow(3.633 * 0.0254, 2);
  EXPECT_NEAR(leg.speed->si(), 0.6, 1e-12) << "0.65 sqrt(4.9 x 0.0923 m) is less";
  EXPECT_NEAR(leg.flow_m3_per_s, 0.6 * area, 1e-12);
  EXPECT_NEAR(leg.time->si(), 90.0 / 0.6, 1e-9);
  EXPECT_NEAR(leg.time_planned->si(), 2 * 90.0 / 0.6, 1e-9);
  EXPECT_NEAR(leg.gas_lost->si() / leg.gas_used->si(), 0.5, 1e-12) << "one of two volumes stays";
  const auto plain = restore::mixing(
      {m(3.633 * 0.0254), m(90.0), Speed::from_si(0.6), m(1.5e-6),
       gas::viscosity(Temperature::from_si(283.0)).si() /
           gas::flowing(*gas::from_gravity(0.6), Temperature::from_si(283.0)).density(101325.0)});
  EXPECT_NEAR(leg.mixing->si(), plain.one_to_99().si(), 1e-3 * plain.one_to_99().si())
      << "two mains of one bore mix as one";
}

TEST(PurgePath, TheNetworkIsAskedWhetherItHolds) {
  Street street;
  const restore::PurgeStack stack{m(0.0525), m(2.6)};
  const PurgePath holds = street.find(stack);
  ASSERT_TRUE(holds.legs[0].purging && holds.legs[0].inlet);
  EXPECT_LT(*holds.legs[0].purging, *holds.legs[0].before) << "the purge draws";
  EXPECT_TRUE(holds.legs[0].short_of_gas.empty());
  EXPECT_FALSE(has(holds, "purge.short", Grade::halt));
  // A narrow main before it, and nobody is left with enough.
  street.town.network.pipes.bore[0] = m(0.008);
  const PurgePath starves = street.find(stack);
  EXPECT_TRUE(has(starves, "purge.inlet", Grade::halt) || has(starves, "purge.short", Grade::halt));
}

TEST(PurgePath, ABoreThatIsNotRecordedIsSaid) {
  Street street;
  EXPECT_FALSE(has(street.find(), "purge.bore", Grade::undecided));
  street.town.network.pipes.bore[1] = m(std::nan(""));
  EXPECT_TRUE(has(street.find(), "purge.bore", Grade::undecided));
}

TEST(PurgePath, WithoutALeastSpeedItIsUndecided) {
  Street street;
  street.rows = *procedure::compose({.id = "test", .title = "test", .rows = {}}, nullptr);
  const PurgePath path = street.find();
  EXPECT_TRUE(has(path, "purge.speed_least", Grade::undecided));
  EXPECT_FALSE(path.legs[0].time);
}

TEST(PurgePath, WithoutGasAtAnyEndNothingPurges) {
  Street street(false);
  street.town.network.sources.id.clear();
  street.town.network.sources = {};
  street.town.source("ELSEWHERE", 4);  // on the branch, within the part
  const PurgePath path = street.find();
  EXPECT_TRUE(path.legs.empty());
  EXPECT_TRUE(has(path, "purge.no_feed", Grade::halt));
}

std::vector<const PurgeLeg*> legs_to(const PurgePath& path, const std::string& vent) {
  std::vector<const PurgeLeg*> legs;
  for (const PurgeLeg& leg : path.legs)
    if (leg.vent.starts_with(vent)) legs.push_back(&leg);
  return legs;
}

double volume_of_legs(const PurgePath& path) {
  double volume = 0.0;
  for (const PurgeLeg& leg : path.legs) volume += leg.volume.si();
  return volume;
}

TEST(PurgePath, ALoopHasAVentWhereBothWaysAreAlike) {
  Street street;
  const Index b = 2, stub = 4;
  street.town.main("LOOP", stub, b);
  const PurgePath path = street.find();
  EXPECT_TRUE(has(path, "purge.loop", Grade::undecided));
  const auto legs = legs_to(path, "main LOOP at ");
  ASSERT_EQ(legs.size(), 2u) << "one from each side";
  // 40 m of branch and the loop's sqrt(100 x 100 + 40 x 40) m, half each.
  const double half = (40.0 + std::hypot(100.0, 40.0)) / 2.0;
  EXPECT_NEAR(length_of(*legs[0]), half, 1e-6);
  EXPECT_NEAR(length_of(*legs[1]), half, 1e-6);
  EXPECT_EQ(legs[0]->runs.back().to, legs[1]->runs.back().to);
  EXPECT_NEAR(volume_of_legs(path), path.volume.si(), 1e-9) << "all of it is purged";
}

TEST(PurgePath, ASquareOfMainsIsVentedAtItsFarCornerOnce) {
  Street street;
  const Index a = 1, stub = 4;
  const Index corner = street.town.node("corner", 140, 40), side = street.town.node("side", 140, 0);
  street.town.main("Q1", stub, corner);
  street.town.main("Q2", corner, side);
  street.town.main("Q3", side, a);
  const PurgePath path = street.find();
  const auto legs = legs_to(path, "node corner");
  ASSERT_EQ(legs.size(), 2u);
  EXPECT_NEAR(length_of(*legs[0]), 80.0, 1e-6);
  EXPECT_NEAR(length_of(*legs[1]), 80.0, 1e-6);
  EXPECT_EQ(path.legs.size(), 4u) << "two to the work, two to the corner";
  EXPECT_NEAR(volume_of_legs(path), path.volume.si(), 1e-9);
}

TEST(PurgePath, ALoopAtTheEndOfABranchIsFilledThroughTheBranchOnce) {
  Street street;
  const Index stub = 4, left = street.town.node("left", 80, 60),
              right = street.town.node("right", 120, 70);
  street.town.main("Q1", stub, left);
  street.town.main("Q2", left, right);
  street.town.main("Q3", right, stub);
  const PurgePath path = street.find();
  EXPECT_NEAR(volume_of_legs(path), path.volume.si(), 1e-9);
  std::size_t through_branch = 0;
  for (const PurgeLeg& leg : path.legs)
    through_branch += std::ranges::count(leg.runs, street.branch, &PurgeRun::pipe);
  EXPECT_EQ(through_branch, 1u);
}

TEST(PurgePath, WorkInTwoPartsHasAWayThroughEach) {
  Street street;
  street.part.ends.push_back({"C", ShutKind::squeeze, network::none, street.m1, m(10.0)});
  street.part.work.push_back({street.m1, m(30.0), m(30.0)});
  const PurgePath path = street.find();
  EXPECT_EQ(legs_to(path, "the work on main M2").size(), 1u) << "A has no gas behind it any more";
  const auto other = legs_to(path, "the work on main M1");
  ASSERT_EQ(other.size(), 1u);
  EXPECT_EQ(other[0]->end, std::optional<std::size_t>(2));
  EXPECT_NEAR(length_of(*other[0]), 20.0, 1e-9);
  EXPECT_NEAR(volume_of_legs(path), path.volume.si(), 1e-9);
  const auto squeezed = std::ranges::count(path.findings, "purge.vent", &Finding::rule);
  EXPECT_LE(squeezed, 1) << "what both parts say alike is said once";
}

TEST(PurgePath, AStationsOutletIsAskedAtItsInlet) {
  Street street(false);
  const Index far = street.town.node("far inlet", 400, 0);
  street.town.source("EAST", street.town.node("east", 500, 0), 50.0);
  street.town.main("M4", far, 6);
  const Index regulator = street.town.regulator("REG", far, 3, 30.0);
  street.part.ends[1] = {"B", ShutKind::regulator_outlet, regulator, network::none, {}};
  const PurgePath path = street.find();
  const auto fed = std::ranges::find(path.legs, std::optional<std::size_t>(1), &PurgeLeg::end);
  ASSERT_NE(fed, path.legs.end());
  EXPECT_NEAR(fed->before->si(), 30.0 * test::psi, 1.0) << "no more than its set point";
  ASSERT_TRUE(fed->purging);
  EXPECT_NEAR(fed->purging->si(), 30.0 * test::psi, 1.0);
  EXPECT_FALSE(has(path, "purge.not_looked_at", Grade::undecided));
}

TEST(PurgePath, ItsTimeIsThatOfAllLegs) {
  const PurgePath path = Street().find();
  double seconds = 0.0;
  for (const PurgeLeg& leg : path.legs) seconds += leg.time_planned->si();
  ASSERT_TRUE(path.time_planned);
  EXPECT_NEAR(path.time_planned->si(), seconds, 1e-9);
}

/// A street with stubs of any length anywhere on it, on both sides of the work.
RC_GTEST_PROP(PurgePathProperties, EveryMetreOnceAndNoAirTowardGas, ()) {
  Street street(*rc::gen::arbitrary<bool>());
  const auto stubs = *rc::gen::inRange(0, 6), links = *rc::gen::inRange(0, 4);
  std::vector<Index> joints{1, 2};
  for (int i = 0; i < stubs; ++i) {
    const Index from = *rc::gen::elementOf(joints);
    const double length = *rc::gen::inRange(1, 60);
    const auto x = street.town.network.nodes.x[static_cast<std::size_t>(from)] - 500000.0;
    const auto y = street.town.network.nodes.y[static_cast<std::size_t>(from)] - 4000000.0;
    const Index to = street.town.node("stub " + std::to_string(i), x, y - length);
    street.town.main("S" + std::to_string(i), from, to);
    joints.push_back(to);
  }
  for (int i = 0; i < links; ++i) {
    const Index from = *rc::gen::elementOf(joints), to = *rc::gen::elementOf(joints);
    const auto& pipes = street.town.network.pipes;
    const Index link = from == to ? 0 : street.town.main("L" + std::to_string(i), from, to);
    if (!(pipes.length[static_cast<std::size_t>(link)] > Length()))
      RC_DISCARD("two stubs in one place");
  }
  const PurgePath path = street.find();
  RC_ASSERT(!path.legs.empty());
  double volume = 0.0;
  std::set<std::pair<Index, double>> air_out;
  for (const PurgeLeg& leg : path.legs) {
    volume += leg.volume.si();
    RC_ASSERT(leg.end.has_value() == (leg.feed != Feed::filled));
    if (leg.end) RC_ASSERT(leg.vent == "the work");
    const PurgeRun& last = leg.runs.back();
    const bool forward = last.to > last.from;  // both sides of a loop end at one place
    if (!leg.end)
      RC_ASSERT(air_out.emplace(forward ? last.pipe : -1 - last.pipe, last.to.si()).second);
    for (const PartEnd& end : street.part.ends) {
      const bool there = leg.runs.back().pipe == end.pipe && leg.runs.back().to == end.station;
      const bool live = street.town.network.sources.size() == 2 || end.letter == "A";
      RC_ASSERT(!(there && live));
    }
  }
  RC_ASSERT(std::abs(volume - path.volume.si()) < 1e-9);
}

}  // namespace
}  // namespace bellhole::plan
