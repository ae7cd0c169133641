// What hangs together in one state of the network: mains that no shut place and no regulator part
// from each other, and where pressures stand along them.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "network/steady.hpp"
#include "plan/work.hpp"

namespace bellhole::plan {

/// A length of main between two neighbours of {end, shut place}; everything on it is one region.
struct RegionPiece {
  Piece piece;
  std::int32_t region = 0;
};

class Regions {
 public:
  /// As the map stands with the scenario laid over it. A valve of unknown position is taken as the
  /// steady solution takes it: as it is meant to be. A place at the very station of a shut one lies
  /// before it.
  Regions(const network::Network& network, const network::Scenario& scenario);

  [[nodiscard]] std::int32_t of_node(network::Index node) const;
  /// `toward` says on which side of a shut place at the very station: +1 on the side of the main's
  /// `to`, else on that of `from`.
  [[nodiscard]] std::int32_t at(network::Index pipe, Length station, int toward = -1) const;
  [[nodiscard]] std::int32_t of_customer(network::Index customer) const;
  [[nodiscard]] std::size_t count() const { return count_; }
  [[nodiscard]] const std::vector<RegionPiece>& pieces() const { return pieces_; }
  /// The piece of a main that a station lies on.
  [[nodiscard]] const RegionPiece& piece_at(network::Index pipe, Length station,
                                            int toward = -1) const;

 private:
  const network::Network& network_;
  std::vector<RegionPiece> pieces_;       ///< by pipe, then station
  std::vector<std::size_t> first_piece_;  ///< per pipe, and one more
  std::vector<std::int32_t> of_node_;
  std::size_t count_ = 0;
};

/// Pressure at a station of a main: between the nearest places of the same piece with a pressure
/// of their own (ends, customers) its square runs straight, which the flow equation has it do
/// along one flow on level ground; beyond the last of them nothing flows and the pressure stays.
/// nan where there is no gas.
GaugePressure pressure_at(const network::Network& network, const Regions& regions,
                          const network::SteadyState& state, network::Index pipe, Length station,
                          int toward = -1);

/// Flow at a station of a main, positive toward its `to`. REQUIRES: no shut place between the
/// station and one end of the main.
MassFlow flow_at(const network::Network& network, const Regions& regions,
                 const network::SteadyState& state, network::Index pipe, Length station,
                 double kg_per_std_m3);

}  // namespace bellhole::plan
