// What a network is made of at one moment of a course: lengths of main that are open, shut-offs
// that move, draws, sources, regulators. And the moments at which that changes.
//
// Internal to network/.
#pragma once

#include <vector>

#include "network/equipment.hpp"
#include "network/prepared.hpp"
#include "network/transient.hpp"

namespace bellhole::network {

/// Lengths of main, one entry a segment of the points.
struct Runs {
  std::vector<Index> a, b;
  std::vector<const gas::PipeLaw*> law;
  std::vector<double> length;    ///< long enough for Balance's least resistance
  std::vector<double> per_lift;  ///< 1 / lift
  std::vector<Index> mover;      ///< the first that stands in it; none
  std::vector<char> closed;      ///< 1: parted, for good or until its mover opens
};

/// A mover on its segment; several on one segment lose one after the other.
struct MovingPart {
  const Mover* mover = nullptr;
  Closure place;
  Index segment = none;
  double loss_at_unit_k = 0.0;  ///< Pa2 / (kg/s)^2
};

/// A regulator or a source and whether a hand has shut it.
struct SourcePart {
  SourceItem item;
  bool shut = false;
};
struct ValvePart {
  ValveItem item;
  bool shut = false;
};

class Parts {
 public:
  /// REQUIRES a course that was checked. `course` and `prepared` must outlive it.
  /// `give`: share of its set point's potential by which a regulator gives at the whole flow.
  Parts(const Model::Prepared& prepared, const Course& course, double give);

  /// Puts loads and switches to what they are from this moment on.
  void set_moment(double seconds);

  /// Moments at which something jumps or bends, ascending, the end of the course last.
  [[nodiscard]] const std::vector<double>& moments() const { return moments_; }

  /// Loss of the movers on each one's segment at a time, Pa2 / (kg/s)^2, at the entry of the first
  /// mover of the segment; infinite where one is shut.
  void squeeze_losses(double seconds, std::vector<double>& losses) const;

  Case laid;  ///< of the scenario, everything live
  Runs runs;
  std::vector<MovingPart> movers;
  std::vector<Draw> draws;  ///< of one point with one least pressure together
  std::vector<SourcePart> sources;
  std::vector<ValvePart> valves;
  std::vector<Closure> shut_places;  ///< every place that is or will be shut
  std::vector<double> wanted;        ///< per customer, kg/s, now
  double level = 0.0;                ///< size of a potential here, Pa2

 private:
  void lay_runs();
  void lay_movers();
  void lay_equipment(double give);
  void collect_moments();
  void set_draws();

  const Model::Prepared& prepared_;
  const Course& course_;
  std::vector<double> moments_;
  std::vector<char> meter_shut_;
  std::vector<Index> by_point_;  ///< customers in the order of their points
};

}  // namespace bellhole::network
