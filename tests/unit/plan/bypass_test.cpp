#include "plan/bypass.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "gas/fittings.hpp"
#include "network/added.hpp"
#include "network/check.hpp"
#include "tests/support/invented_profile.hpp"
#include "tests/support/town.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using support::cubic_foot_per_hour, support::inch, support::psi, support::unknown;

/// A profile with what a test sets; everything else has no limit.
procedure::Profile profile(double speed_most = unknown, double customer_s = unknown) {
  return support::invented(
      {{"bypass.speed_most", speed_most, "m/s"}, {"plan.cost_customer", customer_s, "s"}});
}

/// gate --- main (1,000 m, shut at 480 and 520, work at 500) --- end, and
/// north --- tie (200 m, valve TV closed at 100) --- end, which another gate feeds.
struct Street {
  support::Town town;
  Index tier, main, tie, near, far, hospital, valve;
  network::Conditions conditions{.gas = *gas::from_gravity(0.6),
                                 .ground = Temperature::from_si(288.15)};
  procedure::Profile rows = profile(30.0, 1800.0);

  explicit Street(double maop_psi = 60.0, double north_psi = 50.0) {
    tier = town.tier("60", maop_psi * psi, 20 * psi);
    const Index gate = town.node("gate", tier), end = town.node("end", tier, 1000.0),
                north = town.node("north", tier, 1000.0, 200.0);
    main = town.pipe("main", gate, end, 1000.0, 3.633 * inch);
    tie = town.pipe("tie", north, end, 200.0, 3.633 * inch);
    town.source("GATE", gate, 50 * psi);
    if (north_psi > 0.0) town.source("NORTH", north, north_psi * psi);
    near = town.customer("near", main, 300.0, 500 * cubic_foot_per_hour);
    far = town.customer("far", main, 700.0, 500 * cubic_foot_per_hour);
    hospital = town.customer("hospital", main, 900.0, 1500 * cubic_foot_per_hour);
    town.net.customers.must_not_lose[static_cast<std::size_t>(hospital)] = 1;
    valve = town.valve("TV", tie, 100.0, network::Position::closed);
    town.net.valves.operable.back() = network::Ternary::yes;
    town.net.valves.reachable.back() = network::Ternary::yes;
    town.net.valves.last_operated_year.back() = 2025.0;
    town.net.backdrop.first = {0};
  }

  BypassQuestion question() const {
    const network::Scenario open{.air = Temperature::from_si(268.15)};
    network::Scenario shut = open;
    shut.closures = {{main, Length::from_si(480.0)}, {main, Length::from_si(520.0)}};
    BypassQuestion ask{
        .network = town.net, .conditions = conditions, .open = open, .shut = shut, .profile = rows};
    ask.work = {{main, Length::from_si(500.0)}};
    ask.between =
        std::pair(OnMain{main, Length::from_si(470.0)}, OnMain{main, Length::from_si(530.0)});
    ask.sizes = {{"2in", Length::from_si(1.943 * inch), GaugePressure::from_si(100 * psi)}};
    ask.length = Length::from_si(80.0);
    ask.roughness = Length::from_si(1.5e-6);
    return ask;
  }
};

Bypasses answer(const BypassQuestion& ask) {
  Unwatched unwatched;
  auto got = bypasses_of(ask, unwatched);
  if (!got) ADD_FAILURE() << got.error().where << " " << got.error().value << got.error().fix;
  return got ? std::move(*got) : Bypasses{};
}

const BypassFound& by_kind(const Bypasses& all, BypassKind kind) {
  return *std::ranges::find(all.bypasses, kind, &BypassFound::kind);
}

const Finding* finding(const Findings& list, std::string_view rule) {
  const auto found = std::ranges::find(list, rule, &Finding::rule);
  return found == list.end() ? nullptr : &*found;
}

TEST(Bypass, NobodyOutNeedsNone) {
  Street street;
  auto ask = street.question();
  ask.shut.closures = {};
  const Bypasses got = answer(ask);
  EXPECT_FALSE(got.needed());
  EXPECT_TRUE(got.bypasses.empty());
  EXPECT_NE(finding(got.findings, "bypass.work_not_shut"), nullptr);
}

TEST(Bypass, HoseRoundTheWorkKeepsThoseBehindIt) {
  const Street street;
  const Bypasses got = answer(street.question());
  ASSERT_EQ(got.out, (std::vector<Index>{street.far, street.hospital}));
  EXPECT_EQ(got.must_out, (std::vector<Index>{street.hospital}));
  ASSERT_EQ(got.bypasses.size(), 2U);
  EXPECT_TRUE(got.helped());
  const BypassFound& hose = by_kind(got, BypassKind::pipe);
  EXPECT_EQ(hose.kept, got.out);
  EXPECT_TRUE(hose.out.empty());
  EXPECT_TRUE(hose.must_out.empty());
  // 1.2 x 2,000 scfh pass it: who is behind it draws nothing else.
  EXPECT_NEAR(hose.flow.si(), 2400 * cubic_foot_per_hour, 1e-6);
  EXPECT_DOUBLE_EQ(hose.saves->si(), 3600.0);
  ASSERT_TRUE(hose.speed);
  EXPECT_EQ(finding(hose.findings, "bypass.speed_most"), nullptr);
  EXPECT_EQ(finding(got.findings, "bypass.work_not_named"), nullptr);
}

