#include "plan/step_check.hpp"

#include <algorithm>

#include "plan/step_rules.hpp"

namespace bellhole::plan {
namespace {

std::size_t at(network::Index index) { return static_cast<std::size_t>(index); }

std::string element_of(const network::Network& network, const Place& place) {
  switch (place.kind) {
    case ShutKind::valve:
      return network.valves.id[at(place.element)];
    case ShutKind::regulator_outlet:
      return network.regulators.id[at(place.element)];
    case ShutKind::source_outlet:
      return network.sources.id[at(place.element)];
    case ShutKind::squeeze:
    case ShutKind::placed:
      break;
  }
  return network.pipes.id[at(place.pipe)];
}

}  // namespace

Checked checked_of(const Question& question, const ShutoffPlan& plan, const StepList& list) {
  const network::Network& network = question.model.network();
  Checked checked;
  checked.kind = question.kind;
  for (const Shutoff& shutoff : plan.shutoffs) {
    const bool squeeze = shutoff.place.kind == ShutKind::squeeze;
    checked.shutoffs.push_back({shutoff.letter, element_of(network, shutoff.place), squeeze,
                                squeeze && shutoff.place.squeezes != Squeezes::one});
  }
  for (const Post& post : list.posts)
    if (post.kind == PostKind::regulator) checked.stations.push_back(post.element);
  for (const Equipment& item : plan.isolated.equipment) {
    const bool station = item.kind == EquipmentKind::regulator_inlet ||
                         item.kind == EquipmentKind::regulator_outlet ||
                         item.kind == EquipmentKind::sensing_tap;
    if (station && std::ranges::find(checked.stations, item.id) == checked.stations.end())
      checked.stations.push_back(item.id);
  }
  checked.customers_out = static_cast<std::int64_t>(plan.out.size());
  checked.posts = list.posts;
  checked.points = list.points;
  checked.steps = list.steps;
  return checked;
}

Findings check_steps(const Checked& list) {
  Findings findings;
  StepView view(list, findings);
  check_step_order(view);
  if (list.steps.empty()) return findings;
  check_step_contract(view);
  check_step_people(view);
  return findings;
}

}  // namespace bellhole::plan
