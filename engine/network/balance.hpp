// Newton's method on the balance of a network: potentials of the unknowns and flows of chains, sources and
// regulators together, each law linearised where it stands.
//
// Internal to network/.
//
// The flows are unknowns of their own and are eliminated (the "global gradient" form of Todini and Pilati,
// 1988): the mass balance is linear in them and closes to the last digits in every step, whatever the
// resistances, and the loss is an easy function of the flow where the flow is an awkward one of the loss.
//
// A source is a spring between its pressure and its node, a regulator that controls is one between its set
// point and the point it feels. The springs are stiff, not rigid: at the scenario's whole flow a source gives
// by 1e-9 and a regulator by 1e-7 of its potential (half of that in pressure: 0.02 Pa at 60 psig).
#pragma once

#include <memory>
#include <vector>

#include "network/fold.hpp"
#include "network/prepared.hpp"
#include "numerics/sparse_ldlt.hpp"

namespace bellhole::network {

/// Whether customers draw their full load whatever the pressure, or less under their least pressure. The second
/// needs a skeleton with nothing folded.
enum class Delivery { full, falls_off };

enum class SourceMode : char { feeds, at_capacity, idle };
enum class ValveMode : char { controls, wide_open, closed };

class Balance {
 public:
  Balance(const Model::Prepared& prepared, const Skeleton& skeleton, const Case& laid, Delivery delivery);

  /// Begins at a settled state of another scenario; without it, at a linear guess.
  void start_from(const Settled& settled);

  /// True when converged within `most` steps.
  bool run(int most);

  [[nodiscard]] Settled settled() const;
  [[nodiscard]] int iterations() const { return iterations_; }
  [[nodiscard]] double mass_imbalance() const { return worst_mass_; }         ///< kg/s
  [[nodiscard]] double potential_residual() const { return worst_loss_; }     ///< Pa2
  /// What a customer gets at a point's potential, kg/s.
  /// Zero pressure and less give nothing.
  [[nodiscard]] double delivered(std::size_t customer, double potential) const;

 private:
  struct SourceItem {      ///< feeds: flow = stiffness (rest - potential)
    std::size_t index = 0;
    Index node = none;
    double rest = 0.0, stiffness = 0.0;
    double capacity = 0.0; ///< kg/s; infinite where none is recorded
    double soft = 0.0;     ///< stiffness beyond capacity: a hundredth of it down to no pressure at all
    double flow = 0.0;
    SourceMode mode = SourceMode::feeds;
  };
  struct ValveItem {       ///< controls: flow = stiffness (rest - potential felt)
    std::size_t index = 0;
    Index inlet = none, outlet = none;   ///< unknowns
    Index felt = none;                   ///< unknown; none when no gas is at the sensing point
    double dead = 0.0;                   ///< potential felt then: the air's
    double rest = 0.0, stiffness = 0.0;
    double square = 0.0, linear = 0.0;   ///< wide open: loss = square q|q| + linear q
    bool may_reverse = true, parted = false;
    double flow = 0.0;
    ValveMode mode = ValveMode::controls;
    int reversals = 0;
  };
  struct Draw {
    Index unknown;
    std::size_t customer;
    double full, least, height, full_from;
  };
  struct Taken {
    double flow = 0.0, slope = 0.0;
  };

  void add_sources();
  void add_valves();
  void add_draws();
  void linear_guess();
  void evaluate();
  void evaluate_chains();
  void evaluate_mass();
  bool take_step();
  void assemble();
  bool correct_for_control();
  void apply();
  bool change_modes();
  bool change(SourceItem& source) const;
  bool change(ValveItem& valve) const;
  void close(ValveItem& valve) const;
  void open_wide(ValveItem& valve) const;
  [[nodiscard]] bool springs_agree() const;
  [[nodiscard]] Taken taken(const Draw& draw, double potential) const;
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
  double level_ = 0.0;               ///< size of a potential here, Pa2
  bool started_ = false;

  std::vector<double> potential_;    ///< per unknown
  std::vector<double> flow_;         ///< per chain, at its beginning
  std::vector<double> gain_;         ///< per chain: d flow / d loss
  std::vector<double> excess_;       ///< per chain: loss - fall of potential
  std::vector<double> mass_;         ///< per unknown: outflow - inflow, kg/s
  std::vector<double> draw_slope_;   ///< per unknown
  std::vector<double> step_;         ///< per unknown
  numerics::SparseLdlt matrix_;
  int iterations_ = 0;
  double worst_mass_ = 0.0, worst_loss_ = 0.0;
};

}  // namespace bellhole::network