TEST(Bypass, PressureBehindTheHoseIsThatOfThePipeWithFittings) {
  const Street street;
  auto ask = street.question();
  ask.loss = 40.0;
  const BypassFound hose = by_kind(answer(ask), BypassKind::pipe);
  // By hand: main to the hose, the hose, main to the hospital, in one line.
  const auto gas = gas::flowing(street.conditions.gas, street.conditions.ground);
  const double density =
      gas::base_density(street.conditions.gas,
                        {street.town.net.base_pressure, street.town.net.base_temperature})
          .si();
  const auto after = [&](AbsolutePressure from, double length, double bore_in, double k,
                         double cfh) {
    return gas::pressure_after(
        {Length::from_si(length), Length::from_si(bore_in * inch), Length::from_si(1.5e-6), k}, gas,
        from, MassFlow::from_si(cfh * cubic_foot_per_hour * density));
  };
  AbsolutePressure p = absolute(GaugePressure::from_si(50 * psi), street.town.net.barometer);
  p = after(p, 300.0, 3.633, 0.0, 3000.0);
  p = after(p, 170.0, 3.633, 0.0, 2400.0);
  p = after(p, 80.0, 1.943, 40.0, 2400.0);
  p = after(p, 170.0, 3.633, 0.0, 2400.0);
  p = after(p, 200.0, 3.633, 0.0, 1800.0);
  ASSERT_TRUE(hose.lowest);
  EXPECT_EQ(hose.lowest->place, "customer hospital");
  EXPECT_NEAR(hose.lowest->pressure.si(), p.si() - street.town.net.barometer.si(), 5.0);
}

TEST(Bypass, ValveComesFirstAndKeepsItsState) {
  Street street;
  Bypasses got = answer(street.question());
  EXPECT_EQ(got.bypasses.front().kind, BypassKind::valve);
  // Flow from `north` to `end` feeds everybody behind the work.
  EXPECT_NEAR(got.bypasses.front().flow.si(), 2400 * cubic_foot_per_hour, 1e-6);
  street.town.net.valves.operable.back() = network::Ternary::no;
  got = answer(street.question());
  EXPECT_EQ(got.bypasses.front().kind, BypassKind::pipe);
  EXPECT_EQ(finding(got.bypasses.back().findings, "bypass.valve_state")->grade, Grade::halt);
  street.town.net.valves.operable.back() = network::Ternary::unknown;
  got = answer(street.question());
  EXPECT_EQ(finding(got.bypasses.front().findings, "bypass.valve_state")->grade, Grade::undecided);
}

TEST(Bypass, ValveWithoutGasBehindItChangesNothing) {
  const Street street(60.0, 0.0);
  const BypassFound valve = by_kind(answer(street.question()), BypassKind::valve);
  EXPECT_TRUE(valve.kept.empty());
  EXPECT_EQ(valve.flow.si(), 0.0);
}

TEST(Bypass, BackToTheWorkHalts) {
  const Street street;
  auto ask = street.question();
  ask.between->second.station = Length::from_si(510.0);
  const BypassFound hose = by_kind(answer(ask), BypassKind::pipe);
  ASSERT_NE(finding(hose.findings, "bypass.feeds_work"), nullptr);
  EXPECT_EQ(finding(hose.findings, "bypass.feeds_work")->grade, Grade::halt);
  ask.work.clear();
  EXPECT_EQ(finding(answer(ask).findings, "bypass.work_not_named")->grade, Grade::undecided);
}

TEST(Bypass, JoinedWhereTheMainIsShutIsRefused) {
  const Street street;
  auto ask = street.question();
  ask.between->first.station = Length::from_si(480.0);
  Unwatched unwatched;
  const auto got = bypasses_of(ask, unwatched);
  ASSERT_FALSE(got);
  EXPECT_EQ(got.error().code, Code::contradiction);
}

TEST(Bypass, SmallHoseKeepsFewerAndIsFast) {
  const Street street;
  auto ask = street.question();
  ask.sizes.push_back({"tube", Length::from_si(0.3 * inch), std::nullopt});
  const Bypasses got = answer(ask);
  const BypassFound& tube = got.bypasses.back();
  EXPECT_EQ(tube.element, "tube");
  EXPECT_EQ(tube.must_out, (std::vector<Index>{street.hospital}));
  EXPECT_EQ(finding(tube.findings, "bypass.still_out")->grade, Grade::halt);
  EXPECT_EQ(finding(tube.findings, "bypass.speed_most")->grade, Grade::warn);
  EXPECT_EQ(finding(tube.findings, "bypass.rated")->grade, Grade::undecided);
}

