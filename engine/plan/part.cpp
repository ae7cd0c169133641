#include "plan/part.hpp"

#include <fmt/format.h>

namespace bellhole::plan {
namespace {

std::size_t at(network::Index index) { return static_cast<std::size_t>(index); }

}  // namespace

Part part_of(const Work& work, const ShutoffPlan& plan) {
  Part part;
  for (const Shutoff& shutoff : plan.shutoffs) {
    const Place& place = shutoff.place;
    part.ends.push_back(
        {shutoff.letter, place.kind, place.element, place.pipe, place.station, false});
  }
  part.work = work.pieces;
  for (const CustomerOut& out : plan.out) part.out.push_back(out.customer);
  part.opening = plan.steps.opening;
  part.bypass = plan.steps.bypass;
  return part;
}

network::Scenario shut_scenario(const network::Network& network, const Part& part,
                                network::Scenario conditions) {
  for (const PartEnd& end : part.ends) {
    switch (end.kind) {
      case ShutKind::valve:
        conditions.valves.push_back({end.element, network::Position::closed});
        break;
      case ShutKind::regulator_outlet:
        conditions.regulators_shut.push_back(end.element);
        break;
      case ShutKind::source_outlet:
        conditions.sources_shut.push_back(end.element);
        break;
      case ShutKind::squeeze:
      case ShutKind::placed:
        conditions.closures.push_back({end.pipe, end.station});
    }
  }
  if (conditions.without_load.empty()) conditions.without_load.assign(network.customers.size(), 0);
  for (const network::Index customer : part.out) conditions.without_load[at(customer)] = 1;
  return conditions;
}

std::string end_words(const network::Network& network, const PartEnd& end, units::System system) {
  const auto& ids = end.kind == ShutKind::valve              ? network.valves.id
                    : end.kind == ShutKind::regulator_outlet ? network.regulators.id
                                                             : network.sources.id;
  if (end.kind == ShutKind::valve)
    return fmt::format("{}, valve {}", end.letter, ids[at(end.element)]);
  if (end.pipe == network::none)
    return fmt::format("{}, outlet of {}", end.letter, ids[at(end.element)]);
  return fmt::format("{}, main {} at {}", end.letter, network.pipes.id[at(end.pipe)],
                     units::print_in(end.station, system == units::System::us ? "ft" : "m", 1));
}

}  // namespace bellhole::plan
