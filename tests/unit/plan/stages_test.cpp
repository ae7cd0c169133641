// Every state of every plan of small random towns with stations, beside a second look at the
// network: nothing above its MAOP and nobody short who is to stay on without a finding in that
// very state.
#include "plan/stages.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "tests/unit/plan/brute_force.hpp"

namespace bellhole::plan {
namespace {

using test::at;
using test::psi;
using test::Town;

/// A feeder of three nodes and a district of four or five, joined by two or three stations that
/// feel their pressure here or there, some mains across, customers now and then too large.
Town stations(std::mt19937& random) {
  const auto pick = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
  Town town;
  auto& net = town.network;
  net.tiers.id = {"feeder", "district"};
  net.tiers.maop = {GaugePressure::from_si(60 * psi), GaugePressure::from_si((41 + pick(4)) * psi)};
  net.tiers.least = {GaugePressure::from_si(25 * psi), GaugePressure::from_si(10 * psi)};
  for (int i = 0; i < 3; ++i) town.node("f" + std::to_string(i), 400.0 * i, 600.0);
  const int nodes = 4 + pick(2);
  for (int i = 0; i < nodes; ++i) {
    town.node("d" + std::to_string(i), 380.0 * (i % 3) + 17.0 * i, 300.0 * (i / 3));
    net.nodes.tier.back() = 1;
  }
  int mains = 0;
  const auto main = [&](int a, int b) { return town.main("m" + std::to_string(mains++), a, b); };
  main(0, 1);
  main(1, 2);
  const int district_from = mains;
  for (int i = 1; i < nodes; ++i) main(3 + pick(i), 3 + i);
  for (int extra = pick(3); extra > 0; --extra) {
    const int a = pick(nodes), b = pick(nodes);
    if (a != b) main(3 + std::min(a, b), 3 + std::max(a, b));
  }
  town.source("gate", 0, 55);
  const int count = 2 + pick(2);
  for (int r = 0; r < count; ++r) {
    const auto reg = town.regulator("R" + std::to_string(r), pick(3), 3 + pick(nodes), 40);
    auto& table = net.regulators;
    if (pick(2) == 0) table.blocks_reverse[at(reg)] = network::Ternary::no;
    table.capacity[at(reg)] = StdFlow::from_si((4000.0 + 4000.0 * pick(8)) * test::scfh);
    table.least_inlet[at(reg)] = GaugePressure::from_si(30 * psi);
    if (pick(2) == 0) {
      table.sensing[at(reg)] = network::Sensing::remote;
      table.tap_pipe[at(reg)] = district_from + pick(mains - district_from);
      table.tap_station[at(reg)] =
          net.pipes.length[at(table.tap_pipe[at(reg)])] * (0.1 * (1 + pick(9)));
    }
  }
  for (int c = 0; c < 6; ++c) {
    const int pipe = pick(mains);
    town.customer("c" + std::to_string(c), pipe,
                  net.pipes.length[at(pipe)].si() * (1 + pick(9)) / 10.0,
                  pick(4) == 0 ? 9000.0 + 4000 * pick(4) : 120.0, pick(4) == 0);
  }
  return town;
}

struct Seen {
  bool over_maop = false, short_of_gas = false;
};

/// The same state once more: laid out by hand, solved from cold.
Seen second_look(const network::Model& model, const Question& question, const ShutoffPlan& plan,
                 unsigned mask) {
  const auto& net = model.network();
  network::Scenario scenario = question.conditions;
  for (std::size_t i = 0; i < plan.shutoffs.size(); ++i) {
    if ((mask >> i & 1u) == 0) continue;
    const Place& place = plan.shutoffs[i].place;
    if (place.kind == ShutKind::squeeze)
      scenario.closures.push_back({place.pipe, place.station});
    else if (place.kind == ShutKind::regulator_outlet)
      scenario.regulators_shut.push_back(place.element);
    else
      scenario.sources_shut.push_back(place.element);
  }
  std::vector<std::uint8_t> out(net.customers.size(), 0);
  for (const CustomerOut& customer : plan.out) out[at(customer.customer)] = 1;
  if (question.kind == Kind::planned && mask != 0) {
    scenario.without_load.assign(out.size(), 0);
    for (const CustomerOut& customer : plan.out)
      if (customer.cause != OutCause::short_of) scenario.without_load[at(customer.customer)] = 1;
  }
  Seen seen;
  for (const auto load : {network::LoadCase::low, network::LoadCase::high}) {
    scenario.load = load;
    const auto state = model.solve(scenario);
    EXPECT_TRUE(state);
    for (std::size_t n = 0; n < net.nodes.size(); ++n) {
      if (state->node_pressure[n].si() > net.tiers.maop[at(net.nodes.tier[n])].si() + 10.0)
        seen.over_maop = true;
    }
    if (load == network::LoadCase::low) continue;
    for (std::size_t c = 0; c < net.customers.size(); ++c) {
      const double least =
          net.tiers.least[at(net.nodes.tier[at(net.pipes.from[at(net.customers.pipe[c])])])].si();
      const bool under = state->customer_pressure[c].si() < least - 10.0;
      if (out[c] == 0 && (under || std::isnan(state->customer_pressure[c].si())))
        seen.short_of_gas = true;
    }
  }
  return seen;
}

bool says(const StageNumbers& numbers, std::string_view rule) {
  return std::ranges::find(numbers.findings, rule, &Finding::rule) != numbers.findings.end();
}

TEST(Stages, NothingIsOverMaopAndNobodyShortWithoutAFindingInThatState) {
  const auto profile = test::round_costs();
  int states = 0, over = 0, under = 0, towns = 0;
  for (unsigned seed = 1; seed <= 300; ++seed) {
    SCOPED_TRACE("seed " + std::to_string(seed));
    std::mt19937 random(seed);
    const Town town = stations(random);
    const network::Model model = test::model_of(town);
    const std::size_t pipe = random() % town.network.pipes.size();
    const Length station = town.network.pipes.length[pipe] * 0.47;
    const Work work = *work_on_pipe(town.network, town.network.pipes.id[pipe], station, station);
    Question question{model,
                      profile,
                      work,
                      seed % 2 == 0 ? Kind::planned : Kind::emergency,
                      {.air = Temperature::from_si(280.0)}};
    question.today_year = 2026.9;
    question.limit_temperature = false;
    Unwatched watch;
    const auto answer = plan(question, watch);
    ASSERT_TRUE(answer) << answer.error().fix;
    ++towns;
    for (const ShutoffPlan& found : answer->plans) {
      if (found.shutoffs.size() > 4) continue;
      Outset outset(question, answer->before);
      Stages stages(outset, found);
      for (unsigned mask = 0; mask < 1u << found.shutoffs.size(); ++mask) {
        StageAsk ask;
        for (std::size_t i = 0; i < found.shutoffs.size(); ++i)
          if ((mask >> i & 1u) != 0) ask.shut.push_back(i);
        if (!ask.shut.empty()) ask.moved = ask.shut.back();
        const auto numbers = stages.numbers({}, std::vector{ask}, watch);
        ASSERT_TRUE(numbers) << numbers.error().fix;
        const Seen seen = second_look(model, question, found, mask);
        EXPECT_EQ(says(numbers->front(), "plan.over_maop"), seen.over_maop) << "mask " << mask;
        // Who is short before anything is shut is short in the answer's own findings too.
        EXPECT_EQ(says(numbers->front(), "plan.stage_short"), seen.short_of_gas) << "mask " << mask;
        ++states;
        over += seen.over_maop ? 1 : 0;
        under += seen.short_of_gas ? 1 : 0;
      }
    }
  }
  EXPECT_GT(towns, 150);
  EXPECT_GT(states, 1000);
  EXPECT_GT(over, 50) << "the towns must be dangerous enough";
  EXPECT_GT(under, 20);
}

}  // namespace
}  // namespace bellhole::plan