TEST(Bypass, SpeedWithoutALimitIsUndecided) {
  Street street;
  street.rows = profile();
  const BypassFound hose = by_kind(answer(street.question()), BypassKind::pipe);
  EXPECT_EQ(finding(hose.findings, "bypass.speed_most")->grade, Grade::undecided);
  EXPECT_FALSE(hose.saves);
}

TEST(Bypass, HoseRatedBelowTheMainHalts) {
  const Street street;
  auto ask = street.question();
  ask.sizes[0].rated = GaugePressure::from_si(40 * psi);
  const BypassFound hose = by_kind(answer(ask), BypassKind::pipe);
  EXPECT_EQ(finding(hose.findings, "bypass.rated")->grade, Grade::halt);
}

TEST(Bypass, TwoTiersHalt) {
  Street street;
  const Index low = street.town.tier("30", 30 * psi, 10 * psi);
  const Index a = street.town.node("a", low, 400.0, 50.0),
              b = street.town.node("b", low, 600.0, 50.0);
  const Index other = street.town.pipe("other", a, b, 200.0, 3.633 * inch);
  auto ask = street.question();
  ask.between->second = {other, Length::from_si(100.0)};
  const BypassFound hose = by_kind(answer(ask), BypassKind::pipe);
  EXPECT_EQ(finding(hose.findings, "bypass.tiers")->grade, Grade::halt);
  EXPECT_EQ(finding(hose.findings, "bypass.above_maop")->grade, Grade::halt);
}

TEST(Bypass, UnknownMaopIsNoPass) {
  const Street street(unknown);
  const BypassFound hose = by_kind(answer(street.question()), BypassKind::pipe);
  EXPECT_EQ(finding(hose.findings, "bypass.maop_unknown")->grade, Grade::undecided);
}

TEST(Bypass, SupplyUpToItsCapacity) {
  const Street street(60.0, 0.0);
  auto ask = street.question();
  ask.between.reset();
  ask.supplies = {{"trailer", 1, GaugePressure::from_si(40 * psi),
                   StdFlow::from_si(5000 * cubic_foot_per_hour)}};
  BypassFound supply = by_kind(answer(ask), BypassKind::supply);
  EXPECT_EQ(supply.kept.size(), 2U);
  EXPECT_NEAR(supply.flow.si(), 2400 * cubic_foot_per_hour, 1e-6);
  EXPECT_EQ(finding(supply.findings, "bypass.supply_capacity"), nullptr);
  ask.supplies[0].capacity = StdFlow::from_si(1000 * cubic_foot_per_hour);
  supply = by_kind(answer(ask), BypassKind::supply);
  EXPECT_LT(supply.kept.size(), 2U);
  EXPECT_NE(finding(supply.findings, "bypass.supply_capacity"), nullptr);
}

TEST(Bypass, TapOnTheMainThatItJoinsIsSaid) {
  Street street;
  const Index low = street.town.tier("30", 30 * psi, 10 * psi);
  const Index out = street.town.node("out", low, 900.0, 100.0);
  street.town.regulator("R", 1, out, 20 * psi);
  street.town.net.regulators.sensing.back() = network::Sensing::remote;
  street.town.net.regulators.tap_pipe.back() = street.main;
  street.town.net.regulators.tap_station.back() = Length::from_si(800.0);
  const BypassFound hose = by_kind(answer(street.question()), BypassKind::pipe);
  ASSERT_NE(finding(hose.findings, "bypass.sensing"), nullptr);
}

TEST(Added, PartsAMainWithoutMovingGas) {
  Street street;
  const network::Scenario shut = street.question().shut;
  network::WithAdded with(street.town.net, shut);
  const auto a = with.node_at(street.main, Length::from_si(470.0), "a");
  const auto b = with.node_at(street.main, Length::from_si(250.0), "b");
  const auto c = with.node_at(street.main, Length::from_si(800.0), "c");
  ASSERT_TRUE(a && b && c);
  EXPECT_EQ(*with.node_at(street.main, Length::from_si(470.0), "a"), *a);
  EXPECT_EQ(*with.node_at(street.main, Length(), "gate"), 0);
  ASSERT_TRUE(network::check_columns(with.network()));
  EXPECT_FALSE(with.node_at(street.main, Length::from_si(1001.0), "d"));
  // Pressures and who is out are those of the map.
  const auto map = network::Model::prepare(street.town.net, street.conditions);
  const auto copy = network::Model::prepare(with.network(), street.conditions);
  const auto before = map->solve(shut), after = copy->solve(with.shut());
  ASSERT_TRUE(before && after);
  EXPECT_EQ(before->customers_out, after->customers_out);
  EXPECT_NEAR(before->customer_pressure[0].si(), after->customer_pressure[0].si(), 1e-3);
  EXPECT_NEAR(with.network().nodes.x[static_cast<std::size_t>(*a)], 470.0, 1e-9);
}

}  // namespace
}  // namespace bellhole::plan
