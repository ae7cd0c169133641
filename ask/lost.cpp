#include "ask/lost.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "plan/affected.hpp"

namespace bellhole::ask {
namespace {

using network::Index;
using network::Network;
using restore::Lost;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

Lost why_of(const std::string& cause) {
  if (cause == "short") return Lost::short_of;
  return cause == "pocket" ? Lost::pocket : Lost::isolated;
}

Result<const wire::GivenShutoff*> lettered(const wire::GivenPlan& plan, const std::string& letter) {
  const auto found = std::ranges::find(plan.shutoffs, letter, &wire::GivenShutoff::letter);
  if (found == plan.shutoffs.end())
    return trouble(Code::unknown_element, "plan.order", letter,
                   "no shut-off of this plan has that letter");
  return &*found;
}

std::vector<std::string> closing_of(const wire::GivenPlan& plan) {
  if (!plan.closing.empty()) return plan.closing;
  std::vector<std::string> letters;
  for (const wire::GivenShutoff& shutoff : plan.shutoffs) letters.push_back(shutoff.letter);
  return letters;
}

Result<network::Scenario> with_shut(const Network& network, network::Scenario scenario,
                                    const wire::GivenPlan& plan,
                                    std::span<const std::string> letters) {
  for (const std::string& letter : letters) {
    BELLHOLE_TRY(shutoff, lettered(plan, letter));
    BELLHOLE_TRY(done, shut(network, *shutoff, scenario));
    static_cast<void>(done);
  }
  return scenario;
}

/// After each closing, then after each opening but the last.
Result<std::vector<network::Scenario>> stages_of(const Network& network,
                                                 const network::Scenario& open,
                                                 const wire::GivenPlan& plan) {
  const std::vector<std::string> closing = closing_of(plan);
  std::vector<network::Scenario> stages;
  for (std::size_t k = 1; k <= closing.size(); ++k) {
    BELLHOLE_TRY(stage, with_shut(network, open, plan, std::span(closing).first(k)));
    stages.push_back(std::move(stage));
  }
  for (std::size_t k = 1; k < plan.opening.size(); ++k) {
    BELLHOLE_TRY(stage, with_shut(network, open, plan, std::span(plan.opening).subspan(k)));
    stages.push_back(std::move(stage));
  }
  return stages;
}

}  // namespace

Result<Index> customer_named(const Network& network, const std::string& id,
                             const std::string& where) {
  const auto found = std::ranges::find(network.customers.id, id);
  if (found == network.customers.id.end())
    return trouble(Code::unknown_element, where, id, "no customer of this network has that id");
  return static_cast<Index>(found - network.customers.id.begin());
}

Result<network::Scenario> all_shut(const Network& network, network::Scenario scenario,
                                   const wire::GivenPlan& plan) {
  return with_shut(network, std::move(scenario), plan, closing_of(plan));
}

Result<std::vector<LostCustomer>> lost_by(const Question& question, const network::Model& model,
                                          const Weather& weather, const PlanGiven& given) {
  const Network& network = model.network();
  const wire::GivenPlan& plan = given.plan();
  std::map<Index, LostCustomer> lost;
  network::Scenario open = weather.scenario;
  const bool planned = given.reply.kind == plan::Kind::planned;
  if (planned) open.without_load.assign(network.customers.size(), 0);
  for (const wire::GivenCustomer& customer : plan.customers_out) {
    BELLHOLE_TRY(index, customer_named(network, customer.id, "plan.customers_out"));
    lost[index] = {index, why_of(customer.cause), 0};
    if (planned) open.without_load[at(index)] = 1;
  }
  BELLHOLE_TRY(stages, stages_of(network, open, plan));
  BELLHOLE_TRY(affected, plan::affected(model, weather.scenario, stages, question.context.watch));
  const std::size_t last = closing_of(plan).empty() ? 0 : closing_of(plan).size() - 1;
  for (const plan::Affected& one : affected) {
    const auto [entry, fresh] = lost.try_emplace(
        one.customer, LostCustomer{one.customer, one.out ? Lost::pocket : Lost::short_of, 0});
    entry->second.closing = std::min(one.stage, last);
  }
  std::vector<LostCustomer> list;
  for (const auto& [index, customer] : lost) list.push_back(customer);
  return list;
}

std::optional<network::Along> along_from(const Network& network, const wire::GivenPlan& plan) {
  const std::vector<std::string>& opening = plan.opening;
  if (plan.shutoffs.empty()) return std::nullopt;
  const auto first = std::ranges::find_if(plan.shutoffs, [&](const wire::GivenShutoff& shutoff) {
    return !opening.empty() && shutoff.letter == opening.front();
  });
  network::Scenario scenario;
  const auto done =
      shut(network, first == plan.shutoffs.end() ? plan.shutoffs.front() : *first, scenario);
  if (!done) return std::nullopt;
  if (!scenario.closures.empty()) return network::along_mains(network, scenario.closures.front());
  if (!scenario.valves.empty()) {
    const std::size_t v = at(scenario.valves.front().valve);
    return network::along_mains(network, {network.valves.pipe[v], network.valves.station[v]});
  }
  const Index node = scenario.regulators_shut.empty()
                         ? network.sources.node[at(scenario.sources_shut.front())]
                         : network.regulators.outlet[at(scenario.regulators_shut.front())];
  for (std::size_t p = 0; p < network.pipes.size(); ++p) {
    const auto pipe = static_cast<Index>(p);
    if (network.pipes.from[p] == node) return network::along_mains(network, {pipe, Length()});
    if (network.pipes.to[p] == node)
      return network::along_mains(network, {pipe, network.pipes.length[p]});
  }
  return std::nullopt;
}

restore::Meter meter_of(const Network& network, Index customer, Lost why,
                        const std::optional<network::Along>& along) {
  const auto& customers = network.customers;
  const std::size_t c = at(customer);
  restore::Meter meter;
  meter.id = customers.id[c];
  meter.street = customers.street[c];
  meter.main = network.pipes.id[at(customers.pipe[c])];
  meter.station = customers.station[c];
  if (along && std::isfinite(along->customer[c].si())) meter.along = along->customer[c];
  meter.must_not_lose = customers.must_not_lose[c] != 0;
  meter.why_not = customers.why_not[c];
  if (customers.excess_flow_valve[c] != network::Ternary::unknown)
    meter.excess_flow_valve = customers.excess_flow_valve[c] == network::Ternary::yes;
  meter.lost = why;
  return meter;
}

}  // namespace bellhole::ask
