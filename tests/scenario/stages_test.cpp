// What a shut-off does to stations and customers while it goes on.
#include "plan/stages.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>

#include "plan/shutoffs.hpp"
#include "tests/scenario/drawing.hpp"
#include "tests/unit/plan/small_town.hpp"

namespace bellhole::scenario {
namespace {

/// The plans of a work in a drawn town.
class Planned {
 public:
  Planned(const Drawing& town, std::string_view pipe, double from_m, double to_m,
          plan::Kind kind = plan::Kind::planned)
      : model_(*network::Model::prepare(
            town.network(), {.gas = *gas::from_gravity(0.6), .ground = Temperature::from_si(283)})),
        profile_(plan::test::round_costs()),
        work_(*plan::work_on_pipe(town.network(), pipe, Length::from_si(from_m),
                                  Length::from_si(to_m))),
        question_{model_, profile_, work_, kind, {.air = Temperature::from_si(283.15)},
                  2026.9, 12,       1} {
    question_.limit_temperature = false;
    Unwatched watch;
    auto found = plan::plan(question_, watch);
    if (!found) {
      ADD_FAILURE() << found.error().where << " " << found.error().fix;
      std::abort();
    }
    answer_ = std::move(*found);
  }

  [[nodiscard]] std::size_t plans() const { return answer_.plans.size(); }
  [[nodiscard]] const plan::ShutoffPlan& plan(std::size_t rank = 0) const {
    return answer_.plans.at(rank);
  }
  [[nodiscard]] std::vector<Finding> all(std::string_view rule, std::size_t rank = 0) const {
    std::vector<Finding> list;
    for (const Finding& finding : plan(rank).findings)
      if (finding.rule == rule) list.push_back(finding);
    return list;
  }
  [[nodiscard]] bool halts(std::size_t rank = 0) const {
    return std::ranges::any_of(plan(rank).findings,
                               [](const Finding& f) { return f.grade == Grade::halt; });
  }
  [[nodiscard]] std::vector<plan::StageNumbers> numbers(
      const std::vector<plan::StageAsk>& asks, const std::vector<plan::GaugePoint>& points = {}) {
    plan::Outset outset(question_, answer_.before);
    plan::Stages stages(outset, plan());
    Unwatched watch;
    return *stages.numbers(points, asks, watch);
  }
  [[nodiscard]] plan::ClosingOrder order() {
    plan::Outset outset(question_, answer_.before);
    plan::Stages stages(outset, plan());
    Unwatched watch;
    return *stages.closing_order(watch);
  }

