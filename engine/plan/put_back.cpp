#include "plan/put_back.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plan/main_facts.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using network::Network;
using units::print;
using units::Toward;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

/// The main at the work as the map has it; nothing where size or ratio is not known.
std::optional<squeeze::Found> pipe_of(const Question& question) {
  const Network& network = question.model.network();
  const std::size_t p = at(question.work.pieces.front().pipe);
  const auto facts = facts_of_main(network, static_cast<Index>(p));
  if (!facts.size || !std::isfinite(network.pipes.ratio[p])) return std::nullopt;
  squeeze::Found found;
  found.size = *facts.size;
  found.ratio = network.pipes.ratio[p];
  if (const auto material = pipe::read_material(network.pipes.grade[p], "grade"))
    found.material = *material;
  found.temperature = question.pipe_temperature;
  return found;
}

/// What the profile leaves open, without what is only read on the day.
void add_open(const Findings& findings, std::vector<std::string>& decide) {
  for (const Finding& finding : findings) {
    const bool of_the_day = finding.rule == "test.ends" || finding.rule == "join.gauge" ||
                            finding.rule == "join.heater_least" ||
                            finding.rule == "join.heater_most" ||
                            finding.rule == "join.ambient_most";
    const bool unset = finding.says.starts_with("no limit set");
    if (finding.grade == Grade::undecided && (unset || !of_the_day)) decide.push_back(finding.says);
  }
}

void find_test(const Question& question, PutBack& back, const squeeze::Found& pipe) {
  const Network& network = question.model.network();
  const Index tier = tier_of_main(network, question.work.pieces.front().pipe);
  if (tier == network::none || !std::isfinite(network.tiers.maop[at(tier)].si())) return;
  restore::TestQuestion test;
  test.pipe = pipe;
  test.mop = network.tiers.maop[at(tier)];
  test.barometer = network.barometer;
  test.base = {network.base_pressure, network.base_temperature};
  auto tested = restore::pressure_test(test, question.profile, question.system);
  if (!tested) return;
  add_open(tested->findings, back.decide);
  back.test = std::move(*tested);
}

/// `value` in words, or "decide".
template <class Kind>
std::string or_decide(const std::optional<Quantity<Kind>>& value, units::System system,
                      Toward toward) {
  return value ? print(*value, system, toward) : std::string("decide");
}

void test_line(const Question& question, PutBack& back) {
  if (!back.test) return;
  const auto system = question.system;
  back.lines.emplace_back(StepKind::test,
                          fmt::format("Between {} and {}, for {} or longer.",
                                      or_decide(back.test->least, system, Toward::up),
                                      or_decide(back.test->most, system, Toward::down),
                                      or_decide(back.test->duration_needed, system, Toward::up)));
}

void join_line(const Question& question, PutBack& back) {
  if (!back.join) return;
  const auto system = question.system;
  back.lines.emplace_back(
      StepKind::join, fmt::format("Butt fusion: heater {} to {}, bead {} or more, cool {} or more.",
                                  or_decide(back.join->heater_least, system, Toward::up),
                                  or_decide(back.join->heater_most, system, Toward::down),
                                  or_decide(back.join->bead, system, Toward::up),
                                  or_decide(back.join->cooling, system, Toward::up)));
}

void purge_lines(const Question& question, PutBack& back) {
  std::size_t number = 0;
  for (const PurgeLeg& leg : back.purge.legs)
    back.lines.emplace_back(
        StepKind::purge,
        fmt::format("Leg {}: {} to the vent at {}, {} or faster, {} planned.", ++number, leg.from,
                    leg.vent, or_decide(leg.speed, question.system, Toward::up),
                    or_decide(leg.time_planned, question.system, Toward::up)));
  if (!back.purge.services.empty())
    back.lines.emplace_back(
        StepKind::purge,
        fmt::format("Then {} service{}, nearest first.", back.purge.services.size(),
                    back.purge.services.size() == 1 ? "" : "s"));
}

void valve_line(const Question& question, PutBack& back) {
  const auto& customers = question.model.network().customers;
  for (const PurgeService& service : back.purge.services) {
    const auto valve = customers.excess_flow_valve[at(service.customer)];
    if (valve == network::Ternary::yes) back.valves.push_back(service.customer);
    if (valve == network::Ternary::unknown) back.not_known.push_back(service.customer);
  }
  if (back.valves.empty() && back.not_known.empty()) return;
  back.lines.emplace_back(
      StepKind::open,
      fmt::format("Slowly: {} excess-flow valve{} on the part, {} not known.", back.valves.size(),
                  back.valves.size() == 1 ? "" : "s", back.not_known.size()));
}

}  // namespace

Result<PutBack> put_back(const Question& question, const ShutoffPlan& plan) {
  PutBack back;
  back.part = part_of(question.work, plan);
  if (const auto pipe = pipe_of(question)) {
    find_test(question, back, *pipe);
    restore::JoinQuestion join;
    join.pipe = *pipe;
    if (auto joined = restore::join(join, question.profile, question.system)) {
      add_open(joined->findings, back.decide);
      back.join = std::move(*joined);
    }
  }
  BELLHOLE_TRY(path, purge_path({.model = question.model,
                                 .profile = question.profile,
                                 .conditions = question.conditions,
                                 .part = back.part,
                                 .system = question.system,
                                 .solve = false}));
  back.purge = std::move(path);
  test_line(question, back);
  join_line(question, back);
  purge_lines(question, back);
  valve_line(question, back);
  return back;
}

}  // namespace bellhole::plan
