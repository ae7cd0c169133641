// The gas that stands at each point: half of what each adjoining length of main holds, on the
// pressure of the point.
//
// Internal to network/.
#pragma once

#include <vector>

#include "network/prepared.hpp"

namespace bellhole::network {

/// Volumes and heights of the points; mass by *reduced* pressure (the pressure that the gas of the
/// point would have in a column at rest down to the datum).
class Lumps {
 public:
  /// A shut place inside a length of main parts its volume there; without one each end has half.
  Lumps(const Model::Prepared& prepared, const std::vector<Closure>& places);

  struct Held {
    double mass = 0.0;   ///< kg
    double slope = 0.0;  ///< d mass / d reduced pressure, kg/Pa
  };
  [[nodiscard]] Held held(std::size_t point, double reduced_pa) const;
  [[nodiscard]] std::size_t size() const { return volume_.size(); }

 private:
  gas::Flowing gas_;
  double per_volume_ = 0.0;     ///< 1 / (R_s T)
  std::vector<double> volume_;  ///< m3
  std::vector<double> fall_;    ///< per point: exp(-g z / (R_s T))
};

}  // namespace bellhole::network