 private:
  network::Model model_;
  procedure::Profile profile_;
  plan::Work work_;
  plan::Question question_;
  plan::Answer answer_;
};

bool names(const Finding& finding, std::string_view word) {
  return finding.says.find(word) != std::string::npos &&
         finding.action.find(word) != std::string::npos;
}

/// Two stations give to a district of 45 psig from a feeder at 55. The East station feels its
/// pressure on the main from M to C; the low tier below is fed by two district regulators, R2 and
/// R3, of which R2 takes its gas from the same main.
Drawing two_stations() {
  Drawing town(R"(
    A-4---->-4---B-4-cccc-c------M----4-----c-----c---cc--C-4----<-4---E
    |                            |                        |            |
    8                            4                        4            8
    |                            |                        |            |
    |                            N-4-->-2-cccP-ccc-2--<-4-Q            |
    |                                                                  |
    F--------------------------------8---------------------------------G)");
  town.tier("A", "feeder", "60psig", "20psig")
      .tier("B", "district", "45psig", "10psig")
      .tier("P", "low", "14inWC", "5inWC")
      .feed("F", "55psig", "200000scfh")
      .regulator("R1", "42psig", "60000scfh")
      .regulator("R2", "42psig", "60000scfh")
      .regulator("R3", "11inWC", "4000scfh")
      .regulator("R4", "11inWC", "4000scfh")
      .station("R1", "West station")
      .station("R2", "East station")
      .customers("400scfh");
  for (const char* r : {"R1", "R2", "R3", "R4"}) town.one_way(r).lock_up(r, 0.05);
  return town;
}

/// Whether a plan takes the East station out of service by hand.
bool without_east(const plan::ShutoffPlan& plan) {
  return std::ranges::any_of(plan.shutoffs, [](const plan::Shutoff& shutoff) {
    return shutoff.place.kind == plan::ShutKind::source_outlet ||
           (shutoff.place.kind == plan::ShutKind::regulator_outlet && shutoff.place.element == 1);
  });
}

/// The work of these tests: 30 m of the main from M to C.
Planned at_the_tap(const Drawing& town) { return {town, "M-C", 0.0, 30.0}; }

TEST(Stages, ATapOnTheWorkHaltsEveryPlanAndNamesStationAndPost) {
  Drawing town = two_stations();
  town.feels("R2", "M-C@20m");
  const Planned planned = at_the_tap(town);
  ASSERT_GE(planned.plans(), 6u);
  EXPECT_EQ(planned.all("plan.over_maop").size(), 1u);
  EXPECT_FALSE(without_east(planned.plan())) << "the plan that a reader takes first";
  for (std::size_t rank = 0; rank < 6; ++rank) {
    SCOPED_TRACE(rank);
    if (without_east(planned.plan(rank))) continue;
    const auto sensing = planned.all("plan.sensing", rank);
    ASSERT_EQ(sensing.size(), 1u) << "said once, not at every step";
    EXPECT_EQ(sensing[0].grade, Grade::halt);
    EXPECT_TRUE(names(sensing[0], "East station (R2)"));
    EXPECT_NE(sensing[0].says.find("main M-C"), std::string::npos);
    EXPECT_NE(sensing[0].action.find("post a person at East station (R2), with a gauge on its "
                                     "outlet and a hand on its outlet valve"),
              std::string::npos);
    EXPECT_NE(sensing[0].says.find("55.0 psig at its inlet"), std::string::npos);
    const auto over = planned.all("plan.over_maop", rank);
    if (over.empty()) continue;  // squeezed right behind the station: nobody draws
    EXPECT_EQ(over[0].grade, Grade::halt);
    EXPECT_GT(*over[0].value_si, 50.0 * support::psi) << "wide open, nearly the feeder's pressure";
    EXPECT_NEAR(*over[0].limit_si, 45.0 * support::psi, 1.0);
  }
}

TEST(Stages, MovingTheTapClearsIt) {
  Drawing town = two_stations();
  town.feels("R2", "M-C@250m");  // beyond the squeeze, on what the station feeds
  const Planned planned = at_the_tap(town);
  ASSERT_GE(planned.plans(), 1u);
  EXPECT_TRUE(planned.all("plan.sensing").empty());
  EXPECT_TRUE(planned.all("plan.over_maop").empty());
  EXPECT_FALSE(planned.halts());
}

TEST(Stages, ATapThatNobodyKnowsIsUndecidedAndAPersonIsPosted) {
  Drawing town = two_stations();
  town.feels_unknown("R2");
  const Planned planned = at_the_tap(town);
  for (std::size_t rank = 0; rank < planned.plans(); ++rank) {
    if (without_east(planned.plan(rank))) continue;
    const auto sensing = planned.all("plan.sensing", rank);
    ASSERT_EQ(sensing.size(), 1u);
    EXPECT_EQ(sensing[0].grade, Grade::undecided);
    EXPECT_TRUE(names(sensing[0], "East station (R2)"));
    EXPECT_NE(sensing[0].action.find("post a person at East station"), std::string::npos);
  }
}

TEST(Stages, TheStateThatHaltsIsNamedAndTheOnesBeforeItDoNot) {
  Drawing town = two_stations();
  town.feels("R2", "M-C@20m");
  Planned planned = at_the_tap(town);
  const auto order = planned.order().order;
  ASSERT_EQ(order.size(), 3u);
  const auto asks = plan::Stages::asks_of(order);
  ASSERT_EQ(asks.size(), 7u) << "nothing, three closings, three openings";
  const auto numbers = planned.numbers(asks);
  const auto halts = [&](std::size_t i) {
    return std::ranges::any_of(numbers[i].findings,
                               [](const Finding& f) { return f.rule == "plan.sensing"; });
  };
  // The last closing parts the tap from its station: before, it still feels it from one side.
  for (const std::size_t i : {0u, 1u, 2u, 4u, 5u, 6u}) EXPECT_FALSE(halts(i)) << i;
  EXPECT_TRUE(halts(3));
  EXPECT_EQ(numbers[3].watch, std::vector<network::Index>{1});
  EXPECT_EQ(numbers[3].findings[0].says.rfind("With A, B and C shut: East station (R2)", 0), 0u)
      << numbers[3].findings[0].says;
  EXPECT_NE(numbers[3].findings[0].action.find("before C is shut"), std::string::npos);
}

TEST(Stages, ADistrictRegulatorThatLosesItsInletFeedsBackwardsUnlessACheckIsRecorded) {
  // The plan that squeezes the low main first leaves R3 with its inlet on the part.
  Drawing town(R"(
    H-4-ccccccccc-A-4-----c--M---4--c-----B
                             |
                             4
                             |
                             N-4-->-2-cc-P-cc-2--<-4-ccccccccc-Q)");
  town.tier("A", "district", "45psig", "10psig")
      .tier("Q", "other", "45psig", "10psig")
      .tier("P", "low", "14inWC", "5inWC")
      .feed("A", "40psig", "20000scfh")
      .feed("Q", "40psig", "20000scfh")
      .regulator("R1", "11inWC", "9000scfh")
      .regulator("R2", "11inWC", "9000scfh")
      .customers("200scfh");
  const auto loses_inlet = [&] {
    Planned planned(town, "A-M", 60.0, 60.0, plan::Kind::emergency);
    const auto& shutoffs = planned.plan().shutoffs;
    std::size_t upstream = 0;
    while (upstream < shutoffs.size() &&
           (shutoffs[upstream].place.kind != plan::ShutKind::squeeze ||
            shutoffs[upstream].place.station.si() > 60.0))
      ++upstream;
    EXPECT_LT(upstream, shutoffs.size()) << "the plan squeezes between A and the work";
    const auto numbers = planned.numbers({{.shut = {upstream}, .moved = upstream}});
    for (const Finding& finding : numbers[0].findings)
      if (finding.rule == "plan.regulator_inlet") return finding;
    return Finding{};
  };
  const Finding backwards = loses_inlet();
  EXPECT_EQ(backwards.grade, Grade::undecided) << "whether it can is not recorded";
  EXPECT_NE(backwards.says.find("feeds backwards, from its outlet"), std::string::npos);
  EXPECT_TRUE(names(backwards, "station R1 (R1)"));

  town.regulator("R1", "9inWC", "9000scfh");  // R2 holds the low tier above it: it stands shut
  const Finding stands_shut = loses_inlet();
  EXPECT_EQ(stands_shut.grade, Grade::undecided);
  EXPECT_NE(stands_shut.says.find("as soon as its outlet sags"), std::string::npos)
      << stands_shut.says;

  town.one_way("R1");
  const Finding checked = loses_inlet();
  EXPECT_EQ(checked.grade, Grade::warn);
  EXPECT_NE(checked.says.find("a check or slam-shut is recorded"), std::string::npos);
}

TEST(Stages, LockUpOnAShutSectionAgainstMaopAndRelief) {
  // R1 gives to one dead-end main. With the squeeze shut nobody draws from its outlet.
  Drawing town("A-4---c--->-4-----------M----c-----c--4--B");
  town.tier("A", "feeder", "60psig", "20psig")
      .tier("B", "district", "45psig", "10psig")
      .feed("A", "55psig", "20000scfh")
      .regulator("R1", "42psig", "9000scfh")
      .customers("200scfh");
  const auto graded = [&](double lock_up, const char* relief) {
    Drawing with = town;
    if (std::isfinite(lock_up)) with.lock_up("R1", lock_up);
    if (*relief != 0) with.relief("R1", relief);
    Planned planned(with, "M-B", 20.0, 20.0);
    for (std::size_t rank = 0; rank < planned.plans(); ++rank) {
      if (planned.plan(rank).shutoffs[0].place.kind != plan::ShutKind::squeeze) continue;
      const auto found = planned.all("plan.lock_up", rank);
      if (found.size() == 1) return std::optional(found[0]);
    }
    return std::optional<Finding>();
  };
  const auto kept = graded(0.05, "");  // 44.1 psig
  ASSERT_TRUE(kept);
  EXPECT_EQ(kept->grade, Grade::warn) << "within MAOP, but creep goes on";
  EXPECT_NEAR(*kept->value_si, 44.1 * support::psi, 1.0);
  EXPECT_EQ(graded(0.10, "")->grade, Grade::halt) << "46.2 psig against 45";
  EXPECT_EQ(graded(0.05, "44psig")->grade, Grade::halt) << "its relief opens at 44";
  EXPECT_EQ(graded(support::unknown, "")->grade, Grade::undecided);
}

TEST(Stages, OneStationLeftAloneAtItsCapacityIsSaidAndSoAreThoseWhoFallShort) {
  Drawing town = two_stations();
  town.regulator("R2", "42psig", "3000scfh")
      .customer("C12", "2500scfh", "20psig")
      .must_not_lose("C12", "hospital");
  Planned planned = at_the_tap(town);
  const auto alone = planned.all("plan.left_alone");
  const auto east = std::ranges::find(alone, "regulator R2", &Finding::about);
  ASSERT_NE(east, alone.end());
  EXPECT_EQ(east->grade, Grade::warn);
  EXPECT_NE(east->says.find("gives all it can"), std::string::npos) << east->says;
}

TEST(Stages, ADeviceThatTripsNeedsAHandBeforeGasComesBack) {
  Drawing town = two_stations();
  town.feels("R2", "M-C@20m").trips("R2");
  const auto reset = at_the_tap(town).all("plan.reset");
  ASSERT_EQ(reset.size(), 1u);
  EXPECT_EQ(reset[0].grade, Grade::warn);
  EXPECT_TRUE(names(reset[0], "East station (R2)"));
}

TEST(Stages, AReliefThatWouldOpenHalts) {
  Drawing town = two_stations();
  town.feels("R2", "M-C@20m").relief("R2", "50psig");
  const auto relief = at_the_tap(town).all("plan.over_relief");
  ASSERT_EQ(relief.size(), 1u);
  EXPECT_EQ(relief[0].grade, Grade::halt);
}

TEST(Stages, TheFirstSqueezeIsTheOneThatBringsMoreGasAndSaysWhatStillComes) {
  // The work is 30 m from a big main on the left and 400 m of 2-inch from the right.
  Drawing town(R"(
    A-8-ccccc--B-4--c--------------c--4--C
    |                                    |
    8                                    2
    |                                    |
    D-ccccc---------2--------------------E)");
  town.tier("A", "street", "60psig", "10psig")
      .feed("A", "40psig", "90000scfh")
      .customers("100scfh");
  Planned planned(town, "B-C", 60.0, 60.0);
  const auto& shutoffs = planned.plan().shutoffs;
  ASSERT_EQ(shutoffs.size(), 2u);
  const auto order = planned.order();
  EXPECT_LT(shutoffs[order.order[0]].place.station.si(), 60.0) << "toward the big main";
  ASSERT_TRUE(order.gas_left[0]);
  EXPECT_GT(order.gas_left[0]->si(), 0.02) << "some still comes round by the 2-inch";
  EXPECT_LT(order.gas_left[0]->si(), 0.4);
  EXPECT_EQ(order.gas_left[1]->si(), 0.0) << "none when both are shut";
  EXPECT_NE(order.because.find("it brings the part more gas"), std::string::npos) << order.because;
  const auto numbers = planned.numbers(plan::Stages::asks_of(order.order));
  EXPECT_EQ(numbers[1].gas_left->si(), order.gas_left[0]->si());
  EXPECT_EQ(numbers[3].gas_left->si(), order.gas_left[0]->si()) << "opening is the same state";
}

TEST(Stages, GaugesReadWhatTheNetworkHasOnTheirSide) {
  Drawing town("A-4-cccccccccc-c----M------c---4--B");
  town.tier("A", "street", "60psig", "10psig").feed("A", "40psig", "9000scfh").customers("300scfh");
  Planned planned(town, "M-B", 35.0, 35.0);
  const auto& place = planned.plan().shutoffs[0].place;
  ASSERT_EQ(planned.plan().shutoffs.size(), 1u);
  plan::GaugePoint live{.pipe = place.pipe, .station = place.station, .toward = -1};
  plan::GaugePoint part = live;
  part.toward = 1;
  const auto numbers =
      planned.numbers({{}, {.shut = {0}, .moved = 0}}, {live, part, {.customer = 0}});
  EXPECT_NEAR(numbers[0].expect[0].si(), numbers[0].expect[1].si(), 1.0) << "open: one pressure";
  EXPECT_GT(numbers[1].expect[0].si(), 39.0 * support::psi);
  EXPECT_TRUE(std::isnan(numbers[1].expect[1].si())) << "no gas behind the squeeze";
  EXPECT_LE(numbers[0].at_high_load[2].si(), numbers[0].expect[2].si());
  EXPECT_GE(numbers[0].at_low_load[2].si(), numbers[0].expect[2].si());
}

}  // namespace
}  // namespace bellhole::scenario
