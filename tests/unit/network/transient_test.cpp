// The network through time: against closed forms, against the steady state, and against itself.
#include "network/transient.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

#include "network/opening.hpp"
#include "tests/support/random_town.hpp"
#include "tests/support/town.hpp"

namespace bellhole::support {
namespace {

using network::Course;
using network::Drawing;
using network::Index;
using network::Model;
using network::none;
using network::Scenario;
using network::Transient;

const network::Conditions conditions{.gas = *gas::from_gravity(0.6),
                                     .ground = Temperature::from_si(288.70555)};
const Scenario mild{.air = Temperature::from_si(291.15)};

Duration seconds(double t) { return Duration::from_si(t); }

Transient followed(const Model& model, const Course& course) {
  Unwatched unwatched;
  auto made = model.follow(course, unwatched);
  EXPECT_TRUE(made.has_value()) << (made ? "" : made.error().where + ": " + made.error().value);
  return made ? std::move(*made) : Transient{};
}

/// Gate - 50 ft of main - 1,000 ft of the same with one customer at its end.
struct DeadEnd {
  Town town;
  Index lead = none, main = none, customer = none;

  DeadEnd(double gauge_pa, double least_pa, double load) {
    const Index tier = town.tier("T", 66 * psi, least_pa);
    const Index gate = town.node("gate", tier), a = town.node("A", tier), b = town.node("B", tier);
    lead = town.pipe("lead", gate, a, 50 * foot, 3.682 * inch);
    main = town.pipe("main", a, b, 1000 * foot, 3.682 * inch);
    town.source("gate", gate, gauge_pa);
    customer = town.customer("C", main, 1000 * foot, load);
  }
};

TEST(Transient, ADeadEndDrainsAsItsLinePackSays) {
  // 1,000 ft of 3.682 in bore from 45 to 10 psig: 177.67 cubic feet; at 2,000 an hour 5.33 minutes.
  const DeadEnd end(45 * psi, 10 * psi, 2000 * cubic_foot_per_hour);
  const auto model = Model::prepare(end.town.net, conditions);
  Course course{.begins = mild, .lasts = seconds(900)};
  course.drawing = Drawing::constant;
  course.movers.push_back({.place = {end.lead, end.town.net.pipes.length[0]},
                           .travel = {{seconds(0), 1.0}, {seconds(0.01), 0.0}}});
  const Transient made = followed(*model, course);
  ASSERT_TRUE(made.customers[0].first_short.has_value());
  // The customer stands at the far end and feels the main's own fall: a little sooner.
  EXPECT_NEAR(made.customers[0].first_short->si() / 60.0, 5.33, 0.07);
  EXPECT_LT(made.account.imbalance, 1e-9);
}

TEST(Transient, NothingHappensWhereNothingMoves) {
  const Town town = grid_town({.pipes = 300});
  const auto model = Model::prepare(town.net, conditions);
  const Scenario cold{.air = Temperature::from_si(265.0)};
  const auto steady = model->solve(cold);
  Course course{.begins = cold, .lasts = seconds(3600)};
  course.hour_stands = true;
  const Transient made = followed(*model, course);
  for (std::size_t i = 0; i < town.net.nodes.size(); ++i) {
    const double was = steady->node_pressure[i].si();
    EXPECT_NEAR(made.node_pressure[i].si(), std::isnan(was) ? 0.0 : was, 5.0) << i;
  }
  EXPECT_LT(made.account.imbalance, 1e-9);
}

/// Shuts a third of the gates of a looped town over two minutes.
struct Shutting {
  Town town = grid_town({.pipes = 200, .customers_along = true, .stations_feed = true});
  Scenario cold{.air = Temperature::from_si(268.0)};
  Course course{.begins = cold, .lasts = seconds(1800)};

