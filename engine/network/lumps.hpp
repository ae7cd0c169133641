// The gas that stands at each point: half of what each adjoining length of main holds, on the
// pressure of the point.
//
// Internal to network/.
#pragma once

#include <span>
#include <vector>

#include "network/prepared.hpp"

namespace bellhole::network {

/// Volumes and heights of the points; mass by *reduced* pressure (the pressure that the gas of the
/// point would have in a column at rest down to the datum).
class Lumps {
 public:
  /// A shut place inside a length of main parts its volume there; without one each end has half.
  /// `row` of each point: under which number it is asked for.
  Lumps(const Model::Prepared& prepared, const std::vector<Closure>& places,
        std::span<const Index> row);

  struct Held {
    double mass = 0.0;   ///< kg
    double slope = 0.0;  ///< d mass / d reduced pressure, kg/Pa
  };
  [[nodiscard]] Held held(std::size_t row, double reduced_pa) const {
    // p / (1 + k p) falls with height as exp(-g z / (R_s T)) (gas.cpp).
    const Place& place = places_[row];
    const double lift = 1.0 / (1.0 + place.bend * reduced_pa);
    const double true_pa = place.fall * lift * reduced_pa;
    return {place.per_pa * true_pa * (1.0 + k_ * true_pa),
            place.per_pa * (1.0 + 2.0 * k_ * true_pa) * place.fall * lift * lift};
  }
  [[nodiscard]] std::size_t size() const { return places_.size(); }

 private:
  struct Place {
    double per_pa = 0.0;  ///< kg/Pa of an ideal gas: volume / (R_s T)
    double fall = 1.0;    ///< exp(-g z / (R_s T))
    double bend = 0.0;    ///< k (1 - fall)
  };
  double k_ = 0.0;
  std::vector<Place> places_;  ///< by row
};

}  // namespace bellhole::network
