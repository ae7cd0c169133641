#include "plan/undo.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>

#include "gas/flattened.hpp"
#include "plan/stages.hpp"
#include "tests/unit/plan/small_town.hpp"

namespace bellhole::plan {
namespace {

using test::psi;
using test::scfh;
using test::Town;

constexpr double inch = 0.0254;

gas::Flowing flowing() {
  return gas::flowing(*gas::from_gravity(0.6), Temperature::from_si(283.0));
}

/// IPS 4 DR 11 as it stands shut: 4.5 in outside, walls of 0.434 in, squeezed to 0.6 in between the
/// bars, opened at half an inch a minute in steps of 0.25 in with a minute between.
Opening ips4(double needed_scfh, double live_psig, double behind_psig) {
  const double wall = 0.434 * inch, bore = (4.5 - 2.0 * 0.434) * inch;
  const double kg_per_std = gas::base_density(*gas::from_gravity(0.6), gas::us_base).si();
  return {.od = Length::from_si(4.5 * inch),
          .bore = Length::from_si(bore),
          .wall = Length::from_si(wall),
          .pace = squeeze::timetable({.from = Length::from_si(0.6 * inch),
                                      .to = Length::from_si(4.5 * inch),
                                      .speed = Speed::from_si(0.5 * inch / 60.0),
                                      .step = Length::from_si(0.25 * inch),
                                      .pause = Duration::from_si(60.0),
                                      .mark_every = Length::from_si(0.5 * inch),
                                      .per_count = std::nullopt}),
          .needed = MassFlow::from_si(needed_scfh * scfh * kg_per_std),
          .live = AbsolutePressure::from_si((live_psig + 14.696) * psi),
          .behind = AbsolutePressure::from_si((behind_psig + 14.696) * psi)};
}

TEST(Undo, TheGapThatPassesTheFlowByHand) {
  // By hand: a twentieth of the bore's height open, y = 0.05, leaves r = y (2 - y) = 0.0975 of the
  // bore. Sharp edges: c = 0.63 + 0.37 r^3 = 0.63034, K = (1 / (c r) - 1)^2 = (16.271 - 1)^2 =
  // 233.2. From 40 to 39 psig the potential falls by about (54.696^2 - 53.696^2) psi^2 / 2, and K
  // takes K R_s T / (2 A^2) q^2 of it.
  Opening opening = ips4(0.0, 40.0, 39.0);
  const gas::Flowing gas = flowing();
  const double area = 3.14159265 / 4.0 * opening.bore.si() * opening.bore.si();
  const double fall = (54.696 * 54.696 - 53.696 * 53.696) * psi * psi / 2.0;
  const double q = area * std::sqrt(2.0 * fall / (233.2 * gas.specific_constant * 283.0));
  opening.needed = MassFlow::from_si(q);
  const auto gap = gap_for(opening, gas);
  ASSERT_TRUE(gap);
  EXPECT_NEAR((gap->si() - 2.0 * opening.wall.si()) / opening.bore.si(), 0.05, 0.0005);
}

TEST(Undo, TimeToEnoughByHand) {
  // The walls part at 0.868 in; y = 0.05 of a bore of 3.632 in is 0.182 in more: a gap of 1.050 in,
  // 0.450 in from 0.6. At 0.5 in a minute that is 54 s of moving, and one wait of 60 s after the
  // first 0.25 in.
  Opening opening = ips4(0.0, 40.0, 39.0);
  const auto none = time_to_enough(opening, flowing());
  ASSERT_TRUE(none);
  EXPECT_NEAR(none->si(), 0.268 / 0.5 * 60.0 + 60.0, 0.1) << "nothing needed: when the walls part";
  const Length gap = Length::from_si((0.868 + 0.05 * 3.632) * inch);
  EXPECT_NEAR(when_at(opening.pace, gap).si(), 54.0 + 60.0, 0.5);
  EXPECT_EQ(when_at(opening.pace, Length::from_si(9.0)), opening.pace.with_waits);
}

TEST(Undo, TheFirstTenthOfOpeningDoesMostAndClosingAlmostNothingUntilTheLast) {
  // By hand: a kilometre of this main costs f L / D = 0.015 x 1000 / 0.0923 = 163 velocity heads. A
  // tenth of the height open costs 54 at most (gas/flattened.hpp): the flow through both is
  // sqrt(163 / (163 + 54)) = 87 % of that through the main alone. Nine tenths of the opening are
  // left for the last 13 %.
  const double main_k = 0.015 * 1000.0 / (3.632 * inch);
  const auto share = [&](double y) {
    return std::sqrt(main_k / (main_k + gas::squeeze_loss(gas::open_share(y)).most));
  };
  EXPECT_NEAR(share(0.1), 0.87, 0.01);
  EXPECT_GT(share(0.5), 0.998);
  EXPECT_LT(share(0.01), 0.2);
}

RC_GTEST_PROP(Undo, MoreFlowNeverTakesLessTimeAndMorePressureNeverMore, ()) {
  const double needed = *rc::gen::inRange(0, 60000), live = 5.0 + *rc::gen::inRange(0, 50);
  const gas::Flowing gas = flowing();
  const auto a = time_to_enough(ips4(needed, live, 2.0), gas);
  const auto more = time_to_enough(ips4(needed * 1.3 + 10.0, live, 2.0), gas);
  const auto stronger = time_to_enough(ips4(needed, live + 5.0, 2.0), gas);
  if (more) RC_ASSERT(a && *a <= *more);
  if (a) RC_ASSERT(stronger && *stronger <= *a);
}

TEST(Undo, WithoutPressureToSpareThereIsNoTime) {
  EXPECT_FALSE(time_to_enough(ips4(1000.0, 20.0, 20.0), flowing()));
  const Opening torrent = ips4(9e9, 40.0, 20.0);
  EXPECT_NEAR(time_to_enough(torrent, flowing())->si(), torrent.pace.with_waits.si(), 0.01)
      << "no slot passes it: not before the pipe is round";
}

/// A main that leads to houses which must stay on, and the work on a branch before them. The valve
/// V on the way is shut too early: the houses live from what is in their main.
//   S ---m1 (V)--- a ---m2--- b (houses), the work on a ---m3--- c
struct Pocket {
  Town town;
  network::Model model;
  procedure::Profile profile = test::round_costs();
  Work work;
  Question question;
  network::SteadyState before;
  ShutoffPlan plan;

