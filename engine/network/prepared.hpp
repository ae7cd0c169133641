// What a model prepares once, and one scenario laid over it.
//
// Internal to network/.
//
// Pressures are solved as *reduced potentials*: the potential (gas/pipe_law.hpp) that the gas would
// have if it stood in a column at rest down to the datum. Gas at rest has one reduced potential
// everywhere, whatever the hills, so that no loop can drive a flow by itself; along a pipe it falls
// by friction alone.
#pragma once

#include <memory>
#include <vector>

#include "network/points.hpp"
#include "network/skeleton.hpp"
#include "network/steady.hpp"

namespace bellhole::network {

/// Between gauge pressure at a height and reduced potential, with the air of one scenario.
struct Altitude {
  gas::Flowing gas;
  AbsolutePressure barometer;  ///< at the datum
  Temperature air;

  [[nodiscard]] double reduced(double gauge_pa, double height) const;
  [[nodiscard]] double gauge(double reduced_pa2, double height) const;
};

struct Model::Prepared {
  const Network* network = nullptr;
  Conditions conditions;
  gas::Flowing gas;
  AbsolutePressure barometer;  ///< the network's, else by its altitude
  double kg_per_std_m3 = 0.0;
  Points points;
  std::vector<gas::PipeLaw> law;  ///< per pipe
  std::vector<double> lift;       ///< per segment: (reduced / true density)^2, mean along it
  std::vector<Index> kept;        ///< points with equipment
  std::vector<std::pair<Index, Index>> pairs;  ///< inlet and outlet of each regulator
  std::vector<double> supply;  ///< per regulator: highest gauge pressure its inlet may see
  Skeleton folded;
  std::shared_ptr<const Skeleton>
      unfolded;  ///< nothing folded; null in a large network (made when needed)

  [[nodiscard]] gas::Loss loss(Index segment, double kg_per_s) const {
    gas::Loss loss = law[at(points.pipe[at(segment)])].loss(kg_per_s, points.length[at(segment)]);
    loss.value *= lift[at(segment)];
    loss.slope *= lift[at(segment)];
    return loss;
  }
};

/// A scenario over the points.
struct Case {
  Altitude altitude;
  std::vector<char> closed;  ///< per segment
  std::vector<char> live;    ///< per point: some source reaches it
  std::vector<char> regulator_shut, source_shut;
  std::vector<Index> felt;       ///< per regulator: the point that it feels
  std::vector<char> tap_parted;  ///< per regulator: that point is not in the outlet's reach
  std::vector<double> wanted;    ///< per customer, kg/s; 0 without load
  std::vector<double> load;      ///< per point, kg/s: sum of wanted, 0 where not live
  std::vector<double> least;     ///< per customer, Pa gauge at which delivery begins to fall off
  double scale = 0.0;            ///< a flow of the size of this scenario's, kg/s, > 0
};

/// REQUIRES a scenario that was checked.
Case lay_over(const Model::Prepared& prepared, const Scenario& scenario);

/// Where nobody shuts anything: the highest gauge pressure that each regulator's inlet, and each
/// pipe, may see.
struct Supply {
  std::vector<double> regulator_inlet, pipe;
};
Supply highest_supply(const Network& network);

}  // namespace bellhole::network
