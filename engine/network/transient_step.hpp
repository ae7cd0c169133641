// One step of a course through time (numerics/esdirk.hpp): three implicit stages, each solved by
// Newton's method with a factor that is kept as long as it serves.
//
// The unknowns are reduced pressures; what is stepped is the mass at each point, so that gas is
// neither made nor lost: the rate of a stage is what its mass says, not what a flow law says of the
// last digits of a potential.
//
// Internal to network/.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "network/transient_rates.hpp"
#include "numerics/esdirk.hpp"

namespace bellhole::network {

class Stepper {
 public:
  struct Counts {
    int factors = 0, solves = 0;
  };

  Stepper(const Lumps& lumps, Rates& rates, std::vector<double> pressures, double tolerance_share,
          double air_reduced_pa);

  /// From here on something is otherwise: rates are looked at anew.
  void restart(double seconds);

  /// Tries one step of Euler's implicit method, which asks nothing of the rates at its beginning
  /// and leaves nothing of what they leap to: the first after a restart. False where Newton's
  /// method does not converge.
  bool settle(double seconds, double h);
  /// Tries a step of h from `seconds`. Nothing where Newton does not converge; else the error as a
  /// multiple of what is allowed.
  std::optional<double> attempt(double seconds, double h);
  /// Takes the step that was tried last.
  void accept();

  [[nodiscard]] const std::vector<double>& now() const { return pressure_; }
  [[nodiscard]] const std::vector<double>& tried() const { return stage_pressure_.back(); }
  /// Rates of pressure, Pa/s, at the beginning and the end of the step tried.
  [[nodiscard]] double slope_now(std::size_t i) const { return slope_[i]; }
  [[nodiscard]] double slope_tried(std::size_t i) const {
    return stage_rate_.back()[i] / stage_slope_[i];
  }
  [[nodiscard]] double inventory() const { return inventory_; }  ///< kg
  /// Fed and delivered in the step tried, kg.
  [[nodiscard]] const Outside& passed() const { return passed_; }
  [[nodiscard]] const Counts& counts() const { return counts_; }

 private:
  static constexpr std::size_t stages = numerics::esdirk::stages;

  void predict(std::size_t stage, double h);
  bool solve_stage(std::size_t stage, double seconds, double h);
  /// Flows as unknowns that are eliminated converge in a few rounds where the flow is smooth and
  /// where mains stand nearly still; flows that follow from the pressures find home where many
  /// mains turn round at once.
  enum class Form { flows_unknown, flows_follow };
  bool solve_for(std::size_t stage, double seconds, double per_step);
  bool solve_by(Form form, std::size_t stage, double seconds, double per_step);
  bool balance(std::size_t stage, double per_step, double may_lose);
  void look(const std::vector<double>& p, double seconds, double per_step);
  bool climb(std::vector<double>& p, double seconds, double per_step);
  [[nodiscard]] double error();
  [[nodiscard]] double interpolation_error() const;
  double hold(std::vector<double>& masses, const std::vector<double>& p);

  const Lumps& lumps_;
  Rates& rates_;
  std::vector<double> pressure_, before_, mass_, slope_, allowed_;
  double last_h_ = 0.0;  ///< 0: just restarted
  double tried_h_ = 0.0;
  double factored_per_step_ = 0.0;
  double inventory_ = 0.0, tried_inventory_ = 0.0;
  std::array<std::vector<double>, stages> stage_pressure_, stage_rate_;
  std::array<Outside, stages> stage_outside_;
  std::vector<double> predicted_, known_, inflow_, step_, stage_mass_, stage_slope_;
  double lost_ = 0.0,
         drift_ = 0.0;  ///< kg that the last stage, all stages so far do not account for
  Outside passed_;
  Counts counts_;
};

}  // namespace bellhole::network
