#include "plan/plan.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "plan/main_facts.hpp"
#include "plan/shutoffs.hpp"
#include "tests/unit/plan/small_town.hpp"

namespace bellhole::plan {
namespace {

using test::Town;

struct Asked {
  Answer answer;
  std::vector<std::string> shut(std::size_t rank = 0) const {
    std::vector<std::string> words;
    for (const Shutoff& s : answer.plans.at(rank).shutoffs)
      words.push_back(describe(network, s.place, units::System::metric));
    return words;
  }
  const network::Network& network;
};

Asked ask(const Town& town, const Work& work, std::size_t plans = 3, Kind kind = Kind::planned,
          const procedure::Profile& profile = test::round_costs()) {
  const auto model = network::Model::prepare(
      town.network, {.gas = *gas::from_gravity(0.6), .ground = Temperature::from_si(283.0)});
  EXPECT_TRUE(model) << (model ? "" : model.error().where + model.error().fix);
  Question question{*model, profile, work, kind, {.air = Temperature::from_si(280.0)},
                    2026.9, plans,   1};
  question.limit_temperature = false;
  Unwatched watch;
  auto answer = plan(question, watch);
  if (!answer)
    ADD_FAILURE() << answer.error().where << " " << answer.error().value << " "
                  << answer.error().fix,
        std::abort();
  return {std::move(*answer), town.network};
}

Work at(const Town& town, const char* main, double station) {
  return *work_on_pipe(town.network, main, Length::from_si(station), Length::from_si(station));
}

bool has(const Findings& findings, std::string_view rule, Grade grade) {
  return std::ranges::any_of(findings,
                             [&](const Finding& f) { return f.rule == rule && f.grade == grade; });
}

//   S ---- a ----M1---- b ----M2---- c        a dead end: one squeeze on the feed side does it
Town dead_end() {
  Town town;
  const auto s = town.node("S", 0, 0), b = town.node("b", 200, 0), c = town.node("c", 400, 0);
  const auto m1 = town.main("M1", s, b), m2 = town.main("M2", b, c);
  town.source("gate", s);
  town.customer("c1", m1, 50);
  town.customer("c2", m1, 150);
  town.customer("c3", m2, 100);
  return town;
}

TEST(Plan, ADeadEndNeedsOneSqueezeOnTheFeedSide) {
  const Town town = dead_end();
  const Asked asked = ask(town, at(town, "M2", 50));
  ASSERT_FALSE(asked.answer.plans.empty());
  const ShutoffPlan& best = asked.answer.plans.front();
  ASSERT_EQ(best.shutoffs.size(), 1u);
  EXPECT_EQ(best.shutoffs[0].place.pipe, 1) << "between b and the work";
  EXPECT_LT(best.shutoffs[0].place.station.si(), 48.0) << "keeps the stand-off of 2 m";
  EXPECT_GT(best.shutoffs[0].place.station.si(), 40.0) << "near the work, a spare clearance back";
  ASSERT_EQ(best.out.size(), 1u);
  EXPECT_EQ(town.network.customers.id[static_cast<std::size_t>(best.out[0].customer)], "c3");
  EXPECT_EQ(best.out[0].cause, OutCause::isolated);
  EXPECT_EQ(best.cost_crew_s, 7200 + 1800);
  EXPECT_TRUE(asked.answer.proof.optimal);
}

TEST(Plan, BetweenTwoCustomersTheNearestPlaceIsTakenAndFurtherMainsAreOtherPlans) {
  const Town town = dead_end();
  const Asked asked = ask(town, at(town, "M2", 50));
  ASSERT_GE(asked.answer.plans.size(), 2u);
  EXPECT_EQ(asked.answer.plans[1].shutoffs[0].place.pipe, 0)
      << "the next plan squeezes M1, and loses c3 only";
  EXPECT_EQ(asked.answer.plans[1].cost_crew_s, 7200 + 1800);
  EXPECT_EQ(asked.answer.plans[1].out.size(), 1u);
}

//   S ---M1--- b       a ring: the work on M2 has gas from both sides
//   |          |
//   M4         M2
//   |          |
//   d ---M3--- c
Town ring() {
  Town town;
  const auto s = town.node("S", 0, 300), b = town.node("b", 300, 300), c = town.node("c", 300, 0),
             d = town.node("d", 0, 0);
  const auto m1 = town.main("M1", s, b), m2 = town.main("M2", b, c), m3 = town.main("M3", c, d);
  town.main("M4", d, s);
  town.source("gate", s);
  for (int i = 1; i < 6; ++i) {
    town.customer("a" + std::to_string(i), m1, 50 * i);
    town.customer("b" + std::to_string(i), m2, 50 * i);
    town.customer("e" + std::to_string(i), m3, 50 * i);
  }
  return town;
}

TEST(Plan, ARingNeedsASqueezeOnBothSides) {
  const Town town = ring();
  const Asked asked = ask(town, at(town, "M2", 125));
  const ShutoffPlan& best = asked.answer.plans.front();
  ASSERT_EQ(best.shutoffs.size(), 2u);
  EXPECT_EQ(best.out.size(), 0u) << "the squeezes fit between the neighbours";
  for (const Shutoff& shutoff : best.shutoffs) {
    EXPECT_EQ(shutoff.place.pipe, 1);
    EXPECT_GE(std::abs(shutoff.place.station.si() - 125.0), 2.0);
    EXPECT_LT(std::abs(shutoff.place.station.si() - 125.0), 10.0);
  }
  EXPECT_EQ(best.shutoffs[0].letter, "A");
}

TEST(Plan, AValveThatIsTrustedIsCheaperThanASqueeze) {
  Town town = ring();
  town.valve("V1", 1, 60);
  const Asked asked = ask(town, at(town, "M2", 125));
  const auto words = asked.shut();
  EXPECT_EQ(words[0], "shut valve V1 on main M2");
  EXPECT_EQ(asked.answer.plans[0].out.size(), 1u)
      << "b2 at 100 m lies between the valve and the work";
}

TEST(Plan, AValveNotTurnedForLongIsPassedOverAndSaid) {
  Town town = ring();
  town.valve("V1", 1, 60, 2009.0);
  const Asked asked = ask(town, at(town, "M2", 125));
  for (const Shutoff& shutoff : asked.answer.plans[0].shutoffs)
    EXPECT_EQ(shutoff.place.kind, ShutKind::squeeze);
  ASSERT_FALSE(asked.answer.places.passed_over.empty());
  EXPECT_EQ(asked.answer.places.passed_over[0].element, "valve V1");
}

TEST(Plan, NoSqueezeOnWhatIsNotPlainPe) {
  for (const auto spoil : {0, 1, 2, 3}) {
    Town town = dead_end();
    auto& pipes = town.network.pipes;
    if (spoil == 0) pipes.material[1] = network::Material::steel;
    if (spoil == 1) pipes.material[1] = network::Material::unknown;
    if (spoil == 2) pipes.lining[1].inserted = network::Ternary::yes;
    if (spoil == 3) pipes.nominal_size[1] = "";
    const Asked asked = ask(town, at(town, "M2", 50));
    for (const ShutoffPlan& plan : asked.answer.plans) {
      for (const Shutoff& shutoff : plan.shutoffs) EXPECT_NE(shutoff.place.pipe, 1) << spoil;
    }
  }
}

TEST(Plan, WhoMustNotLoseGasOutweighsAnyCost) {
  Town town = ring();
  town.customer("H", 1, 140, 60, true);  // hospital next to the work, on the c side
  const Asked asked = ask(town, at(town, "M2", 125));
  EXPECT_EQ(asked.answer.plans[0].must_not_lose, 0);
  Town alone = dead_end();
  alone.customer("H", 1, 180, 60, true);
  const Asked lost = ask(alone, at(alone, "M2", 50));
  EXPECT_EQ(lost.answer.plans[0].must_not_lose, 1);
  EXPECT_TRUE(has(lost.answer.plans[0].findings, "plan.must_not_lose", Grade::halt));
}

TEST(Plan, ARegulatorThatFeelsItsPressureOnTheWorkIsAHalt) {
  //  S --M0-- a [R] b --M1-- c --M2-- d        R senses on M2, where the work is
  Town town;
  const auto s = town.node("S", 0, 0), a = town.node("a", 100, 0), b = town.node("b", 101, 0),
             c = town.node("c", 300, 0), d = town.node("d", 500, 0);
  town.main("M0", s, a);
  const auto m1 = town.main("M1", b, c), m2 = town.main("M2", c, d);
  town.source("gate", s, 58);
  const auto r = town.regulator("R", a, b, 40);
  for (int i = 1; i < 6; ++i) town.customer("c" + std::to_string(i), m1, 30 * i);
  town.customer("d", m2, 150);
  auto& regulators = town.network.regulators;
  regulators.sensing[static_cast<std::size_t>(r)] = network::Sensing::remote;
  regulators.tap_pipe[static_cast<std::size_t>(r)] = m2;
  regulators.tap_station[static_cast<std::size_t>(r)] = Length::from_si(120);
  const Asked asked = ask(town, at(town, "M2", 100));
  EXPECT_TRUE(has(asked.answer.plans[0].findings, "plan.sensing", Grade::halt));
  const auto& equipment = asked.answer.plans[0].isolated.equipment;
  EXPECT_TRUE(std::ranges::any_of(equipment, [](const Equipment& e) {
    return e.kind == EquipmentKind::sensing_tap && e.id == "R";
  }));

  regulators.tap_pipe[static_cast<std::size_t>(r)] = m1;
  regulators.tap_station[static_cast<std::size_t>(r)] = Length::from_si(20);
  EXPECT_FALSE(
      has(ask(town, at(town, "M2", 100)).answer.plans[0].findings, "plan.sensing", Grade::halt))
      << "moving the tap clears it";

  regulators.sensing[static_cast<std::size_t>(r)] = network::Sensing::unknown;
  EXPECT_TRUE(has(ask(town, at(town, "M2", 100)).answer.plans[0].findings, "plan.sensing",
                  Grade::undecided));
}

TEST(Plan, CustomersWhoFallShortCountAsOut) {
  Town town = ring();
  town.customer("mill", 2, 290, 200000);  // a large draw at the far corner
  const Asked asked = ask(town, at(town, "M2", 125));
  const auto& out = asked.answer.plans[0].out;
  EXPECT_TRUE(
      std::ranges::any_of(out, [](const CustomerOut& o) { return o.cause == OutCause::short_of; }));
  EXPECT_TRUE(has(asked.answer.plans[0].findings, "plan.short", Grade::warn));
}

TEST(Plan, WithoutAnyPlaceItIsAHaltNotAnError) {
  Town town = dead_end();
  for (auto& material : town.network.pipes.material) material = network::Material::steel;
  // Even the source's outlet may be shut, so a plan exists; take that away by putting the work on
  // the source.
  const Asked asked = ask(town, at(town, "M2", 50));
  ASSERT_EQ(asked.answer.plans.size(), 1u);
  EXPECT_EQ(asked.shut()[0], "shut the outlet of source gate");
  EXPECT_EQ(asked.answer.plans[0].out.size(), 3u);
}

TEST(Plan, WorkThatHasNoGasAlreadyIsSaidAndNotBelieved) {
  Town town = dead_end();
  town.valve("V", 1, 10, 2025, network::Position::closed);
  const Asked asked = ask(town, at(town, "M2", 50));
  EXPECT_TRUE(asked.answer.plans.empty());
  EXPECT_TRUE(has(asked.answer.findings, "plan.already_off", Grade::undecided));
}

TEST(Plan, AClosedValveThatKeepsGasOutIsSaid) {
  Town town = dead_end();
  const auto far = town.node("far", 600, 0);
  const auto tie = town.main("TIE", 2, far);
  town.source("gate2", far);
  town.valve("NC", tie, 50, 2025.5, network::Position::closed);
  const Asked asked = ask(town, at(town, "M2", 50));
  EXPECT_TRUE(has(asked.answer.plans[0].findings, "plan.closed_valve", Grade::warn));
  town.network.valves.last_operated_year[0] = std::nan("");
  EXPECT_TRUE(has(ask(town, at(town, "M2", 50)).answer.plans[0].findings, "plan.closed_valve",
                  Grade::undecided));
}

TEST(Plan, NotesOfTheImportTravelWithTheElementsThatItTouches) {
  Town town = dead_end();
  const auto note = [&](const char* rule, const char* element, bool assumed) {
    town.network.notes.rule.emplace_back(rule);
    town.network.notes.element.emplace_back(element);
    town.network.notes.says.emplace_back("as noted");
    town.network.notes.assumed.push_back(assumed ? 1 : 0);
  };
  note("import.assumed", "pipe M2", true);
  note("import.gap", "pipe M2", false);
  note("import.snapped", "pipe M1", false);
  const Asked asked = ask(town, at(town, "M2", 50), 1);
  EXPECT_TRUE(has(asked.answer.plans[0].findings, "import.assumed", Grade::warn));
  EXPECT_TRUE(has(asked.answer.plans[0].findings, "import.gap", Grade::undecided));
  EXPECT_FALSE(has(asked.answer.plans[0].findings, "import.snapped", Grade::info))
      << "M1 is not touched";
}

TEST(Plan, ClearanceFromTheToolsEdgeNeedsTheToolsWidth) {
  const Town town = dead_end();
  const auto station = [&](std::optional<Length> half_width) -> std::optional<double> {
    const auto profile = test::round_costs("tool_edge");
    const auto model = test::model_of(town);
    const Work work = at(town, "M2", 50);
    Question question{model,  profile, work, Kind::planned, {.air = Temperature::from_si(280.0)},
                      2026.9, 1};
    question.limit_temperature = false;
    squeeze::Kit kit;
    kit.tools.push_back({.id = "T", .half_width = half_width});
    question.kit = &kit;
    Unwatched watch;
    const auto answer = plan(question, watch);
    const Place& place = answer->plans.at(0).shutoffs.at(0).place;
    if (place.kind != ShutKind::squeeze) return std::nullopt;
    return place.clearance.si();
  };
  EXPECT_FALSE(station(std::nullopt)) << "no tool known: no squeeze is placed";
  EXPECT_NEAR(station(Length::from_si(0.1)).value_or(0.0), 3 * 4.5 * 0.0254 + 0.1, 1e-9);
}

TEST(Plan, EveryShutOffSaysWhatToDoIfItFails) {
  const Town town = ring();
  const Asked asked = ask(town, at(town, "M2", 125));
  for (const ShutoffPlan& plan : asked.answer.plans) {
    for (const Shutoff& shutoff : plan.shutoffs) {
      EXPECT_TRUE(shutoff.fallback.exists);
      EXPECT_FALSE(shutoff.fallback.places.empty());
    }
  }
}

TEST(Plan, UnsetCostsAreUndecidedAndCountTheSame) {
  procedure::ProfileDraft draft;
  draft.id = "empty";
  const auto profile = *procedure::compose(draft, nullptr);
  const Town town = dead_end();
  const Asked asked = ask(town, at(town, "M2", 50), 1, Kind::planned, profile);
  EXPECT_TRUE(has(asked.answer.findings, "plan.cost_squeeze", Grade::undecided));
  EXPECT_TRUE(has(asked.answer.findings, "plan.standoff", Grade::undecided));
  EXPECT_EQ(asked.answer.plans[0].cost_crew_s, 7200);
  EXPECT_FALSE(asked.answer.plans[0].time_to_stop);
}

TEST(Plan, AnUnsetClearanceKeepsThePublishedOneAndIsUndecided) {
  procedure::ProfileDraft draft;
  draft.id = "published";
  procedure::RowDraft row;
  row.rule = "squeeze.clearance_diameters";
  row.reference = procedure::Reference{5.0, "a book", Evidence::seen};
  draft.rows = {row};
  const auto profile = *procedure::compose(draft, nullptr);
  const Town town = dead_end();
  const Asked asked = ask(town, at(town, "M2", 50), 1, Kind::planned, profile);
  EXPECT_TRUE(has(asked.answer.findings, "squeeze.clearance_diameters", Grade::undecided));
  const Shutoff& shutoff = asked.answer.plans[0].shutoffs[0];
  const Length od = facts_of_main(town.network, shutoff.place.pipe).od;
  EXPECT_NEAR(shutoff.place.clearance.si(), 5 * od.si(), 1e-12);
  EXPECT_NE(shutoff.fallback.spare_station, std::optional(shutoff.place.station));
}

TEST(Plan, WithoutAnyClearanceAPlaceLiesInTheMiddleAndHasNoSpare) {
  procedure::ProfileDraft draft;
  draft.id = "empty";
  const auto profile = *procedure::compose(draft, nullptr);
  const Town town = dead_end();
  const Asked asked = ask(town, at(town, "M2", 50), 1, Kind::planned, profile);
  EXPECT_TRUE(has(asked.answer.findings, "squeeze.clearance", Grade::undecided));
  const Shutoff& shutoff = asked.answer.plans[0].shutoffs[0];
  EXPECT_NEAR(shutoff.place.station.si(),
              0.5 * (shutoff.place.window_begin + shutoff.place.window_end).si(), 1e-9);
  EXPECT_FALSE(shutoff.fallback.spare_station);
}

TEST(TimeToStop, SharesTheWorkAmongCrews) {
  std::vector<Shutoff> shutoffs(3);
  shutoffs[0].place.time_s = 100;
  shutoffs[1].place.time_s = 60;
  shutoffs[2].place.time_s = 50;
  EXPECT_DOUBLE_EQ(time_to_stop(shutoffs, 1)->si(), 210);
  EXPECT_DOUBLE_EQ(time_to_stop(shutoffs, 2)->si(), 110);
  EXPECT_DOUBLE_EQ(time_to_stop(shutoffs, 9)->si(), 100);
}

}  // namespace
}  // namespace bellhole::plan
