// One step of a course through time (numerics/esdirk.hpp): three implicit stages, each solved by
// Newton's method. The slopes are taken and factored once, in the first stage, and serve for the
// others and for the error as long as that converges.
//
// The unknowns are reduced pressures; what is stepped is the mass at each row, by flows that leave
// one row and enter another, so that gas is neither made nor lost, however near Newton's method
// comes. What a stage's pressures miss of its mass is below its tolerance, and at the end of a step
// they are put to it.
//
// Internal to network/.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "network/transient_rates.hpp"
#include "numerics/esdirk.hpp"

namespace bellhole::network {

/// Reduced pressures by row, flows by run, where a course begins.
struct Beginning {
  std::vector<double> pressure, flow;
};

class Stepper {
 public:
  struct Counts {
    int factors = 0, solves = 0;
  };

  Stepper(const Lumps& lumps, Parts& parts, Rates& rates, Beginning beginning,
          double tolerance_share, double air_reduced_pa);

  /// The moment at which a row falls to this reduced pressure is wanted.
  void reads(std::size_t row, double pressure);

  /// From here on something is otherwise: rates are looked at anew.
  void restart(double seconds);

  /// Tries one step of Euler's implicit method, which asks nothing of the rates at its beginning
  /// and leaves nothing of what they leap to: the first after a restart. False where Newton's
  /// method does not converge.
  bool settle(double seconds, double h);
  /// Tries a step of h from `seconds`. Nothing where Newton does not converge; else the error as a
  /// multiple of what is allowed.
  std::optional<double> attempt(double seconds, double h, bool may_refuse);
  /// While everybody draws in full: s until somebody will not, as pressures fall now. Beyond it
  /// nothing is as smooth as it was.
  [[nodiscard]] double first_bend() const;
  /// Takes the step that was tried last.
  void accept();

  [[nodiscard]] const std::vector<double>& now() const { return pressure_; }
  [[nodiscard]] const std::vector<double>& tried() const { return stage_pressure_.back(); }
  /// Rates of pressure, Pa/s, at the beginning and the end of the step tried.
  [[nodiscard]] double slope_now(std::size_t i) const { return slope_[i]; }
  [[nodiscard]] double slope_tried(std::size_t i) const { return stage_slope_[i]; }
  [[nodiscard]] double held() const;  ///< kg, by the pressures
  /// Fed, delivered and escaped in the step tried, kg; and by each way out.
  [[nodiscard]] const Outside& passed() const { return passed_; }
  [[nodiscard]] const std::vector<double>& passed_leaks() const { return passed_leaks_; }
  /// What leaves each way out at the beginning and the end of the step tried, kg/s.
  [[nodiscard]] const std::vector<double>& leaks_now() const { return stage_leak_[0]; }
  [[nodiscard]] const std::vector<double>& leaks_tried() const { return stage_leak_.back(); }
  [[nodiscard]] const Counts& counts() const { return counts_; }

 private:
  static constexpr std::size_t stages = numerics::esdirk::stages;
  using Columns = std::array<std::vector<double>, stages>;

  void predict_pressures(std::size_t stage, double h);
  void predict_flows(std::size_t stage, double h);
  enum class Stage { solved, hopeless, failed };
  Stage solve_stage(std::size_t stage, double seconds, double h);
  void predict(std::size_t stage, double h);
  bool solve_for(std::size_t stage, double per_step, double h);
  bool solve_by(Form form, std::size_t stage, double per_step);
  double go(std::vector<double>& p);
  void end_stage(std::size_t stage, double per_step);
  void look(const std::vector<double>& p, double per_step);
  bool climb(std::vector<double>& p, double per_step);
  [[nodiscard]] double norm(std::span<const double> pressures) const;
  [[nodiscard]] double error();
  [[nodiscard]] double interpolation_error() const;
  [[nodiscard]] bool overdraws() const;
  void sum_up(double h, std::span<const double> weights);
  void put_to_mass();

  const Lumps& lumps_;
  Parts& parts_;
  Rates& rates_;
  std::vector<double> pressure_, before_, mass_, slope_, per_allowed_;
  std::vector<double> flow_, flow_inside_before_;  ///< now, and at the third stage of the last step
  std::vector<double> least_read_, most_read_;
  double last_h_ = 0.0;  ///< 0: just restarted
  double tried_h_ = 0.0;
  double factored_per_step_ = 0.0;
  double convergence_ = 1.0;
  bool may_refuse_ = true, may_despair_ = false;
  double surprise_ = 0.0;  ///< size of the first round of a step
  Columns stage_pressure_, stage_rate_, stage_flow_, stage_leak_;
  std::array<Outside, stages> stage_outside_;
  std::vector<double> known_, inflow_, step_, stage_mass_, stage_slope_;
  Outside passed_;
  std::vector<double> passed_leaks_;
  Counts counts_;
};

}  // namespace bellhole::network