  Shutting() {
    course.hour_stands = true;
    for (const Index pipe : {40, 90, 150}) {
      course.movers.push_back(
          {.place = {pipe, town.net.pipes.length[static_cast<std::size_t>(pipe)] * 0.5},
           .travel = {{seconds(30), 1.0}, {seconds(150), 0.0}}});
    }
  }
};

TEST(Transient, LongAfterShuttingItStandsWhereTheSteadyStateStands) {
  const Shutting shutting;
  const auto model = Model::prepare(shutting.town.net, conditions);
  Course course = shutting.course;
  course.lasts = seconds(12 * 3600);
  const Transient made = followed(*model, course);
  Scenario after = shutting.cold;
  for (const auto& mover : course.movers) after.closures.push_back(mover.place);
  const auto steady = model->solve(after);
  ASSERT_TRUE(steady.has_value());
  int fed = 0;
  for (std::size_t i = 0; i < shutting.town.net.nodes.size(); ++i) {
    const double stands = steady->node_pressure[i].si();
    // What is cut off drains to nothing where somebody draws, and stands still where nobody does.
    if (std::isnan(stands)) continue;
    EXPECT_NEAR(made.node_pressure[i].si(), stands, 30.0) << i;
    ++fed;
  }
  EXPECT_GT(fed, 50);
  EXPECT_LT(made.account.imbalance, 1e-9);
}

/// A street of several mains with customers, cut off at once, which then drains.
Town street(double least_pa = 15 * psi) {
  Town town;
  const Index tier = town.tier("T", 66 * psi, least_pa);
  Index here = town.node("gate", tier);
  town.source("gate", here, 60 * psi);
  for (int k = 0; k < 6; ++k) {
    const Index next = town.node("N" + std::to_string(k), tier);
    const Index pipe =
        town.pipe("M" + std::to_string(k), here, next, 120.0, k < 3 ? 0.0935 : 0.0493);
    for (int c = 0; c < 3; ++c) {
      town.customer("C" + std::to_string(3 * k + c), pipe, 30.0 + 30.0 * c,
                    90 * cubic_foot_per_hour);
    }
    here = next;
  }
  return town;
}

Course cut_off(double lasts) {
  Course course{.begins = mild, .lasts = seconds(lasts)};
  course.switches.push_back({seconds(0), network::SwitchKind::source, 0, true});
  course.watched.push_back({.node = 6});
  return course;
}

TEST(Transient, HalvingTheStepShowsTheOrder) {
  // Everybody is under his least pressure from the beginning: smooth, and far from linear.
  const Town town = street(90 * psi);
  const auto model = Model::prepare(town.net, conditions);
  Course course = cut_off(1024.0);
  course.tolerance = 1e-7;  // of Newton's method
  std::vector<double> end;
  for (const double h : {128.0, 64.0, 32.0, 16.0, 2.0}) {
    course.fixed_step = seconds(h);
    end.push_back(followed(*model, course).pressures[0].back().si());
  }
  const auto error = [&](std::size_t k) { return std::abs(end[k] - end.back()); };
  const double order = std::log2(error(0) / error(3)) / 3.0;
  RecordProperty("order", std::to_string(order));
  EXPECT_GT(order, 2.0) << error(0) << " " << error(1) << " " << error(2) << " " << error(3);
}

TEST(Transient, StepsByTheErrorKeepNearAFinerRun) {
  const Town town = street();
  const auto model = Model::prepare(town.net, conditions);
  Course course = cut_off(1800.0);
  const Transient coarse = followed(*model, course);
  course.tolerance = 1e-7;
  const Transient fine = followed(*model, course);
  for (std::size_t c = 0; c < coarse.customers.size(); ++c) {
    ASSERT_TRUE(coarse.customers[c].first_short && fine.customers[c].first_short) << c;
    const double want = fine.customers[c].first_short->si();
    EXPECT_NEAR(coarse.customers[c].first_short->si(), want, 1e-3 * want) << c;
  }
  EXPECT_LT(coarse.steps, fine.steps);
  EXPECT_LT(coarse.account.imbalance, 1e-9);
}

TEST(Transient, WhoDrawsInFullToTheEndIsShortSooner) {
  Town town = street();
  for (std::size_t c = 0; c < 9; ++c)
    town.net.customers.least[c] = GaugePressure::from_si(40 * psi);
  const auto model = Model::prepare(town.net, conditions);
  Course course = cut_off(3600.0);
  const Transient falling = followed(*model, course);
  course.drawing = Drawing::constant;
  const Transient constant = followed(*model, course);
  double last_falling = 0, last_constant = 0;
  for (std::size_t c = 0; c < falling.customers.size(); ++c) {
    last_falling = std::max(last_falling, falling.customers[c].first_short->si());
    last_constant = std::max(last_constant, constant.customers[c].first_short->si());
  }
  EXPECT_LT(last_constant, 0.95 * last_falling);
  for (const auto pressure : falling.node_pressure) EXPECT_GE(pressure.si(), -1.0);
}

TEST(Transient, ADipAtSupperIsSeenThoughTheEveningEndsWell) {
  Town town;
  const Index tier = town.tier("T", 66 * psi, 50 * psi);
  const Index gate = town.node("gate", tier), end = town.node("end", tier);
  const Index pipe = town.pipe("M", gate, end, 1500.0, 0.0493);
  town.source("gate", gate, 60 * psi);
  town.customer("C", pipe, 1500.0, 2500 * cubic_foot_per_hour);
  auto& factors = town.net.shapes.hour_factor[0];
  factors.fill(0.5);
  factors[18] = 12.5;
  const auto model = Model::prepare(town.net, conditions);
  Course course{.begins = mild, .lasts = seconds(6 * 3600)};
  course.begins.hour = 16.0;
  const Transient made = followed(*model, course);
  ASSERT_TRUE(made.customers[0].first_short.has_value());
  EXPECT_GE(made.customers[0].first_short->si(), 2 * 3600.0);
  EXPECT_LT(made.customers[0].first_short->si(), 2 * 3600.0 + 300.0);
  EXPECT_GT(made.node_pressure[1].si(), 59 * psi);
  course.begins.hour = 19.0;
  EXPECT_FALSE(followed(*model, course).customers[0].first_short.has_value());
}

TEST(Transient, ARegulatorWhoseTapDrainsOverfeedsTheRest) {
  // gate - REG - A - B, tap on A-B; shut between outlet and tap: the tap's side drains, the
  // regulator feels nothing and opens wide, and the outlet rises to what the inlet has.
  Town town;
  const Index high = town.tier("H", 110 * psi, 30 * psi), low = town.tier("L", 66 * psi, 15 * psi);
  const Index gate = town.node("gate", high), in = town.node("in", high);
  const Index out = town.node("out", low), a = town.node("A", low), b = town.node("B", low);
  town.pipe("H1", gate, in, 100.0, 0.0935);
  const Index main = town.pipe("L1", out, a, 200.0, 0.0935);
  const Index tail = town.pipe("L2", a, b, 200.0, 0.0493);
  town.source("gate", gate, 95 * psi);
  const Index r = town.regulator("R", in, out, 60 * psi, 2000 * cubic_foot_per_hour);
  town.net.regulators.sensing[static_cast<std::size_t>(r)] = network::Sensing::remote;
  town.net.regulators.tap_pipe[static_cast<std::size_t>(r)] = tail;
  town.net.regulators.tap_station[static_cast<std::size_t>(r)] = Length::from_si(100.0);
  town.customer("C", tail, 200.0, 500 * cubic_foot_per_hour);
  const auto model = Model::prepare(town.net, conditions);
  Course course{.begins = mild, .lasts = seconds(3600)};
  course.movers.push_back({.place = {main, Length::from_si(150.0)},
                           .travel = {{seconds(10), 1.0}, {seconds(100), 0.0}}});
  const Transient made = followed(*model, course);
  EXPECT_TRUE(made.wide_open[0].has_value());
  ASSERT_TRUE(made.tiers[1].first_over.has_value());
  EXPECT_GT(made.tiers[1].first_over->si(), 10.0);
  EXPECT_NEAR(made.tiers[1].pressure.si(), 95 * psi, 0.1 * psi);
  EXPECT_LT(made.account.imbalance, 1e-9);
}

TEST(Transient, AStationThatLosesNextToNothingIsFollowedInFewRounds) {
  // Two stations feed one tier. The main above the second one is shut: its customers are fed back
  // through it, wide open and far too large, the other way round. The fall across it says nothing
  // of what goes through.
  Town town;
  const Index high = town.tier("H", 110 * psi, 20 * psi), low = town.tier("L", 66 * psi, 15 * psi);
  const Index gate = town.node("gate", high), in = town.node("in", high);
  const Index far = town.node("far", high), end = town.node("end", high);
  const Index out = town.node("out", low), back = town.node("back", low);
  town.pipe("H1", gate, in, 100.0, 0.2);
  const Index parted = town.pipe("H2", in, far, 800.0, 0.2);
  const Index above = town.pipe("H3", far, end, 30.0, 0.05);
  const Index below = town.pipe("L1", out, back, 1500.0, 0.15);
  town.source("gate", gate, 95 * psi);
  town.regulator("W", in, out, 42 * psi, 60000 * cubic_foot_per_hour);
  town.regulator("E", far, back, 42 * psi, 600000 * cubic_foot_per_hour);
  town.customer("above", above, 30.0, 3000 * cubic_foot_per_hour);
  for (int i = 1; i < 15; ++i)
    town.customer("C" + std::to_string(i), below, 100.0 * i, 1000 * cubic_foot_per_hour);
  const auto model = Model::prepare(town.net, conditions);
  Course course{.begins = mild, .lasts = seconds(2 * 3600)};
  course.movers.push_back({.place = {parted, Length::from_si(799.0)},
                           .travel = {{seconds(10), 1.0}, {seconds(20), 0.0}}});
  const Transient made = followed(*model, course);
  EXPECT_LT(made.account.imbalance, 1e-9);
  EXPECT_TRUE(made.reversed[1].has_value());
  EXPECT_LT(made.factors, 6 * made.steps) << made.steps << " steps, " << made.refused_steps;
  EXPECT_LT(made.steps, 200);
}

TEST(Transient, RefusesTimesThatRunBackwards) {
  const Town town = street();
  const auto model = Model::prepare(town.net, conditions);
  Unwatched unwatched;
  Course course = cut_off(10.0);
  course.movers.push_back(
      {.place = {0, Length::from_si(1.0)}, .travel = {{seconds(5), 1.0}, {seconds(4), 0.0}}});
  EXPECT_EQ(model->follow(course, unwatched).error().code, Code::out_of_range);
  course.movers[0].travel = {{seconds(4), 1.0}, {seconds(5), -0.1}};
  EXPECT_EQ(model->follow(course, unwatched).error().code, Code::out_of_range);
  course.movers[0] = {.place = {77, Length::from_si(1.0)}};
  EXPECT_EQ(model->follow(course, unwatched).error().code, Code::unknown_element);
  course.movers.clear();
  course.lasts = seconds(0);
  EXPECT_EQ(model->follow(course, unwatched).error().code, Code::out_of_range);
}

network::Leak hole(Index pipe, double station, double millimetres) {
  return {.place = {pipe, Length::from_si(station)},
          .opening = {.area = gas::round_hole(Length::from_si(millimetres / 1000.0)),
                      .coefficient = 0.85}};
}

TEST(Transient, AHoleEmptiesAShutMainAsOneVolumeEmpties) {
  // 60 m of 3.682 in bore and a hole of 5 mm: hardly a fall along the main. V d density/dt = -m(p),
  // by small steps of its own.
  Town town;
  const Index tier = town.tier("T", 66 * psi, 10 * psi);
  const Index gate = town.node("gate", tier), end = town.node("end", tier);
  const double bore = 3.682 * inch, length = 60.0;
  const Index main = town.pipe("M", gate, end, length, bore);
  town.source("gate", gate, 45 * psi);
  const auto model = Model::prepare(town.net, conditions);
  Course course{.begins = mild, .lasts = seconds(600)};
  course.switches.push_back({seconds(0), network::SwitchKind::source, 0, true});
  course.leaks.push_back(hole(main, 20.0, 5.0));
  course.watched.push_back({.node = end});
  course.sample_every = seconds(20);
  const Transient made = followed(*model, course);
  const auto gas = gas::flowing(conditions.gas, conditions.ground);
  const double rt = gas.specific_constant * gas.temperature_k, air = town.net.barometer.si();
  const double volume = std::numbers::pi / 4.0 * bore * bore * length;
  double p = air + 45 * psi, lost = 0.0;
  const auto leaves = [&](double pa) {
    const gas::Hole open{course.leaks[0].opening.area->si(), 0.85};
    return gas::through(open, {gas.specific_constant, gas.temperature_k, gas.z(pa), 1.30}, pa, air)
        .kg_per_s;
  };
  const auto slope = [&](double pa) {
    return -leaves(pa) * rt / (volume * (1.0 + 2.0 * gas.k_per_pa * pa));
  };
  constexpr double h = 0.01;
  std::size_t sample = 0;
  for (int k = 0; sample + 1 < made.sampled.size(); ++k) {
    if (k % 2000 == 0) {
      EXPECT_NEAR(made.pressures[0][sample].si(), p - air, 1e-3 * 45 * psi) << k * h;
      EXPECT_NEAR(made.leaks[0].lost_by[sample].si(), lost, 1e-3 * made.account.begun.si());
      ++sample;
    }
    const double middle = p + 0.5 * h * slope(p);
    lost += h * leaves(middle);
    p += h * slope(middle);
  }
  EXPECT_GT(sample, 25u);
  EXPECT_LT(made.account.imbalance, 1e-9);
  EXPECT_NEAR(made.account.escaped.si(), made.leaks[0].lost.si(), 1e-12);
  EXPECT_NEAR(made.node_pressure[0].si(), 0.0, 1.0);
  EXPECT_NEAR(made.leaks[0].flow.si(), 0.0, 1e-5);
}

TEST(Transient, WhatLeavesInTheEndIsWhatTheSteadyOpeningPasses) {
  const Town town = street();
  const auto model = Model::prepare(town.net, conditions);
  for (const bool broken : {false, true}) {
    Course course{.begins = mild, .lasts = seconds(4 * 3600)};
    course.hour_stands = true;
    network::Leak leak = hole(4, 50.0, 20.0);
    leak.from = seconds(60);
    if (broken) leak.opening.area.reset();
    course.leaks.push_back(leak);
    const Transient made = followed(*model, course);
    const auto steady =
        network::open_at(town.net, conditions, leak.place, leak.opening, {course.begins});
    ASSERT_TRUE(steady);
    const double want = steady->front().escape.flow.si();
    EXPECT_NEAR(made.leaks[0].flow.si(), want, 1e-3 * want) << broken;
    EXPECT_GE(made.leaks[0].most.si(), made.leaks[0].flow.si());
    EXPECT_LT(made.account.imbalance, 1e-9);
  }
}

TEST(Transient, WhatEscapesWhileASqueezeCloses) {
  const Town town = street();
  const auto model = Model::prepare(town.net, conditions);
  Course course{.begins = mild, .lasts = seconds(3600)};
  course.leaks.push_back(hole(4, 50.0, 30.0));
  course.movers.push_back(
      {.place = {3, Length::from_si(60.0)}, .travel = {{seconds(300), 1.0}, {seconds(420), 0.0}}});
  course.sample_every = seconds(60);
  const Transient made = followed(*model, course);
  const auto& lost = made.leaks[0].lost_by;
  ASSERT_EQ(lost.size(), made.sampled.size());
  for (std::size_t k = 1; k < lost.size(); ++k) EXPECT_GE(lost[k].si(), lost[k - 1].si() - 1e-4);
  // Open it lies in hundreds of metres of main; shut off, what stood behind the squeeze is all.
  const double open = lost[4].si() - lost[3].si();
  const double shut = lost.back().si() - lost[lost.size() - 2].si();
  EXPECT_GT(open, 1.0);
  EXPECT_LT(shut, 1e-3 * open);
  EXPECT_LT(made.account.imbalance, 1e-9);
  EXPECT_NEAR(lost.back().si(), made.account.escaped.si(), 1e-9 * lost.back().si());
  // Repaired at two minutes: no more after that.
  course.leaks[0].until = seconds(120);
  const Transient repaired = followed(*model, course);
  EXPECT_NEAR(repaired.leaks[0].lost_by.back().si(), repaired.leaks[0].lost_by[2].si(), 1e-3);
  EXPECT_NEAR(repaired.leaks[0].lost_by[2].si(), lost[2].si(), 2e-3 * lost[2].si());
}

TEST(Transient, RefusesOpeningsThatCannotBe) {
  const Town town = street();
  const auto model = Model::prepare(town.net, conditions);
  Unwatched unwatched;
  const auto code = [&](const network::Leak& leak) {
    Course course = cut_off(10.0);
    course.leaks.push_back(leak);
    const auto made = model->follow(course, unwatched);
    return made ? Code::bug : made.error().code;
  };
  EXPECT_EQ(code(hole(77, 1.0, 5.0)), Code::unknown_element);
  EXPECT_EQ(code(hole(0, 1000.0, 5.0)), Code::out_of_range);
  EXPECT_EQ(code(hole(0, 1.0, 0.0)), Code::out_of_range);
  network::Leak leak = hole(0, 0.0, 5.0);
  leak.opening.area.reset();
  EXPECT_EQ(code(leak), Code::out_of_range);
  leak = hole(0, 1.0, 5.0);
  leak.until = seconds(0.0);
  EXPECT_EQ(code(leak), Code::out_of_range);
}

/// Hair-thin and huge mains, starved tiers, stations without limits that feed each other: what is
/// followed keeps its gas, and nearly all is followed. Stations that hunt for ever are given up.
TEST(Transient, OddTownsKeepTheirGas) {
  int followed_towns = 0, given_up = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    const Town town = odd_town(seed);
    const auto model = Model::prepare(town.net, conditions);
    if (!model || town.net.pipes.size() == 0) continue;
    Dice dice(seed + 7000);
    Course course{.begins = {.air = Temperature::from_si(dice.between(255, 290)), .hour = 22.5},
                  .lasts = seconds(4 * 3600)};
    for (int k = 0; k < 3; ++k) {
      const Index pipe = dice.whole(0, static_cast<int>(town.net.pipes.size()) - 1);
      const double length = town.net.pipes.length[static_cast<std::size_t>(pipe)].si();
      const double begin = dice.between(0, 3600);
      course.movers.push_back({.place = {pipe, Length::from_si(dice.between(0, length))},
                               .travel = {{seconds(begin), 1.0}, {seconds(begin + 120), 0.0}}});
    }
    if (dice.chance(0.5)) course.movers[1].travel = {{seconds(100), 0.0}, {seconds(400), 1.0}};
    Unwatched unwatched;
    const auto made = model->follow(course, unwatched);
    if (!made) {
      EXPECT_EQ(made.error().code, Code::bug) << seed;
      ++given_up;
      continue;
    }
    ++followed_towns;
    EXPECT_LT(made->account.imbalance, 1e-9) << seed;
  }
  EXPECT_GT(followed_towns, 50);
  EXPECT_LE(given_up, 2);
}

}  // namespace
}  // namespace bellhole::support
