#include "plan/front.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <limits>

#include "plan/schedule.hpp"
#include "plan/shutoffs.hpp"
#include "tests/unit/plan/brute_force.hpp"

namespace bellhole::plan {
namespace {

using test::Town;

TEST(Schedule, GivesTheLongestFirstToWhoeverIsFree) {
  EXPECT_DOUBLE_EQ(Crews(1).give({60, 100, 50}).si(), 210);
  EXPECT_DOUBLE_EQ(Crews(2).give({60, 100, 50}).si(), 110);
  EXPECT_DOUBLE_EQ(Crews(9).give({60, 100, 50}).si(), 100);
  EXPECT_DOUBLE_EQ(Crews(3).give({}).si(), 0);
}

TEST(Schedule, ASecondLotWaitsForTheCrewsOfTheFirst) {
  Crews crews(2);
  EXPECT_DOUBLE_EQ(crews.give({10, 30}).si(), 30);
  EXPECT_DOUBLE_EQ(crews.give({15}).si(), 30) << "done at 25 by the first, before the second";
  EXPECT_DOUBLE_EQ(crews.give({20}).si(), 45) << "25 and then 20";
}

RC_GTEST_PROP(Schedule, MoreCrewsNeverTakeLongerNorLessThanTheirShare, ()) {
  const auto tasks = *rc::gen::container<std::vector<double>>(
      rc::gen::map(rc::gen::inRange(0, 10000), [](int s) { return 1.0 * s; }));
  const auto second = *rc::gen::container<std::vector<double>>(
      rc::gen::map(rc::gen::inRange(0, 10000), [](int s) { return 1.0 * s; }));
  double sum = 0.0, longest = 0.0;
  for (const double task : tasks) {
    sum += task;
    longest = std::max(longest, task);
  }
  double before = std::numeric_limits<double>::infinity(), before_second = before;
  for (int count = 1; count < 8; ++count) {
    Crews crews(count);
    const double done = crews.give(tasks).si(), then = crews.give(second).si();
    RC_ASSERT(done <= before);
    RC_ASSERT(then <= before_second);
    RC_ASSERT(done >= longest && done >= sum / count - 1e-6);
    before = done;
    before_second = then;
  }
}

/// An emergency in a town, up to the places to shut.
class Asked {
 public:
  Asked(const Town& town, std::size_t pipe, double share, std::int64_t crews)
      : network_(town.network),
        model_(test::model_of(town)),
        profile_(test::round_costs()),
        work_(*work_on_pipe(network_, network_.pipes.id[pipe], network_.pipes.length[pipe] * share,
                            network_.pipes.length[pipe] * share)),
        question_{model_, profile_, work_, Kind::emergency, {.air = Temperature::from_si(280.0)}},
        before_(*model_.solve(high())),
        places_(*find_places(
            {network_, profile_, work_, Kind::emergency, 2026.9, before_, units::System::us})) {
    question_.today_year = 2026.9;
    question_.crews = crews;
  }

  [[nodiscard]] Front front(const FrontLimits& limits = {}) {
    Unwatched watch;
    Outset outset(question_, before_);
    auto front = front_of(outset, places_, watch, limits);
    if (!front) {
      ADD_FAILURE() << front.error().where << ": " << front.error().fix;
      return {};
    }
    return std::move(*front);
  }
  [[nodiscard]] network::Scenario high() const {
    network::Scenario scenario = question_.conditions;
    scenario.load = network::LoadCase::high;
    return scenario;
  }

