#include "plan/hole.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "plan/plan.hpp"
#include "tests/unit/plan/small_town.hpp"

namespace bellhole::plan {
namespace {

using test::Town;

Length in(double inches) { return Length::from_si(inches * 0.0254); }
double to_in(std::optional<Length> length) { return length ? length->si() / 0.0254 : -1.0; }

/// A profile with these rows of length, in inches; empty where none.
procedure::Profile profile_with(const std::vector<std::pair<const char*, double>>& rows = {}) {
  procedure::ProfileDraft draft;
  draft.id = "test";
  for (const auto& [rule, inches] : rows) {
    procedure::RowDraft row;
    row.rule = rule;
    row.value = inches;
    row.unit = "in";
    row.grade = Grade::warn;
    row.source = "invented for a test";
    row.evidence = Evidence::company;
    draft.rows.push_back(row);
  }
  return *procedure::compose(draft, nullptr);
}

/// One main of 100 m with 8 in pipe, and the work in its middle.
struct Site {
  Site() {
    const auto a = town.node("a", 0, 0), b = town.node("b", 100, 0);
    town.main("M", a, b);
    town.network.pipes.nominal_size[0] = "IPS 8";
    town.source("gate", a);
    work = *work_on_pipe(town.network, "M", Length::from_si(50), Length::from_si(50));
  }

  /// A squeeze whose window ends a clearance from the work, `back` places from there.
  HoleAsk ask(int toward, Squeezes squeezes, double window_in = 1000.0, double from_work_in = 0.0) {
    HoleAsk ask{
        .letter = toward > 0 ? "A" : "B", .toward = toward, .half_width = in(3), .tool = "T"};
    const Length near = Length::from_si(50.0 - toward * (clearance.si() + in(from_work_in).si()));
    const Length far = Length::from_si(near.si() - toward * in(window_in).si());
    const Length back = in(window_in) < clearance ? in(window_in) * 0.5 : clearance;
    ask.place = {.pipe = 0,
                 .station = Length::from_si(near.si() - toward * back.si()),
                 .window_begin = std::min(near, far),
                 .window_end = std::max(near, far),
                 .clearance = clearance,
                 .apart = clearance,
                 .squeezes = squeezes};
    return ask;
  }

  Hole dig(const std::vector<HoleAsk>& asks, const procedure::Profile& profile = profile_with()) {
    return hole_of(town.network, work, asks, profile, {}, units::System::us);
  }

