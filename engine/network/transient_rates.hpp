// How fast the gas at each point changes, and the linear systems that implicit steps solve.
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
  double fed = 0.0, delivered = 0.0;
};

class Rates {
 public:
  Rates(const Model::Prepared& prepared, const Parts& parts, const Lumps& lumps,
        std::shared_ptr<const numerics::SparsePattern> pattern,
        const std::vector<Index>& slot_of_segment, std::size_t first_pair);

  /// Net inflow of each point at reduced pressures p and a time, kg/s. Keeps what factor() needs.
  /// Flows along mains are what the pressures drive, whatever they were before.
  void evaluate(double seconds, std::span<const double> p, std::span<double> inflow);
  /// The same, with flows as unknowns of their own that are eliminated (the global gradient form,
  /// balance.hpp): each main's law is linear about the flow that it had, and solve_step() takes the
  /// flows along. Where mains nearly stand still this converges and the other form does not.
  void linearise(double seconds, std::span<const double> p, std::span<double> inflow);
  [[nodiscard]] const Outside& outside() const { return outside_; }
  /// The same at other pressures, without looking at mains and regulators.
  [[nodiscard]] Outside outside_at(std::span<const double> p) const;

  /// Prepares to solve (mass slope / step - d inflow / d p) x = r about the state last evaluated.
  /// `per_step` is 1 / (gamma h). False when singular.
  bool factor(std::span<const double> p, double per_step);
  /// True when a regulator or source changed its way since factor(): its slopes are of another
  /// kind.
  [[nodiscard]] bool other_ways() const { return ways_ != factored_ways_; }
  /// r in, x out. REQUIRES factor().
  void solve(std::span<const double> p, std::span<double> r);
  /// The same after linearise(), and the flows go with it.
  void solve_step(std::span<const double> p, std::span<double> r);

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
  [[nodiscard]] bool held_by_source(std::size_t point) const { return held_[point] != 0; }
  [[nodiscard]] bool wide_open(std::size_t valve) const {
    return ways_[parts_.sources.size() + valve] == Way::wide;
  }

 private:
  enum class Way : char { rest, spring, soft, wide };

  [[nodiscard]] double fed_by(const SourcePart& source, double potential, Way& way) const;

  void along_mains(std::span<double> inflow);
  void along_lines(std::span<double> inflow);
  [[nodiscard]] gas::Loss loss(std::size_t run);
  void rest_of(std::span<double> inflow);
  void solve_potentials(std::span<double> r);
  void through_equipment(std::span<double> inflow);
  void draw(std::span<double> inflow);
  [[nodiscard]] gas::PipeLaw::Driven past_squeeze(std::size_t run, double fall,
                                                  double squeeze) const;
  bool correct_columns();

  const Model::Prepared& prepared_;
  const Parts& parts_;
  const Lumps& lumps_;
  const std::vector<Index>& slot_of_segment_;
  std::size_t first_pair_ = 0;
  numerics::SparseLdlt matrix_;
  double k_ = 0.0, third_k_ = 0.0;
  std::vector<double> potential_, gain_, flow_, draw_slope_, squeeze_;
  /// A main's loss about the flow at which its law was last asked: good within `reach` of it.
  struct Near {
    double flow = 0.0, value = 0.0, slope = 0.0, bend = 0.0, reach = -1.0;
  };
  std::vector<Near> near_;
  std::vector<double> valve_flow_, source_flow_;
  std::vector<Way> ways_, factored_ways_;  ///< of sources, then of valves
  std::vector<char> held_;                 ///< per point: a source stands here
  Outside outside_;
  // Regulators that control: the unsymmetric part of the matrix, by Sherman, Morrison, Woodbury.
  std::vector<std::size_t> controlling_;
  std::vector<std::vector<double>> columns_;
  std::vector<double> small_;
};

}  // namespace bellhole::network
