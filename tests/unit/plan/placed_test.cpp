// Mains that are not plain PE, shut-offs that a person places there, and the kit of a whole plan.
#include <gtest/gtest.h>

#include <algorithm>

#include "plan/main_facts.hpp"
#include "plan/plan.hpp"
#include "tests/unit/plan/small_town.hpp"

namespace bellhole::plan {
namespace {

using network::Material;
using network::Ternary;
using test::Town;

//   S ----M1---- b ----M2---- c        a dead end; the work is on M2
Town dead_end() {
  Town town;
  const auto s = town.node("S", 0, 0), b = town.node("b", 200, 0), c = town.node("c", 400, 0);
  const auto m1 = town.main("M1", s, b), m2 = town.main("M2", b, c);
  town.source("gate", s);
  for (int i = 1; i < 4; ++i) town.customer("c" + std::to_string(i), m1, 50 * i);
  town.customer("d", m2, 150);
  return town;
}

Answer ask(const Town& town, std::vector<HandPlaced> placed = {}, const squeeze::Kit* kit = nullptr,
           const procedure::Profile& profile = test::round_costs()) {
  const auto model = test::model_of(town);
  const Work work = *work_on_pipe(town.network, "M2", Length::from_si(100), Length::from_si(100));
  Question question{model,  profile, work, Kind::planned, {.air = Temperature::from_si(280.0)},
                    2026.9, 2,       1};
  question.limit_temperature = false;
  question.placed = std::move(placed);
  question.kit = kit;
  Unwatched watch;
  return *plan(question, watch);
}

bool has(const Findings& findings, std::string_view rule, Grade grade) {
  return std::ranges::any_of(findings,
                             [&](const Finding& f) { return f.rule == rule && f.grade == grade; });
}

std::string passed_over(const Answer& answer, std::string_view element) {
  for (const PassedOver& item : answer.places.passed_over)
    if (item.element == element) return item.why;
  return "";
}

bool squeezes_on(const Answer& answer, network::Index pipe) {
  return std::ranges::any_of(answer.places.places, [&](const Place& place) {
    return place.kind == ShutKind::squeeze && place.pipe == pipe;
  });
}

TEST(NotPlainPe, NoOtherMaterialIsSqueezedAndTheReasonIsSaid) {
  for (const auto& [material, why] :
       {std::pair(Material::pvc, "pvc, not PE"), std::pair(Material::steel, "steel, not PE"),
        std::pair(Material::cast_iron, "cast_iron, not PE"),
        std::pair(Material::other, "other, not PE"),
        std::pair(Material::unknown, "material not recorded")}) {
    Town town = dead_end();
    town.network.pipes.material[1] = material;
    const Answer answer = ask(town);
    EXPECT_FALSE(squeezes_on(answer, 1)) << why;
    EXPECT_EQ(passed_over(answer, "main M2"), why);
  }
}

TEST(NotPlainPe, InsertedCasedLayeredAndLinedAreForbiddenAndNotRecordedIsUndecided) {
  using network::Lining;
  for (const auto& [member, why] :
       {std::pair(&Lining::inserted, "inserted in an old pipe"), std::pair(&Lining::cased, "cased"),
        std::pair(&Lining::layered, "layered"), std::pair(&Lining::lined, "lined")}) {
    Town town = dead_end();
    town.network.pipes.lining[1].*member = Ternary::yes;
    const Answer forbidden = ask(town);
    EXPECT_FALSE(squeezes_on(forbidden, 1)) << why;
    EXPECT_EQ(passed_over(forbidden, "main M2"), why);
    town.network.pipes.lining[1].*member = Ternary::unknown;
    const Answer undecided = ask(town);
    EXPECT_TRUE(squeezes_on(undecided, 1)) << why;
    const auto& shutoffs = undecided.plans.at(0).shutoffs;
    ASSERT_EQ(shutoffs[0].place.pipe, 1);
    EXPECT_TRUE(has(shutoffs[0].findings, "plan.pipe_kind", Grade::undecided)) << why;
  }
}

Town steel_at_the_work() {
  Town town = dead_end();
  town.network.pipes.material[1] = Material::steel;
  return town;
}

HandPlaced plug(double station, std::optional<double> psig = 80) {
  HandPlaced hand{.means = Means::plug,
                  .pipe = 1,
                  .station = Length::from_si(station),
                  .cost = Duration::from_si(3600),
                  .time = Duration::from_si(1800)};
  if (psig) hand.pressure_most = GaugePressure::from_si(*psig * test::psi);
  return hand;
}

TEST(HandPlaced, IsNeverLookedForAndUsedOnceItIsNamed) {
  const Town town = steel_at_the_work();
  for (const ShutoffPlan& plan : ask(town).plans)
    for (const Shutoff& shutoff : plan.shutoffs) EXPECT_NE(shutoff.place.kind, ShutKind::placed);
  const Answer answer = ask(town, {plug(50)});
  ASSERT_FALSE(answer.plans.empty());
  const ShutoffPlan& best = answer.plans[0];
  ASSERT_EQ(best.shutoffs.size(), 1u);
  EXPECT_EQ(best.shutoffs[0].place.kind, ShutKind::placed);
  EXPECT_EQ(best.shutoffs[0].place.means, Means::plug);
  EXPECT_DOUBLE_EQ(best.shutoffs[0].place.station.si(), 50.0);
  EXPECT_EQ(best.cost_crew_s, 3600 + 1800) << "the plug's hour and one customer's half";
  EXPECT_DOUBLE_EQ(best.time_to_stop->si(), 1800.0);
  EXPECT_EQ(best.out.size(), 1u) << "only whoever is on the part";
  EXPECT_TRUE(best.hole.sides.empty()) << "a plug is no squeeze";
  EXPECT_EQ(best.kit.tools_needed, 0);
}

TEST(HandPlaced, SaysWhatIsNotKnownAndHaltsAboveItsRating) {
  const Town town = steel_at_the_work();
  const auto findings = [&](std::optional<double> psig) {
    return ask(town, {plug(50, psig)}).plans.at(0).shutoffs.at(0).findings;
  };
  EXPECT_TRUE(has(findings(80), "plan.placed", Grade::undecided));
  EXPECT_FALSE(has(findings(80), "plan.placed_pressure", Grade::halt));
  EXPECT_TRUE(has(findings(std::nullopt), "plan.placed_pressure", Grade::undecided));
  EXPECT_TRUE(has(findings(59.9), "plan.placed_pressure", Grade::halt)) << "MAOP is 60 psig";
}

TEST(HandPlaced, WithoutCostOrTimeTheProfileIsAskedAndItsSilenceIsSaid) {
  const Town town = steel_at_the_work();
  HandPlaced hand = plug(50);
  hand.cost.reset();
  hand.time.reset();
  const Answer answer = ask(town, {hand});
  EXPECT_TRUE(has(answer.findings, "plan.cost_placed", Grade::undecided));
  EXPECT_TRUE(has(answer.findings, "plan.time_placed", Grade::undecided));
  EXPECT_FALSE(answer.plans.at(0).time_to_stop &&
               answer.plans[0].shutoffs[0].place.kind == ShutKind::placed);
}

TEST(HandPlaced, SqueezesKeepClearOfIt) {
  const Town town = dead_end();
  const Answer answer = ask(town, {plug(96.5)});
  for (const Place& place : answer.places.places) {
    if (place.kind != ShutKind::squeeze || place.pipe != 1) continue;
    EXPECT_GE(std::abs(place.station.si() - 96.5), 3 * 4.5 * 0.0254 - 1e-9);
  }
}

/// The round costs, with a single squeeze allowed up to `psig` only.
procedure::Profile single_up_to(double psig) {
  procedure::ProfileDraft draft;
  draft.id = "tight";
  procedure::RowDraft row;
  row.rule = "squeeze.pressure_single";
  row.value = psig;
  row.unit = "psig";
  row.grade = Grade::halt;
  row.source = "invented for a test";
  row.evidence = Evidence::company;
  draft.rows.push_back(row);
  const auto base = test::round_costs();
  return *procedure::compose(draft, &base);
}

TEST(KitOfAPlan, TwoDoubleSqueezesNeedFourToolsAndTwoOwnedIsAHalt) {
  Town town = dead_end();
  const auto far = town.node("far", 600, 0);
  const auto m3 = town.main("M3", 2, far);
  town.source("gate2", far);
  for (int i = 0; i < 20; ++i) {  // so many that no station's outlet is the cheaper way
    town.customer("e" + std::to_string(i), 0, 8.0 * i + 4.0);
    town.customer("f" + std::to_string(i), m3, 8.0 * i + 4.0);
  }
  squeeze::Kit kit;
  kit.tools.push_back({.id = "T", .drive = squeeze::Drive::screw, .sizes = {"IPS 4"}});
  kit.tools[0].half_width = Length::from_si(0.0762);
  kit.tools[0].stock = {2, 2};
  kit.tools[0].stops = {{"S", Length::from_si(0.573 * 0.0254), {"IPS 4"}, {11}, {4, 4}}};
  const Answer answer = ask(town, {}, &kit, single_up_to(10));
  const ShutoffPlan& best = answer.plans.at(0);
  ASSERT_EQ(best.shutoffs.size(), 2u);
  EXPECT_EQ(best.kit.tools_needed, 4);
  EXPECT_EQ(best.kit.tools_owned, 2);
  EXPECT_TRUE(has(best.findings, "kit.tools", Grade::halt));
  EXPECT_EQ(best.hole.sides.size(), 2u);
  for (const HoleSide& side : best.hole.sides) {
    ASSERT_EQ(side.options.size(), 1u);
    EXPECT_EQ(side.options[0].squeezes, 2);
  }
  EXPECT_NE(best.hole.sides[0].toward, best.hole.sides[1].toward);
  kit.tools[0].stock = {4, 4};
  EXPECT_FALSE(
      has(ask(town, {}, &kit, single_up_to(10)).plans[0].findings, "kit.tools", Grade::halt));
}

TEST(HoleOfAPlan, TheSpareOfTheFallbackIsTheSpareOfTheHole) {
  const Answer answer = ask(dead_end());
  const Shutoff& shutoff = answer.plans.at(0).shutoffs.at(0);
  const auto& places = answer.plans[0].hole.sides.at(0).options.at(0).places;
  ASSERT_EQ(places.at(0).kind, HolePlaceKind::spare);
  ASSERT_TRUE(shutoff.fallback.spare_station);
  EXPECT_DOUBLE_EQ(places[0].station.si(), shutoff.fallback.spare_station->si());
  EXPECT_DOUBLE_EQ(places[1].station.si(), shutoff.place.station.si());
}

}  // namespace
}  // namespace bellhole::plan
