#include "plan/isolated.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "network/bore.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using network::Network;

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

class Lost {
 public:
  Lost(const Places& places, const isolate::Cut& cut)
      : places_(places), lost_(places.graph.vertices(), 0) {
    for (const auto v : cut.lost) lost_[at(v)] = 1;
  }
  [[nodiscard]] bool part(isolate::Vertex v) const { return lost_[at(v)] != 0; }
  [[nodiscard]] bool node(Index n) const { return part(places_.part_of_node[at(n)]); }
  [[nodiscard]] bool point(Index pipe, Length station) const {
    const auto found = std::ranges::lower_bound(
        places_.pieces, std::pair(pipe, station), {},
        [](const PartPiece& p) { return std::pair(p.piece.pipe, p.piece.end); });
    return found != places_.pieces.end() && found->piece.pipe == pipe && part(found->part);
  }

 private:
  const Places& places_;
  std::vector<std::uint8_t> lost_;
};

/// Where a regulator feels its pressure, as far as the map tells.
bool senses_on(const Network& network, std::size_t r, const Lost& lost) {
  const auto& regulators = network.regulators;
  if (regulators.sensing[r] == network::Sensing::remote) {
    return regulators.tap_pipe[r] != network::none &&
           lost.point(regulators.tap_pipe[r], regulators.tap_station[r]);
  }
  return lost.node(regulators.outlet[r]);
}

void add_regulators(const Network& network, const Lost& lost, std::vector<Equipment>& list) {
  const auto& regulators = network.regulators;
  for (std::size_t r = 0; r < regulators.size(); ++r) {
    const std::string name =
        regulators.station_name[r].empty()
            ? regulators.id[r]
            : fmt::format("{} ({})", regulators.station_name[r], regulators.id[r]);
    if (lost.node(regulators.inlet[r])) {
      list.push_back({EquipmentKind::regulator_inlet,
                      regulators.id[r],
                      network::none,
                      {},
                      fmt::format("{} loses its inlet", name)});
    }
    if (lost.node(regulators.outlet[r])) {
      list.push_back({EquipmentKind::regulator_outlet,
                      regulators.id[r],
                      network::none,
                      {},
                      fmt::format("the outlet of {} is on the part: it locks up, and what creeps "
                                  "past it raises the pressure",
                                  name)});
    }
    if (regulators.sensing[r] == network::Sensing::remote && senses_on(network, r, lost)) {
      list.push_back({EquipmentKind::sensing_tap, regulators.id[r], regulators.tap_pipe[r],
                      regulators.tap_station[r],
                      fmt::format("{} feels its pressure on main {}", name,
                                  network.pipes.id[at(regulators.tap_pipe[r])])});
    }
  }
}

void add_features(const Network& network, const Lost& lost, std::vector<Equipment>& list) {
  const auto& features = network.features;
  for (std::size_t f = 0; f < features.size(); ++f) {
    std::optional<EquipmentKind> kind;
    switch (features.kind[f]) {
      case network::FeatureKind::relief:
        kind = EquipmentKind::relief;
        break;
      case network::FeatureKind::telemetry:
        kind = EquipmentKind::telemetry;
        break;
      case network::FeatureKind::control_line:
        kind = EquipmentKind::control_line;
        break;
      case network::FeatureKind::stub:
        kind = EquipmentKind::stub;
        break;
      default:
        break;
    }
    if (kind && features.pipe[f] != network::none &&
        lost.point(features.pipe[f], features.begin[f])) {
      list.push_back(
          {*kind, features.id[f], features.pipe[f], features.begin[f], features.says[f]});
    }
  }
}

}  // namespace

Isolated isolated_by(const Network& network, const Places& places, const isolate::Cut& cut,
                     const network::SteadyState& before) {
  const Lost lost(places, cut);
  const std::vector<network::Bore> bores = network::bores_of(network.pipes, network.nodes.size());
  Isolated isolated;
  for (const PartPiece& part : places.pieces) {
    if (!lost.part(part.part)) continue;
    const Piece& piece = part.piece;
    auto& pieces = isolated.pieces;
    if (!pieces.empty() && pieces.back().pipe == piece.pipe && pieces.back().end == piece.begin)
      pieces.back().end = piece.end;
    else
      pieces.push_back(piece);
    const Length length = piece.end - piece.begin;
    const double bore = bores[at(piece.pipe)].value.si();
    const double volume = std::numbers::pi / 4.0 * bore * bore * length.si();
    isolated.length = isolated.length + length;
    isolated.volume = isolated.volume + Volume::from_si(volume);
    const double p = std::fmax(before.node_pressure[at(network.pipes.from[at(piece.pipe)])].si(),
                               before.node_pressure[at(network.pipes.to[at(piece.pipe)])].si());
    // Gas beyond 0 gauge, as if ideal and at base temperature: a fraction of a percent at these
    // pressures.
    if (std::isfinite(p)) {
      isolated.gas_held =
          isolated.gas_held + StdVolume::from_si(volume * p / network.base_pressure.si());
    }
  }
  add_regulators(network, lost, isolated.equipment);
  for (std::size_t s = 0; s < network.sources.size(); ++s) {
    if (lost.node(network.sources.node[s])) {
      isolated.equipment.push_back({EquipmentKind::source,
                                    network.sources.id[s],
                                    network::none,
                                    {},
                                    "this source is shut in"});
    }
  }
  const auto& valves = network.valves;
  for (std::size_t v = 0; v < valves.size(); ++v) {
    if (lost.point(valves.pipe[v], valves.station[v])) {
      isolated.equipment.push_back(
          {EquipmentKind::valve, valves.id[v], valves.pipe[v], valves.station[v],
           valves.position[v] == network::Position::closed ? "recorded closed" : "recorded open"});
    }
  }
  add_features(network, lost, isolated.equipment);
  const auto& customers = network.customers;
  for (std::size_t c = 0; c < customers.size(); ++c) {
    if (customers.excess_flow_valve[c] == network::Ternary::yes &&
        lost.part(places.part_of_customer[c])) {
      isolated.equipment.push_back({EquipmentKind::excess_flow_valve, customers.id[c],
                                    customers.pipe[c], customers.station[c],
                                    "service with an excess-flow valve"});
    }
  }
  return isolated;
}

}  // namespace bellhole::plan