  static Town make() {
    Town town;
    const auto s = town.node("S", 0, 0), a = town.node("a", 100, 0), b = town.node("b", 600, 0),
               c = town.node("c", 100, 200);
    const auto m1 = town.main("m1", s, a), m2 = town.main("m2", a, b);
    town.main("m3", a, c);
    town.source("gate", s, 40);
    town.valve("V", m1, 50);
    for (int i = 1; i <= 10; ++i) town.customer("h" + std::to_string(i), m2, 45.0 * i, 100.0);
    return town;
  }
  explicit Pocket(procedure::Profile with)
      : town(make()),
        model(test::model_of(town)),
        profile(std::move(with)),
        work(*work_on_pipe(town.network, "m3", Length::from_si(100), Length::from_si(100))),
        question{model, profile, work, Kind::planned, {.air = Temperature::from_si(280.0)}} {
    network::Scenario high = question.conditions;
    high.load = network::LoadCase::high;
    before = *model.solve(high);
    Shutoff valve;
    valve.letter = "A";
    valve.place = {
        .kind = ShutKind::valve, .element = 0, .pipe = 0, .station = Length::from_si(50)};
    plan.shutoffs.push_back(valve);
  }
  StageNumbers shut() {
    Outset outset(question, before);
    Stages stages(outset, plan);
    Unwatched watch;
    const std::vector<StageAsk> asks{{.shut = {0}, .moved = 0}};
    return (*stages.numbers({}, asks, watch)).front();
  }
};

procedure::Profile turning(double minutes) {
  procedure::ProfileDraft draft;
  draft.id = "turning";
  procedure::RowDraft row;
  row.rule = "plan.time_turn_valve";
  row.value = minutes;
  row.unit = "min";
  row.source = "invented for a test";
  row.evidence = Evidence::company;
  draft.rows.push_back(row);
  return *procedure::compose(draft, nullptr);
}

TEST(PointOfNoReturn, TheGasOfAPocketByHand) {
  // 50 m of m1 behind the valve, 500 m of m2, 200 m of m3: 750 m of 3.633 in bore, 5.016 m3. The
  // lowest of the houses has 40 psig, less what 1,400 scfh loses on the way (under 0.1 psi); the
  // tier's least is 20. Usable: 5.016 x 20 psi / 14.73 psi = 6.8 standard m3 (a little more, since
  // gas is denser than ideal and colder than its base). Draw at the high load: 10 x 100 x 1.4
  // scfh = 0.01101 std m3/s. 620 s, not counting Z and temperature.
  Pocket quick(turning(4));
  const StageNumbers numbers = quick.shut();
  ASSERT_TRUE(numbers.time_left);
  EXPECT_NEAR(numbers.time_left->si(), 620.0, 0.04 * 620.0);
  ASSERT_TRUE(numbers.undo);
  EXPECT_DOUBLE_EQ(numbers.undo->si(), 240.0);
  EXPECT_FALSE(numbers.point_of_no_return);
  EXPECT_EQ(std::ranges::count(numbers.findings, "plan.no_return", &Finding::rule), 0);
}

TEST(PointOfNoReturn, UndoThatTakesLongerThanTheGasLastsNeedsTwoNames) {
  Pocket slow(turning(30));
  const StageNumbers numbers = slow.shut();
  EXPECT_TRUE(numbers.point_of_no_return);
  const auto found = std::ranges::find(numbers.findings, "plan.no_return", &Finding::rule);
  ASSERT_NE(found, numbers.findings.end());
  EXPECT_EQ(found->grade, Grade::warn);
  EXPECT_NE(found->says.find("a point of no return"), std::string::npos);
  EXPECT_NE(found->action.find("two people accept this by name before A is shut"),
            std::string::npos);
  EXPECT_DOUBLE_EQ(*found->value_si, 1800.0);
}

TEST(PointOfNoReturn, ATimeThatNobodyKnowsIsUndecided) {
  Pocket unknown(test::round_costs());
  const StageNumbers numbers = unknown.shut();
  EXPECT_FALSE(numbers.undo);
  EXPECT_FALSE(numbers.point_of_no_return);
  const auto found = std::ranges::find(numbers.findings, "plan.no_return", &Finding::rule);
  ASSERT_NE(found, numbers.findings.end());
  EXPECT_EQ(found->grade, Grade::undecided);
}

TEST(PointOfNoReturn, WhereNobodyLosesGasThereIsNone) {
  Pocket pocket(test::round_costs());
  for (auto& base : pocket.town.network.customers.base) base = StdFlow();
  pocket.model = test::model_of(pocket.town);
  pocket.before = *pocket.model.solve(pocket.question.conditions);
  const StageNumbers numbers = pocket.shut();
  EXPECT_EQ(std::ranges::count(numbers.findings, "plan.no_return", &Finding::rule), 0);
  EXPECT_FALSE(numbers.time_left);
}

}  // namespace
}  // namespace bellhole::plan
