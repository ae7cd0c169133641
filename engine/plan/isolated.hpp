// The part that loses its gas: lengths, volume, gas held, and the equipment that stands on it. What
// that equipment does while the plan goes on is said by stages.hpp.
#pragma once

#include <string>
#include <vector>

#include "network/steady.hpp"
#include "plan/evaluate.hpp"

namespace bellhole::plan {

enum class EquipmentKind : std::uint8_t {
  regulator_inlet,   ///< the station loses its inlet: what it feeds must hold without it
  regulator_outlet,  ///< its outlet is shut in: it locks up, and creep raises the shut part
  sensing_tap,  ///< a station feels its pressure here and would open wide as the part goes empty
  source,
  valve,
  relief,
  telemetry,
  control_line,
  stub,
  excess_flow_valve,  ///< of a customer: trips or must be reset when gas comes back
};

struct Equipment {
  EquipmentKind kind = EquipmentKind::valve;
  std::string id;
  network::Index pipe = network::none;  ///< where it is on a main; none at a node
  Length station;
  std::string says;
};

struct Isolated {
  std::vector<Piece> pieces;  ///< everything without gas, by pipe and station
  Length length;
  Volume volume;       ///< of the bores
  StdVolume gas_held;  ///< at the pressures before anything was shut, beyond 0 gauge
  std::vector<Equipment> equipment;
};

Isolated isolated_by(const network::Network& network, const Places& places, const isolate::Cut& cut,
                     const network::SteadyState& before);

}  // namespace bellhole::plan
