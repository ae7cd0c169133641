#include "plan/evaluate.hpp"

#include <algorithm>
#include <utility>

namespace bellhole::plan {
namespace {

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

bool has(const std::vector<isolate::Vertex>& sorted, isolate::Vertex v) {
  return std::ranges::binary_search(sorted, v);
}

}  // namespace

std::vector<std::size_t> places_of(const Places& places, const isolate::Cut& cut) {
  std::vector<std::size_t> list;
  for (const auto edge : cut.shut) list.push_back(at(edge));
  for (const auto supply : cut.supplies_shut) list.push_back(places.graph.edges() + at(supply));
  return list;
}

void shut(network::Scenario& scenario, const Place& place) {
  switch (place.kind) {
    case ShutKind::squeeze:
    case ShutKind::placed:
      scenario.closures.push_back({place.pipe, place.station});
      break;
    case ShutKind::valve:
      scenario.valves.push_back({place.element, network::Position::closed});
      break;
    case ShutKind::regulator_outlet:
      scenario.regulators_shut.push_back(place.element);
      break;
    case ShutKind::source_outlet:
      scenario.sources_shut.push_back(place.element);
      break;
  }
}

network::Scenario scenario_of(const Places& places, const isolate::Cut& cut,
                              network::Scenario base) {
  for (const std::size_t i : places_of(places, cut)) shut(base, places.places[i]);
  return base;
}

std::vector<isolate::Vertex> parts_with_work(const network::Network& network, const Places& places,
                                             const isolate::Cut& cut) {
  std::vector<std::vector<isolate::Vertex>> joined(places.graph.vertices());
  const auto join = [&](isolate::Vertex a, isolate::Vertex b) {
    joined[at(a)].push_back(b);
    joined[at(b)].push_back(a);
  };
  // Neighbouring pieces of a main meet at a place; a closed valve has no place and joins nothing.
  for (std::size_t i = 0; i < places.places.size(); ++i) {
    const Place& place = places.places[i];
    if (i < places.graph.edges() &&
        std::ranges::binary_search(cut.shut, static_cast<isolate::EdgeIndex>(i)))
      continue;
    if (place.kind == ShutKind::regulator_outlet) {
      join(places.part_of_node[at(network.regulators.inlet[at(place.element)])],
           places.part_of_node[at(network.regulators.outlet[at(place.element)])]);
    } else if (place.kind != ShutKind::source_outlet) {
      const auto after = std::ranges::lower_bound(
          places.pieces, std::pair(place.pipe, place.station), {},
          [](const PartPiece& p) { return std::pair(p.piece.pipe, p.piece.end); });
      join(after->part, std::next(after)->part);
    }
  }
  std::vector<isolate::Vertex> reached = places.work;
  std::vector<std::uint8_t> seen(places.graph.vertices(), 0);
  for (const auto v : reached) seen[at(v)] = 1;
  for (std::size_t i = 0; i < reached.size(); ++i) {
    for (const auto next : joined[at(reached[i])]) {
      if (std::exchange(seen[at(next)], 1) == 0) reached.push_back(next);
    }
  }
  std::ranges::sort(reached);
  return reached;
}

Result<Evaluation> evaluate(const network::Model& model, const Places& places,
                            const isolate::Cut& cut, const network::Scenario& base,
                            const std::vector<isolate::Cost>& customer_cost,
                            const network::SteadyState& before) {
  Evaluation evaluation;
  evaluation.scenario = scenario_of(places, cut, base);
  evaluation.scenario.load = network::LoadCase::high;
  BELLHOLE_TRY(state, model.solve(evaluation.scenario, &before));
  evaluation.high_load = std::move(state);

  const auto with_work = parts_with_work(model.network(), places, cut);
  const auto& customers = model.network().customers;
  std::vector<std::uint8_t> under(customers.size(), 0);
  for (const auto c : evaluation.high_load.customers_short) under[at(c)] = 1;
  for (const auto c : evaluation.high_load.customers_out) under[at(c)] = 1;
  for (const auto c : before.customers_short) under[at(c)] = 0;
  for (const auto c : before.customers_out) under[at(c)] = 0;
  evaluation.total = cut.cost;
  for (std::size_t c = 0; c < customers.size(); ++c) {
    const isolate::Vertex part = places.part_of_customer[c];
    const bool lost = has(cut.lost, part);
    if (!lost && under[c] == 0) continue;
    const OutCause cause = !lost                  ? OutCause::short_of
                           : has(with_work, part) ? OutCause::isolated
                                                  : OutCause::pocket;
    evaluation.out.push_back({static_cast<network::Index>(c), cause});
    if (!lost) evaluation.total += customer_cost[c];
  }
  return evaluation;
}

}  // namespace bellhole::plan
