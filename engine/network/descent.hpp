// The slow and sure way to a state near the balance, for networks in which Newton's method loses
// its way: starved towns, regulators on the edge between two states. Balance finishes from there
// and is the judge.
//
// Rounds. In each, every regulator is held to what it was found to be (regulating, with what it
// draws from its inlet taken from the round before; or wide open), which makes the balance of flows
// the gradient of a convex function of the potentials: flow out of a node rises with its own
// potential, symmetrically between neighbours. Newton steps with an exact line search go down that
// function to its only floor. Then the regulators are looked at again. It begins with no load
// anywhere, from above: pressures only fall from round to round, so that a regulator goes from shut
// to regulating to wide open and, but for odd reverse feeds, never back.
//
// The springs of regulators are softer here than in Balance.
//
// Internal to network/.
#pragma once

#include <vector>

#include "network/equipment.hpp"
#include "network/fold.hpp"
#include "network/prepared.hpp"
#include "numerics/sparse_ldlt.hpp"

namespace bellhole::network {

class Descent {
 public:
  /// Share of its set point's potential by which a regulator gives here at the whole flow.
  static constexpr double gives = 1e-4;

  /// REQUIRES a skeleton with nothing folded.
  Descent(const Model::Prepared& prepared, const Skeleton& skeleton, const Case& laid);

  /// False when the rounds do not come to an end.
  bool run();
  [[nodiscard]] Settled settled() const;

 private:
  struct Valve {
    ValveItem item;
    double rest = 0.0;   ///< at the outlet: follows what is felt at a remote sensing point
    double drawn = 0.0;  ///< from the inlet while regulating, as of the last round
    bool wide = false, off = false;
    int returns = 0;  ///< from wide open
  };

  void start_without_load();
  bool go_down();
  void evaluate();
  void evaluate_chains();
  void evaluate_equipment();
  void assemble(double ground);
  [[nodiscard]] double worst_mass() const;
  [[nodiscard]] double along_step() const;
  void search();
  bool look_at_valves(int round);
  bool look_at(Valve& valve, double share) const;
  [[nodiscard]] bool overfeeds() const;
  [[nodiscard]] double felt(const Valve& valve) const;
  [[nodiscard]] double fall(const Valve& valve) const;
  [[nodiscard]] double regulated_flow(const Valve& valve) const;
  [[nodiscard]] double wide_flow(const Valve& valve) const;
  /// From the inlet while regulating: what the last round found, falling off under the set point as
  /// a customer's does (the next round finds it wide open then).
  [[nodiscard]] Draw::Taken drawn(const Valve& valve) const;
  [[nodiscard]] Draw::Taken given(
      const SourceItem& source) const;  ///< slope: - d flow / d potential

  const Model::Prepared& prepared_;
  const Skeleton& skeleton_;
  const Case& laid_;
  std::vector<SourceItem> sources_;
  std::vector<Valve> valves_;
  std::vector<Draw> draws_;
  double level_ = 0.0;
  double resistance_ = 0.0;                              ///< least of a chain, Pa2 / (kg/s)
  std::vector<double> potential_, mass_, slope_, step_;  ///< per unknown
  std::vector<double> flow_, gain_;                      ///< per chain
  numerics::SparseLdlt matrix_;
};

}  // namespace bellhole::network