  Town town;
  Work work;
  Length clearance = in(25.875);  // three times the outside diameter of 8 in pipe
};

std::vector<HolePlaceKind> kinds_of(const HoleOption& option) {
  std::vector<HolePlaceKind> kinds;
  for (const HolePlace& place : option.places) kinds.push_back(place.kind);
  return kinds;
}

bool has(const Findings& findings, std::string_view rule, Grade grade) {
  return std::ranges::any_of(findings,
                             [&](const Finding& f) { return f.rule == rule && f.grade == grade; });
}

TEST(Hole, OneSqueezeAndASpareBesideANewJoint) {
  Site site;
  for (const int toward : {1, -1}) {
    const Hole hole = site.dig({site.ask(toward, Squeezes::one)});
    const HoleSide& side = hole.sides.at(0);
    ASSERT_EQ(side.options.size(), 1u);
    EXPECT_NEAR(to_in(side.options[0].length), 54.75, 1e-9);
    EXPECT_NEAR(to_in(hole.length), 54.75, 1e-9);
    ASSERT_TRUE(side.joint);
    EXPECT_DOUBLE_EQ(side.joint->si(), 50.0);
    using enum HolePlaceKind;
    EXPECT_EQ(kinds_of(side.options[0]), (std::vector{spare, squeeze}));
    EXPECT_NEAR(to_in(side.options[0].places[0].at), 25.875, 1e-6);
    EXPECT_NEAR(to_in(side.options[0].places[1].at), 51.75, 1e-6);
    EXPECT_NEAR(to_in(side.options[0].seen), 77.625, 1e-6);
  }
}

TEST(Hole, TwoSqueezesWithAVentAndASpareBesideANewJoint) {
  Site site;
  const Hole hole = site.dig({site.ask(1, Squeezes::two)});
  EXPECT_NEAR(to_in(hole.length), 80.625, 1e-9);
  using enum HolePlaceKind;
  EXPECT_EQ(kinds_of(hole.sides[0].options.at(0)), (std::vector{spare, squeeze, vent, squeeze}));
}

TEST(Hole, WhileOneOrTwoIsUndecidedBothAreLaidOut) {
  Site site;
  const Hole hole = site.dig({site.ask(1, Squeezes::undecided)});
  ASSERT_EQ(hole.sides[0].options.size(), 2u);
  EXPECT_NEAR(to_in(hole.sides[0].options[0].length), 54.75, 1e-9);
  EXPECT_NEAR(to_in(hole.sides[0].options[1].length), 80.625, 1e-9);
  EXPECT_NEAR(to_in(hole.length), 80.625, 1e-9) << "the longer one is asked for";
}

TEST(Hole, RoomIsAddedOnlyWhereTheProfileSetsIt) {
  Site site;
  const Hole bare = site.dig({site.ask(1, Squeezes::one)});
  for (const char* rule : {"hole.working_room", "hole.beside", "hole.below", "hole.bench"})
    EXPECT_TRUE(has(bare.findings, rule, Grade::undecided)) << rule;
  EXPECT_FALSE(bare.sides[0].width);
  EXPECT_FALSE(bare.sides[0].depth);
  const Hole set = site.dig({site.ask(1, Squeezes::one)}, profile_with({{"hole.working_room", 12},
                                                                        {"hole.beside", 18},
                                                                        {"hole.below", 10},
                                                                        {"hole.bench", 36}}));
  EXPECT_NEAR(to_in(set.length), 54.75 + 12, 1e-9) << "a joint has its own room on the other side";
  EXPECT_NEAR(to_in(set.sides[0].width), 8.625 + 36, 1e-9);
  EXPECT_NEAR(to_in(set.sides[0].depth), 0.9 / 0.0254 + 8.625 + 10, 1e-9);
  EXPECT_TRUE(set.findings.empty());
}

TEST(Hole, BothSidesOfAPointAreOneHole) {
  Site site;
  const Hole hole = site.dig({site.ask(1, Squeezes::one), site.ask(-1, Squeezes::one)});
  ASSERT_EQ(hole.excavations.size(), 1u);
  EXPECT_EQ(hole.excavations[0].sides.size(), 2u);
  EXPECT_NEAR(to_in(hole.excavations[0].end - hole.excavations[0].begin), 2 * 54.75, 1e-6);
}

TEST(Hole, FarFromTheWorkItRunsFromToolEdgeToToolEdgeAndTheBenchDecides) {
  Site site;
  const std::vector asks{site.ask(1, Squeezes::one, 1000, 60),
                         site.ask(-1, Squeezes::one, 1000, 60)};
  const Hole two = site.dig(asks);
  EXPECT_FALSE(two.sides[0].joint);
  EXPECT_NEAR(to_in(two.length), 3 + 25.875 + 3, 1e-6);
  EXPECT_EQ(two.excavations.size(), 2u);
  const Hole one = site.dig(asks, profile_with({{"hole.bench", 61}}));
  EXPECT_TRUE(one.sides[0].joint) << "61 in of ground are not left standing beside the joint";
  EXPECT_EQ(one.excavations.size(), 1u);
}

TEST(Hole, AWindowThatIsTooShortIsSaid) {
  Site site;
  const Hole no_spare = site.dig({site.ask(1, Squeezes::one, 10)});
  EXPECT_TRUE(has(no_spare.findings, "hole.places", Grade::warn));
  EXPECT_TRUE(no_spare.sides[0].options[0].fits);
  EXPECT_FALSE(no_spare.sides[0].options[0].spare);
  const Hole not_two = site.dig({site.ask(1, Squeezes::two, 10)});
  EXPECT_TRUE(has(not_two.findings, "hole.places", Grade::halt));
  const Hole open = site.dig({site.ask(1, Squeezes::undecided, 10)});
  EXPECT_TRUE(has(open.findings, "hole.places", Grade::warn));
  const Hole two_without_spare = site.dig({site.ask(1, Squeezes::two, 30)});
  EXPECT_TRUE(has(two_without_spare.findings, "hole.places", Grade::warn));
  using enum HolePlaceKind;
  EXPECT_EQ(kinds_of(two_without_spare.sides[0].options[0]), (std::vector{squeeze, vent, squeeze}));
}

TEST(Hole, WithoutTheToolTheLengthCannotBeTold) {
  Site site;
  HoleAsk ask = site.ask(1, Squeezes::one);
  ask.half_width.reset();
  const Hole hole = site.dig({ask});
  EXPECT_FALSE(hole.length);
  EXPECT_TRUE(has(hole.findings, "tool.half_width", Grade::undecided));
  EXPECT_NEAR(to_in(hole.sides[0].options[0].seen), 77.625, 1e-6) << "this needs no tool";
}

TEST(Hole, WithoutSqueezesNothingIsDugAndNothingSaid) {
  Site site;
  const Hole hole = site.dig({});
  EXPECT_TRUE(hole.sides.empty());
  EXPECT_TRUE(hole.findings.empty());
  EXPECT_FALSE(hole.length);
}

}  // namespace
}  // namespace bellhole::plan
