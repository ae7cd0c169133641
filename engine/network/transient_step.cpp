#include "network/transient_step.hpp"

#include <algorithm>
#include <cmath>

namespace bellhole::network {

namespace esdirk = numerics::esdirk;

namespace {

constexpr int few_rounds = 7, most_rounds = 12;
constexpr double near_enough = 0.02;  // of the allowed error: the last step of Newton's method
constexpr double same_step = 0.25;    // a factor serves for steps this share apart
constexpr double slow_rate = 0.3;     // of convergence: then a new factor
constexpr double lost_mass = 2e-12;   // of the inventory, a stage
constexpr double most_drift = 1e-10;  // of the inventory, all steps together: then closer
constexpr double lost_flow = 1e-10;   // of what passes in it: a source's last digits
constexpr double looser_at_one_place = 5.0;  // the error is a mean over the points
constexpr double looser_between = 4.0;       // times the allowed error
constexpr double furthest_down = 0.3;        // of a pressure, in one round

}  // namespace

Stepper::Stepper(const Lumps& lumps, Rates& rates, std::vector<double> pressures,
                 double tolerance_share, double air_reduced_pa)
    : lumps_(lumps), rates_(rates), pressure_(std::move(pressures)) {
  const std::size_t n = pressure_.size();
  constexpr double least_gauge = 1000.0;  // Pa: what a dead part is measured by
  for (double p : pressure_) {
    allowed_.push_back(tolerance_share * std::max(p - air_reduced_pa, least_gauge));
  }
  mass_.resize(n);
  slope_.resize(n);
  stage_slope_.resize(n);
  inventory_ = hold(mass_, pressure_);
  slope_ = stage_slope_;
  before_ = pressure_;
  for (auto& stage : stage_pressure_) stage.resize(n);
  for (auto& stage : stage_rate_) stage.resize(n);
  known_.resize(n);
  inflow_.resize(n);
  step_.resize(n);
  stage_mass_.resize(n);
}

/// Masses at pressures, and their slopes; the sum.
double Stepper::hold(std::vector<double>& masses, const std::vector<double>& p) {
  double sum = 0.0;
  for (std::size_t i = 0; i < p.size(); ++i) {
    const Lumps::Held held = lumps_.held(i, p[i]);
    masses[i] = held.mass;
    stage_slope_[i] = held.slope;
    sum += held.mass;
  }
  return sum;
}

void Stepper::restart(double seconds) {
  rates_.evaluate(seconds, pressure_, stage_rate_[0]);
  stage_outside_[0] = rates_.outside();
  hold(stage_mass_, pressure_);
  for (std::size_t i = 0; i < slope_.size(); ++i) slope_[i] = stage_rate_[0][i] / stage_slope_[i];
  last_h_ = 0.0;
  factored_per_step_ = 0.0;
}

/// Polynomials through what is known: the point and slope where the step begins, what came before,
/// and the stages so far.
void Stepper::predict(std::size_t stage, double h) {
  std::vector<double>& p = stage_pressure_[stage];
  const double c = esdirk::node[stage], c1 = esdirk::node[1], c2 = esdirk::node[2];
  for (std::size_t i = 0; i < p.size(); ++i) {
    const double y = pressure_[i], d = h * slope_[i];
    if (stage == 1) {
      if (last_h_ == 0.0) {
        p[i] = y;  // a slope after a jump leads nowhere
        continue;
      }
      const double back = last_h_ / h;
      const double bend = (before_[i] - y + back * d) / (back * back);
      p[i] = y + c * (d + c * bend);
    } else if (last_h_ == 0.0) {
      const double s = stage == 2 ? c / c1 : (c - c2) / (c1 - c2);
      p[i] = stage == 2
                 ? y + s * (stage_pressure_[1][i] - y)
                 : stage_pressure_[2][i] + s * (stage_pressure_[1][i] - stage_pressure_[2][i]);
    } else {
      const double bend1 = (stage_pressure_[1][i] - y - c1 * d) / (c1 * c1);
      double bend = bend1;
      if (stage == 3) {
        const double bend2 = (stage_pressure_[2][i] - y - c2 * d) / (c2 * c2);
        bend = bend1 + (bend2 - bend1) * (c - c1) / (c2 - c1);
      }
      p[i] = y + c * (d + c * bend);
    }
    p[i] = std::max(p[i], furthest_down * y);
  }
}

bool Stepper::solve_stage(std::size_t stage, double seconds, double h) {
  for (std::size_t i = 0; i < known_.size(); ++i) {
    double rate = 0.0;
    for (std::size_t j = 0; j < stage; ++j) rate += esdirk::row[stage][j] * stage_rate_[j][i];
    known_[i] = mass_[i] + h * rate;
  }
  return solve_for(stage, seconds, 1.0 / (esdirk::gamma * h));
}

/// The gas that the last round leaves unaccounted for is far below what any gauge shows, and is put
/// right by one shift of all pressures (but those that a source holds), by the secant method. True
/// when what is left may be lost.
bool Stepper::balance(std::size_t stage, double per_step, double may_lose) {
  constexpr int most = 4;
  std::vector<double>& p = stage_pressure_[stage];
  double per_pa = 0.0, known = 0.0, least = HUGE_VAL;
  for (std::size_t i = 0; i < p.size(); ++i) {
    known += known_[i];
    if (rates_.held_by_source(i)) continue;
    per_pa += stage_slope_[i];
    least = std::min(least, allowed_[i]);
  }
  for (int k = 0; k < most; ++k) {
    const double shift = -lost_ / per_pa;
    if (!(std::abs(shift) <= near_enough * least)) return false;
    for (std::size_t i = 0; i < p.size(); ++i) {
      if (!rates_.held_by_source(i)) p[i] += shift;
    }
    const double before = lost_;
    tried_inventory_ = hold(stage_mass_, p);
    stage_outside_[stage] = rates_.outside_at(p);
    const Outside& outside = stage_outside_[stage];
    lost_ = tried_inventory_ - known - (outside.fed - outside.delivered) / per_step;
    if (std::abs(lost_) <= may_lose) return true;
    per_pa = (lost_ - before) / shift;
    if (!(per_pa > 0.0)) return false;
  }
  return false;
}

/// Newton's method for mass = known + inflow / per_step.
bool Stepper::solve_for(std::size_t stage, double seconds, double per_step) {
  predicted_ = stage_pressure_[stage];
  if (solve_by(Form::flows_unknown, stage, seconds, per_step)) return true;
  stage_pressure_[stage] = predicted_;
  factored_per_step_ = 0.0;
  if (solve_by(Form::flows_follow, stage, seconds, per_step)) return true;
  stage_pressure_[stage] = predicted_;
  const bool climbed = climb(stage_pressure_[stage], seconds, per_step);
  factored_per_step_ = 0.0;
  return climbed && (solve_by(Form::flows_unknown, stage, seconds, per_step) ||
                     solve_by(Form::flows_follow, stage, seconds, per_step));
}

bool Stepper::solve_by(Form form, std::size_t stage, double seconds, double per_step) {
  std::vector<double>& p = stage_pressure_[stage];
  hold(stage_mass_, p);
  double before = 0.0;
  bool renew = std::abs(factored_per_step_ / per_step - 1.0) > same_step;
  const int most = form == Form::flows_unknown ? few_rounds : most_rounds;
  for (int round = 0; round < most; ++round) {
    if (form == Form::flows_unknown) {
      rates_.linearise(seconds, p, inflow_);
    } else {
      rates_.evaluate(seconds, p, inflow_);
    }
    for (std::size_t i = 0; i < p.size(); ++i) {
      step_[i] = inflow_[i] - (stage_mass_[i] - known_[i]) * per_step;
    }
    if (renew || rates_.other_ways()) {
      ++counts_.factors;
      factored_per_step_ = per_step;
      if (!rates_.factor(p, per_step)) return false;
      renew = false;
    }
    if (form == Form::flows_unknown) {
      rates_.solve_step(p, step_);
    } else {
      rates_.solve(p, step_);
    }
    ++counts_.solves;
    double size = 0.0;
    for (std::size_t i = 0; i < p.size(); ++i) {
      size = std::max(size, std::abs(step_[i]) / allowed_[i]);
      p[i] = std::max(p[i] + step_[i], furthest_down * p[i]);
    }
    if (!std::isfinite(size)) return false;
    const double sum = hold(stage_mass_, p);
    const Outside outside = rates_.outside_at(p);
    double known = 0.0;
    for (double mass : known_) known += mass;
    const double lost = sum - known - (outside.fed - outside.delivered) / per_step;
    const bool drifts = std::abs(drift_) > most_drift * inventory_;
    const double may_lose = (drifts ? 0.1 : 1.0) * lost_mass * inventory_ +
                            lost_flow * (outside.fed + outside.delivered) / per_step;
    stage_outside_[stage] = outside;
    tried_inventory_ = sum;
    lost_ = lost;
    if (size <= near_enough && (std::abs(lost) <= may_lose || balance(stage, per_step, may_lose))) {
      for (std::size_t i = 0; i < p.size(); ++i) {
        stage_rate_[stage][i] = (stage_mass_[i] - known_[i]) * per_step;
      }
      return true;
    }
    if (round > 0 && size > slow_rate * before) renew = true;
    before = size;
  }
  return false;
}

double Stepper::error() {
  for (std::size_t i = 0; i < step_.size(); ++i) {
    double rate = 0.0;
    for (std::size_t j = 0; j < stages; ++j) {
      rate += (esdirk::weight[j] - esdirk::weight_of_lower_order[j]) * stage_rate_[j][i];
    }
    step_[i] = rate / esdirk::gamma;
  }
  rates_.solve(stage_pressure_.back(), step_);
  ++counts_.solves;
  double worst = 0.0, sum = 0.0;
  for (std::size_t i = 0; i < step_.size(); ++i) {
    const double share = step_[i] / allowed_[i];
    worst = std::max(worst, std::abs(share));
    sum += share * share;
  }
  const double mean = std::sqrt(sum / static_cast<double>(step_.size()));
  return std::max({mean, worst / looser_at_one_place, interpolation_error()});
}

/// Moments are found on the cubic between the ends of a step; the stage at 0.6 of it says how far
/// that is off.
double Stepper::interpolation_error() const {
  constexpr std::size_t inner = 2;
  double worst = 0.0;
  for (std::size_t i = 0; i < pressure_.size(); ++i) {
    const double cubic = esdirk::between(esdirk::node[inner], tried_h_, pressure_[i], slope_[i],
                                         stage_pressure_.back()[i], slope_tried(i));
    worst = std::max(worst, std::abs(cubic - stage_pressure_[inner][i]) / allowed_[i]);
  }
  return worst / looser_between;
}

/// Where the implicit equations do not hold: kg/s that are missing at each point.
void Stepper::look(const std::vector<double>& p, double seconds, double per_step) {
  rates_.evaluate(seconds, p, inflow_);
  hold(stage_mass_, p);
  for (std::size_t i = 0; i < p.size(); ++i) {
    step_[i] = inflow_[i] - (stage_mass_[i] - known_[i]) * per_step;
  }
}

/// Newton's method with a search along each step. But for regulators that control, what is missing
/// is the slope of a concave function of the potentials, so the way is up along the step until it
/// no longer rises. For the first instant after something opened between a full tier and an empty
/// one.
bool Stepper::climb(std::vector<double>& p, double seconds, double per_step) {
  constexpr int rounds = 80, halvings = 30;
  constexpr double flat = 0.2, least_share = 0.02;
  std::vector<double> way(p.size()), begin(p.size());
  for (int round = 0; round < rounds; ++round) {
    look(p, seconds, per_step);
    ++counts_.factors;
    if (!rates_.factor(p, per_step)) return false;
    std::vector<double> missing = step_;
    rates_.solve(p, step_);
    ++counts_.solves;
    double rises = 0.0;
    begin = p;
    for (std::size_t i = 0; i < p.size(); ++i) {
      way[i] = step_[i] * rates_.potential_slope(p[i]);
      rises += missing[i] * way[i];
    }
    const auto go_to = [&](double share) {
      double slope = 0.0;
      for (std::size_t i = 0; i < p.size(); ++i) {
        const double from = rates_.potential(begin[i]);
        p[i] = rates_.pressure(std::max(from + share * way[i], least_share * from));
      }
      look(p, seconds, per_step);
      for (std::size_t i = 0; i < p.size(); ++i) slope += step_[i] * way[i];
      return slope;
    };
    double low = 0.0, high = 1.0, slope = go_to(1.0);
    for (int k = 0; k < halvings && std::abs(slope) > flat * rises && (slope < 0.0 || high < 1.0);
         ++k) {
      const double share = 0.5 * (low + high);
      slope = go_to(share);
      (slope < 0.0 ? high : low) = share;
    }
    double size = 0.0;
    for (std::size_t i = 0; i < p.size(); ++i) {
      size = std::max(size, std::abs(p[i] - begin[i]) / allowed_[i]);
    }
    if (!std::isfinite(size)) return false;
    if (size <= 1.0) return true;
  }
  return false;
}

bool Stepper::settle(double seconds, double h) {
  known_ = mass_;
  stage_pressure_.back() = pressure_;
  factored_per_step_ = 0.0;
  const bool solved = solve_for(stages - 1, seconds + h, 1.0 / h);
  factored_per_step_ = 0.0;
  passed_ = {h * stage_outside_.back().fed, h * stage_outside_.back().delivered};
  tried_h_ = 0.0;  // what comes next does not look back at this
  return solved;
}

std::optional<double> Stepper::attempt(double seconds, double h) {
  for (std::size_t stage = 1; stage < stages; ++stage) {
    predict(stage, h);
    if (!solve_stage(stage, seconds + esdirk::node[stage] * h, h)) {
      factored_per_step_ = 0.0;
      rates_.evaluate(seconds, pressure_, inflow_);  // flows as they were
      return std::nullopt;
    }
  }
  tried_h_ = h;
  passed_ = {};
  for (std::size_t j = 0; j < stages; ++j) {
    passed_.fed += h * esdirk::weight[j] * stage_outside_[j].fed;
    passed_.delivered += h * esdirk::weight[j] * stage_outside_[j].delivered;
  }
  return error();
}

void Stepper::accept() {
  std::swap(before_, pressure_);
  pressure_ = stage_pressure_.back();
  mass_ = stage_mass_;
  inventory_ = tried_inventory_;
  for (std::size_t i = 0; i < slope_.size(); ++i) slope_[i] = slope_tried(i);
  stage_rate_[0] = stage_rate_.back();
  stage_outside_[0] = stage_outside_.back();
  last_h_ = tried_h_;
  drift_ += lost_;
}

}  // namespace bellhole::network
