// How gas moves between the points and from outside, and the linear systems that implicit steps
// solve. Everything is by row (transient_parts.hpp).
//
// Internal to network/.
#pragma once

#include <memory>
#include <span>
#include <vector>

#include "network/lumps.hpp"
#include "network/transient_parts.hpp"
#include "numerics/sparse_ldlt.hpp"

namespace bellhole::network {

/// What enters and leaves from outside, kg/s.
struct Outside {
  double fed = 0.0, delivered = 0.0, escaped = 0.0;
};

/// How the flows along mains are found. As unknowns of their own that are eliminated (the global
/// gradient form, balance.hpp) they converge in a few rounds where the flow is smooth and where
/// mains stand nearly still; flows that follow from the pressures find home where many mains turn
/// round at once.
enum class Form { flows_unknown, flows_follow };

class Rates {
 public:
  Rates(const Model::Prepared& prepared, const Parts& parts, const Lumps& lumps,
        const Order& order);

  /// What does not count, per row, Pa: mains that lose less are as good as standing still.
  void set_negligible(std::span<const double> p, std::span<const double> negligible_pa);

  /// Net inflow of each row at reduced pressures p, kg/s, flows as they are or as they follow from
  /// the pressures.
  void evaluate(std::span<const double> p, std::span<double> inflow);
  void evaluate_by_pressures(std::span<const double> p, std::span<double> inflow);

  /// One round of Newton's method for mass(p) = known + inflow(p) / per_step; `per_step` is
  /// 1 / (gamma h). With `renew` all slopes are taken where it begins and factored; without, those
  /// of the last time serve. Afterwards moved() says how far the pressures go, and mass() and
  /// outside() belong to each other to the last digits: what is missing in the round is in p alone.
  /// False when singular.
  bool round(Form form, std::span<const double> p, std::span<const double> known, double per_step,
             bool renew);
  [[nodiscard]] std::span<const double> moved() const { return moved_; }  ///< Pa
  [[nodiscard]] std::span<const double> mass() const { return mass_; }    ///< kg
  [[nodiscard]] const Outside& outside() const { return outside_; }
  /// Whether at these pressures every source and regulator goes the way that the round took it to
  /// go.
  [[nodiscard]] bool ways_hold(std::span<const double> p) const;
  /// Nobody draws a main below the air by more than a trace of the fall over which the draw dies.
  [[nodiscard]] static bool overdrawn(const Draw& draw, double potential) {
    constexpr double trace = 1e-4;
    return draw.none_at - potential > trace * (draw.full_from - draw.none_at);
  }
  [[nodiscard]] bool factored() const { return factored_; }

  /// (mass slope / step - d inflow / d p) x = r with the slopes of the last factor; r in, x (Pa)
  /// out.
  void solve(std::span<double> r);

  [[nodiscard]] std::vector<double>& flows() { return flow_; }  ///< kg/s, by run
  [[nodiscard]] double potential(double p) const {
    return p * std::abs(p) * (0.5 + third_k_ * std::abs(p));
  }
  [[nodiscard]] double pressure(double potential) const {
    return prepared_.gas.pressure(potential);
  }
  /// d potential / d pressure.
  [[nodiscard]] double potential_slope(double p) const {
    return std::abs(p) * (1.0 + k_ * std::abs(p));
  }
  [[nodiscard]] const std::vector<double>& valve_flow() const { return valve_flow_; }
  [[nodiscard]] const std::vector<double>& source_flow() const { return source_flow_; }
  /// Per way out (Parts::leaks).
  [[nodiscard]] const std::vector<double>& leak_flow() const { return leak_flow_; }
  [[nodiscard]] bool wide_open(std::size_t valve) const {
    return ways_[parts_.sources.size() + valve] == Way::wide;
  }

 private:
  /// How the flow of a regulator that stands wide open is found: from the fall, as it is, or moved
  /// from what it is along its law's slope. Where next to nothing is lost in it, the fall says
  /// little about the flow.
  enum class Wide { follows, stays, moves };
  enum class Way : char { rest, spring, soft, wide };
  struct Through {
    double flow = 0.0, slope = 0.0;  ///< by what drives it
    Way way = Way::rest;
  };

  [[nodiscard]] Through fed_by(const SourcePart& source, double potential) const;
  [[nodiscard]] Through through(const ValvePart& valve, double felt, double fall) const;
  [[nodiscard]] double fall(const ValveItem& item) const {
    return potential_[at(item.inlet)] - potential_[at(item.outlet)];
  }
  void begin(std::span<const double> p, std::span<double> inflow, Wide wide);
  void flows_follow(std::span<double> inflow);
  bool flows_move(std::span<double> inflow, bool renew);
  void through_equipment(std::span<double> inflow, Wide wide, bool renew);
  void draw(std::span<double> inflow, bool renew);
  void leak(std::span<double> inflow, bool renew);
  bool factor(std::span<const double> p, double per_step);
  bool correct_columns();
  void solve_potentials(std::span<double> r);
  void go_along();

  const Model::Prepared& prepared_;
  const Parts& parts_;
  const Lumps& lumps_;
  const Order& order_;
  numerics::SparseLdlt matrix_;
  double k_ = 0.0, third_k_ = 0.0;
  bool factored_ = false;
  // By row.
  std::vector<double> potential_, mass_, step_, without_mains_, moved_;
  std::vector<double> draw_slope_, capacity_, per_potential_;  ///< of the last renewal
  // By run.
  struct Ends {
    Index a = none, b = none;
  };
  std::vector<Ends> ends_;
  std::vector<double> flow_, new_flow_;
  std::vector<double> gain_;         ///< d flow / d reduced potential; 0 where shut
  std::vector<double> still_loss_;   ///< a loss that does not count,
  std::vector<double> still_slope_;  ///< and its slope: none is taken flatter
  std::vector<double> valve_gain_;   ///< wide open: d flow / d fall, of the last renewal
  std::vector<double> valve_flow_, source_flow_, leak_flow_, leak_slope_;
  std::vector<Through> fed_, passed_;
  std::vector<Way> ways_, factored_ways_;  ///< of sources, then of valves
  Outside outside_;
  // Regulators that control: the unsymmetric part of the matrix, by Sherman, Morrison, Woodbury.
  std::vector<std::size_t> controlling_;
  std::vector<std::vector<double>> columns_;
  std::vector<double> small_;
};

}  // namespace bellhole::network
