// Newton's method on the balance of a network: potentials of the unknowns and flows of chains,
// sources and regulators together, each law linearised where it stands.
//
// Internal to network/.
//
// The flows are unknowns of their own and are eliminated (the "global gradient" form of Todini and
// Pilati, 1988): the mass balance is linear in them and closes to the last digits in every step,
// whatever the resistances, and the loss is an easy function of the flow where the flow is an
// awkward one of the loss.
//
// A source is a spring between its pressure and its node, a regulator that controls is one between
// its set point and the point it feels. The springs are stiff, not rigid: at the scenario's whole
// flow a source gives by 1e-9 and a regulator by 1e-7 of its potential (half of that in pressure:
// 0.02 Pa at 60 psig).
#pragma once

#include <memory>
#include <vector>

#include "network/equipment.hpp"
#include "network/fold.hpp"
#include "network/prepared.hpp"
#include "numerics/sparse_ldlt.hpp"

namespace bellhole::network {

/// Whether customers draw their full load whatever the pressure, or less under their least
/// pressure. The second needs a skeleton with nothing folded.
enum class Delivery { full, falls_off };

class Balance {
 public:
  Balance(const Model::Prepared& prepared, const Skeleton& skeleton, const Case& laid,
          Delivery delivery, double give = regulator_gives);

  /// Begins at a settled state of another scenario; without it, at a linear guess.
  void start_from(const Settled& settled);

  /// True when converged within `most` steps.
  bool run(int most);

  /// Whether it stands this near to balance where it was started.
  bool is_near(double of_whole_flow, double pressure_pa);

  [[nodiscard]] Settled settled() const;
  [[nodiscard]] int iterations() const { return iterations_; }
  [[nodiscard]] double mass_imbalance() const { return worst_mass_; }      ///< kg/s
  [[nodiscard]] double potential_residual() const { return worst_loss_; }  ///< Pa2
  /// What a customer gets at a point's potential, kg/s.
  /// Zero pressure and less give nothing.
  [[nodiscard]] double delivered(std::size_t customer, double potential) const;

 private:
  void linear_guess();
  void evaluate();
  void evaluate_chains();
  void evaluate_mass();
  bool find_step();
  void assemble(double ground);
  bool correct_for_control();
  bool correct_by_tiers(const std::vector<const ValveItem*>& controls);
  bool correct_at_once(const std::vector<const ValveItem*>& controls);
  void find_flow_steps();
  void go();
  [[nodiscard]] double in_reach(double flow) const;
  [[nodiscard]] double spring_excess(const SourceItem& source) const;
  [[nodiscard]] double spring_excess(const ValveItem& valve) const;
  bool change_modes();
  bool put_off_draws();
  bool change(SourceItem& source) const;
  bool change(ValveItem& valve) const;
  void close(ValveItem& valve) const;
  void open_wide(ValveItem& valve) const;
  [[nodiscard]] bool stands(double times) const;
  [[nodiscard]] bool springs_agree() const;
  [[nodiscard]] double felt(const ValveItem& valve) const;
  [[nodiscard]] double fall(const ValveItem& valve) const;

  const Model::Prepared& prepared_;
  const Skeleton& skeleton_;
  const Case& laid_;
  Delivery delivery_;
  FoldedLoads loads_;
  std::vector<char> live_;
  std::vector<SourceItem> sources_;
  std::vector<ValveItem> valves_;
  std::vector<Draw> draws_;
  double level_ = 0.0;       ///< size of a potential here, Pa2
  double resistance_ = 0.0;  ///< least of a chain, Pa2 / (kg/s)
  bool started_ = false;

  std::vector<double> potential_;   ///< per unknown
  std::vector<double> flow_;        ///< per chain, at its beginning
  std::vector<double> gain_;        ///< per chain: d flow / d loss
  std::vector<double> excess_;      ///< per chain: loss - fall of potential
  std::vector<double> mass_;        ///< per unknown: outflow - inflow, kg/s
  std::vector<double> draw_slope_;  ///< per unknown
  std::vector<double> step_;        ///< per unknown
  std::vector<double> right_side_;  ///< of the step, per unknown
  std::vector<double> flow_step_;   ///< per chain
  numerics::SparseLdlt matrix_;
  int iterations_ = 0;
  double worst_mass_ = 0.0, worst_loss_ = 0.0;
};

}  // namespace bellhole::network