  const network::Network& network_;
  network::Model model_;
  procedure::Profile profile_;
  Work work_;
  Question question_;
  network::SteadyState before_;
  Places places_;
};

std::int64_t weighed(const network::Network& network, const std::vector<CustomerOut>& out) {
  std::int64_t sum = 0;
  for (const CustomerOut& customer : out) {
    const bool must = network.customers.must_not_lose[test::at(customer.customer)] != 0;
    sum += 1 + (must ? static_cast<std::int64_t>(network.customers.size()) + 1 : 0);
  }
  return sum;
}

using Staircase = std::vector<std::pair<double, std::int64_t>>;

/// Every cut by brute force, solved; the pairs of time and customers that no other beats.
Staircase by_brute_force(Asked& asked) {
  const std::vector<isolate::Cost> nothing(asked.network_.customers.size(), 0);
  Staircase all;
  for (const isolate::Cut& cut : test::minimal_cuts(asked.network_, asked.places_)) {
    std::vector<double> times;
    for (const std::size_t i : places_of(asked.places_, cut))
      times.push_back(asked.places_.places[i].time_s);
    const auto evaluation = evaluate(asked.model_, asked.places_, cut, asked.question_.conditions,
                                     nothing, asked.before_);
    EXPECT_TRUE(evaluation);
    all.emplace_back(Crews(asked.question_.crews).give(times).si(),
                     weighed(asked.network_, evaluation->out));
  }
  std::ranges::sort(all);
  Staircase front;
  for (const auto& point : all)
    if (front.empty() || point.second < front.back().second) front.push_back(point);
  return front;
}

TEST(Front, IsWhatTryingEveryCutFinds) {
  int compared = 0, with_choice = 0;
  for (unsigned seed = 1; seed <= 150; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    std::mt19937 random(seed);
    const Town town = test::random_town(random);
    Asked asked(town, random() % town.network.pipes.size(), 0.47,
                1 + static_cast<int>(random() % 3));
    if (asked.places_.places.size() > 13) continue;
    // Times apart from each other, some of them equal.
    for (Place& place : asked.places_.places)
      place.time_s = 60.0 * (1 + static_cast<int>(random() % 40));
    const Front front = asked.front();
    ASSERT_TRUE(front.proof.complete);
    Staircase found;
    for (const FrontPlan& entry : front.plans)
      found.emplace_back(entry.plan.time_to_stop->si(), weighed(town.network, entry.plan.out));
    EXPECT_EQ(found, by_brute_force(asked));
    ++compared;
    with_choice += found.size() > 1 ? 1 : 0;
  }
  EXPECT_GT(compared, 60);
  EXPECT_GT(with_choice, 20) << "the towns must leave something to choose";
}

/// A street of twelve houses with valves at both ends and the work in the middle.
//   S ==v== street ==v== T, both ends fed
Town street() {
  Town town;
  const auto s = town.node("S", 0, 0), a = town.node("a", 100, 0), b = town.node("b", 500, 0),
             t = town.node("T", 600, 0);
  const auto west = town.main("west", s, a), mid = town.main("mid", a, b),
             east = town.main("east", b, t);
  town.source("gate", s);
  town.source("gate2", t);
  town.valve("V1", west, 50);
  town.valve("V2", east, 50);
  for (int i = 1; i <= 12; ++i) town.customer("h" + std::to_string(i), mid, 30.0 * i + 5.0);
  for (int i = 1; i <= 4; ++i) {
    town.customer("w" + std::to_string(i), west, 8.0 * i);
    town.customer("e" + std::to_string(i), east, 100 - 8.0 * i);
  }
  return town;
}

TEST(Front, ValvesNowAndTighterSqueezesLater) {
  const Town town = street();
  Asked asked(town, 1, 0.51, 1);
  const Front front = asked.front();
  ASSERT_GE(front.plans.size(), 2u);
  const FrontPlan& fast = front.plans.front();
  const FrontPlan& tight = front.plans.back();
  // Both valves, 10 min each by one crew; the street is out.
  EXPECT_DOUBLE_EQ(fast.plan.time_to_stop->si(), 1200.0);
  EXPECT_EQ(fast.plan.out.size(), 12u);
  EXPECT_EQ(tight.plan.out.size(), 0u) << "squeezed between two houses";
  ASSERT_EQ(fast.stages.size(), 2u);
  EXPECT_DOUBLE_EQ(fast.stages[0].holds_at.si(), 1200.0);
  EXPECT_DOUBLE_EQ(fast.stages[1].holds_at.si(), 1200.0 + tight.plan.time_to_stop->si());
  EXPECT_EQ(fast.stages[1].shut.size(), 2u);
  EXPECT_EQ(fast.stages[1].opened, fast.stages[0].shut) << "the valves are opened again";
  EXPECT_TRUE(fast.stages[1].out.empty()) << "the street comes back";
  ASSERT_EQ(tight.stages.size(), 1u);
  for (std::size_t i = 1; i < front.plans.size(); ++i) {
    EXPECT_GT(*front.plans[i].plan.time_to_stop, *front.plans[i - 1].plan.time_to_stop);
    EXPECT_LT(front.plans[i].plan.out.size(), front.plans[i - 1].plan.out.size());
  }
  for (const FrontPlan& entry : front.plans) {
    for (const Shutoff& shutoff : entry.plan.shutoffs)
      EXPECT_TRUE(shutoff.fallback.exists) << shutoff.letter;
  }
}

TEST(Front, MoreCrewsNeverStopTheGasLater) {
  const Town town = street();
  double before = std::numeric_limits<double>::infinity();
  for (const std::int64_t crews : {1, 2, 3, 5}) {
    Asked asked(town, 1, 0.51, crews);
    const Front front = asked.front();
    ASSERT_FALSE(front.plans.empty());
    EXPECT_LE(front.plans.front().plan.time_to_stop->si(), before);
    before = front.plans.front().plan.time_to_stop->si();
  }
  EXPECT_DOUBLE_EQ(before, 600.0) << "both valves at once";
}

TEST(Front, TimesThatAreNotSetAreUndecidedAndNeverZero) {
  const Town town = street();
  Asked asked(town, 1, 0.51, 1);
  for (Place& place : asked.places_.places) {
    if (place.kind == ShutKind::valve) place.time_s = std::nan("");
  }
  const Front some = asked.front();
  ASSERT_EQ(some.findings.size(), 1u);
  EXPECT_EQ(some.findings[0].rule, "plan.front_times");
  EXPECT_EQ(some.findings[0].grade, Grade::undecided);
  for (const FrontPlan& entry : some.plans) {
    for (const Shutoff& shutoff : entry.plan.shutoffs)
      EXPECT_NE(shutoff.place.kind, ShutKind::valve);
  }
  for (Place& place : asked.places_.places) place.time_s = std::nan("");
  const Front none = asked.front();
  EXPECT_TRUE(none.plans.empty());
  EXPECT_EQ(none.findings[0].grade, Grade::undecided);
}

TEST(Front, ALimitIsSaid) {
  const Town town = street();
  Asked asked(town, 1, 0.51, 1);
  const Front front = asked.front({.solves = 1});
  EXPECT_FALSE(front.proof.complete);
  ASSERT_EQ(front.findings.size(), 1u);
  EXPECT_EQ(front.findings[0].rule, "plan.front_limit");
}

}  // namespace
}  // namespace bellhole::plan
