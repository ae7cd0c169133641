// The same course through time by other means: IDA (SUNDIALS) with KLU, variable order and step, in
// two forms: nodal (pressures alone, flows by the inverse of the pipe law), or with the flows as
// unknowns beside them, which is the differential-algebraic form that IDA is made for. It takes a
// pocket: one tier on level ground, customers at the ends of the mains, every source shut when time
// begins, loads that stand.
#pragma once

#include <optional>
#include <vector>

#include "network/steady.hpp"

namespace bellhole::support {

struct PeerCourse {
  std::vector<double> times;      ///< s, ascending, at which pressures are wanted
  std::vector<double> begins_pa;  ///< gauge, per node
  double tolerance = 1e-4;        ///< of a step, as a share of the gauge pressure at the beginning
  bool flows_unknown = false;
  bool explicit_law = false;  ///< flows by PipeLaw::driven(); otherwise by a search of its own
};

struct PeerThroughTime {
  std::vector<std::vector<double>> gauge_pa;  ///< [time][node]
  long steps = 0, residuals = 0, factors = 0;
  double seconds = 0.0;  ///< of the processor: IDA's setting up and its steps
};

/// Nothing where IDA does not get there.
std::optional<PeerThroughTime> drain_with_ida(const network::Network& network,
                                              const network::Conditions& conditions,
                                              const network::Scenario& scenario,
                                              const PeerCourse& course);

}  // namespace bellhole::support
