#include "network/transient_step.hpp"

#include <algorithm>
#include <cmath>

namespace bellhole::network {

namespace esdirk = numerics::esdirk;

namespace {

constexpr int few_rounds = 8, most_rounds = 12;
constexpr double near_enough = 0.2;          // of the allowed error: what a stage may be off
constexpr double negligible = 0.1;           // of the allowed error: losses along a main
constexpr double slow = 0.3;                 // convergence: then new slopes
constexpr double forgets = 0.8;              // power of a convergence seen, from step to step
constexpr double fresh_convergence = 0.3;    // expected after a restart
constexpr double least_convergence = 0.01;   // believed
constexpr double looser_at_one_place = 5.0;  // the error is a mean over the points
constexpr double looser_between = 2.0;       // the ends of a step, where something is read
constexpr double error_when_overdrawn = 4.0;
constexpr double furthest_down = 0.3;  // of a pressure, in one round
/// Times the allowed error: where the first round of a step finds the pressures so far from where
/// they were expected, the step would be refused in the end. And what its error would be, roughly.
constexpr double hopeless = 150.0, error_by_surprise = 0.01;

}  // namespace

Stepper::Stepper(const Lumps& lumps, Parts& parts, Rates& rates, Beginning beginning,
                 double tolerance_share, double air_reduced_pa)
    : lumps_(lumps),
      parts_(parts),
      rates_(rates),
      pressure_(std::move(beginning.pressure)),
      flow_(std::move(beginning.flow)) {
  const std::size_t n = pressure_.size();
  constexpr double least_gauge = 1000.0;  // Pa: what a dead part is measured by
  mass_.resize(n);
  for (std::size_t i = 0; i < n; ++i) {
    const double gauge = std::max(pressure_[i] - air_reduced_pa, least_gauge);
    per_allowed_.push_back(1.0 / (tolerance_share * gauge));
    mass_[i] = lumps_.held(i, pressure_[i]).mass;
  }
  before_ = pressure_;
  least_read_.assign(n, HUGE_VAL);
  most_read_.assign(n, -HUGE_VAL);
  for (auto* column : {&slope_, &stage_slope_, &known_, &inflow_, &step_, &stage_mass_}) {
    column->resize(n);
  }
  for (auto& stage : stage_pressure_) stage.resize(n);
  for (auto& stage : stage_rate_) stage.resize(n);
  for (auto& stage : stage_flow_) stage.resize(rates_.flows().size());
  flow_inside_before_.resize(rates_.flows().size());
  for (std::size_t i = 0; i < n; ++i) step_[i] = negligible / per_allowed_[i];
  rates_.set_negligible(pressure_, step_);
}

void Stepper::reads(std::size_t row, double pressure) {
  least_read_[row] = std::min(least_read_[row], pressure);
  most_read_[row] = std::max(most_read_[row], pressure);
}

double Stepper::held() const {
  double sum = 0.0;
  for (std::size_t i = 0; i < pressure_.size(); ++i) sum += lumps_.held(i, pressure_[i]).mass;
  return sum;
}

void Stepper::restart(double seconds) {
  parts_.set_time(seconds);
  rates_.flows() = flow_;
  rates_.evaluate(pressure_, stage_rate_[0]);
  stage_outside_[0] = rates_.outside();
  stage_leak_[0] = rates_.leak_flow();
  for (std::size_t i = 0; i < slope_.size(); ++i) {
    slope_[i] = stage_rate_[0][i] / lumps_.held(i, pressure_[i]).slope;
  }
  last_h_ = 0.0;
  factored_per_step_ = 0.0;
  convergence_ = fresh_convergence;
}

/// Polynomials through what is known: the point and slope where the step begins, what came before,
/// and the stages so far.
void Stepper::predict_pressures(std::size_t stage, double h) {
  std::vector<double>& p = stage_pressure_[stage];
  const double c = esdirk::node[stage], c1 = esdirk::node[1], c2 = esdirk::node[2];
  const std::vector<double>&first = stage_pressure_[1], &second = stage_pressure_[2];
  if (last_h_ == 0.0) {  // a slope after a jump leads nowhere
    const double s = stage == 1 ? 0.0 : stage == 2 ? c / c1 : (c - c2) / (c1 - c2);
    const std::vector<double>& from = stage == 3 ? second : pressure_;
    const std::vector<double>& to = stage == 1 ? pressure_ : first;
    for (std::size_t i = 0; i < p.size(); ++i) p[i] = from[i] + s * (to[i] - from[i]);
  } else if (stage == 1) {
    const double back = last_h_ / h;
    for (std::size_t i = 0; i < p.size(); ++i) {
      const double y = pressure_[i], d = h * slope_[i];
      p[i] = y + c * (d + c * (before_[i] - y + back * d) / (back * back));
    }
  } else {
    const double weight2 = stage == 3 ? (c - c1) / ((c2 - c1) * c2 * c2) : 0.0;
    const double weight1 = (stage == 3 ? 1.0 - (c - c1) / (c2 - c1) : 1.0) / (c1 * c1);
    for (std::size_t i = 0; i < p.size(); ++i) {
      const double y = pressure_[i], d = h * slope_[i];
      const double bend = weight1 * (first[i] - y - c1 * d) + weight2 * (second[i] - y - c2 * d);
      p[i] = y + c * (d + c * bend);
    }
  }
  for (std::size_t i = 0; i < p.size(); ++i) p[i] = std::max(p[i], furthest_down * pressure_[i]);
}

/// The same for the flows, whose slopes are not known: through three points of them.
void Stepper::predict_flows(std::size_t stage, double h) {
  std::vector<double>& flow = rates_.flows();
  if (last_h_ == 0.0) {
    flow = stage == 1 ? flow_ : stage_flow_[stage - 1];
    return;
  }
  const double x = esdirk::node[stage];
  const double x0 = (esdirk::node[2] - 1.0) * last_h_ / h, x1 = 0.0;
  const auto weight = [&](double here, double one, double other) {
    return (x - one) * (x - other) / ((here - one) * (here - other));
  };
  const double c1 = esdirk::node[1], c2 = esdirk::node[2];
  if (stage == 1) {
    const double share = x / -x0;
    for (std::size_t s = 0; s < flow.size(); ++s) {
      flow[s] = flow_[s] + share * (flow_[s] - flow_inside_before_[s]);
    }
  } else if (stage == 2) {
    const double w0 = weight(x0, x1, c1), w1 = weight(x1, x0, c1), w2 = weight(c1, x0, x1);
    for (std::size_t s = 0; s < flow.size(); ++s) {
      flow[s] = w0 * flow_inside_before_[s] + w1 * flow_[s] + w2 * stage_flow_[1][s];
    }
  } else {
    const double w0 = weight(x1, c1, c2), w1 = weight(c1, x1, c2), w2 = weight(c2, x1, c1);
    for (std::size_t s = 0; s < flow.size(); ++s) {
      flow[s] = w0 * flow_[s] + w1 * stage_flow_[1][s] + w2 * stage_flow_[2][s];
    }
  }
}

Stepper::Stage Stepper::solve_stage(std::size_t stage, double seconds, double h) {
  const auto& row = esdirk::row[stage];
  for (std::size_t i = 0; i < known_.size(); ++i) {
    double rate = row[0] * stage_rate_[0][i];
    for (std::size_t j = 1; j < stage; ++j) rate += row[j] * stage_rate_[j][i];
    known_[i] = mass_[i] + h * rate;
  }
  parts_.set_time(seconds);
  may_despair_ = stage == 1 && last_h_ > 0.0 && may_refuse_;
  surprise_ = 0.0;
  if (solve_for(stage, 1.0 / (esdirk::gamma * h), h)) return Stage::solved;
  return surprise_ > hopeless ? Stage::hopeless : Stage::failed;
}

/// Euler's method (h = 0) begins where the step begins.
void Stepper::predict(std::size_t stage, double h) {
  if (h > 0.0) {
    predict_pressures(stage, h);
    predict_flows(stage, h);
  } else {
    stage_pressure_[stage] = pressure_;
    rates_.flows() = flow_;
  }
}

/// Newton's method for mass = known + inflow / per_step.
bool Stepper::solve_for(std::size_t stage, double per_step, double h) {
  const auto anew = [&] {
    predict(stage, h);
    factored_per_step_ = 0.0;
    convergence_ = fresh_convergence;
  };
  predict(stage, h);
  if (solve_by(Form::flows_unknown, stage, per_step)) return true;
  if (surprise_ > hopeless) return false;
  anew();
  if (solve_by(Form::flows_follow, stage, per_step)) return true;
  anew();
  const bool climbed = climb(stage_pressure_[stage], per_step);
  factored_per_step_ = 0.0;
  return climbed && (solve_by(Form::flows_unknown, stage, per_step) ||
                     solve_by(Form::flows_follow, stage, per_step));
}

bool Stepper::solve_by(Form form, std::size_t stage, double per_step) {
  std::vector<double>& p = stage_pressure_[stage];
  bool renew = factored_per_step_ != per_step;
  const int most = form == Form::flows_unknown ? few_rounds : most_rounds;
  double before = 0.0;
  for (int round = 0; round < most; ++round) {
    if (!rates_.round(form, p, known_, per_step, renew)) return false;
    ++counts_.solves;
    if (rates_.factored()) {
      ++counts_.factors;
      factored_per_step_ = per_step;
      if (round == 0) convergence_ = std::pow(convergence_, forgets);
    }
    const double size = go(p);
    if (!std::isfinite(size)) return false;
    if (round == 0 && may_despair_) {
      may_despair_ = false;
      surprise_ = size;
      if (size > hopeless) return false;
    }
    if (round > 0) convergence_ = std::max(size / before, least_convergence);
    if (convergence_ * size <= near_enough && rates_.ways_hold(p)) {
      end_stage(stage, per_step);
      return true;
    }
    renew = round > 0 && size > slow * before;
    before = size;
  }
  return false;
}

/// Moves the pressures; how far, as a multiple of what is allowed.
double Stepper::go(std::vector<double>& p) {
  const std::span<const double> moved = rates_.moved();
  for (std::size_t i = 0; i < p.size(); ++i) {
    p[i] = std::max(p[i] + moved[i], furthest_down * p[i]);
  }
  return norm(moved);
}

/// Mean over the rows, or a share of the worst of them.
double Stepper::norm(std::span<const double> pressures) const {
  double worst = 0.0, sum = 0.0;
  for (std::size_t i = 0; i < pressures.size(); ++i) {
    const double share = pressures[i] * per_allowed_[i];
    worst = std::max(worst, share * share);
    sum += share * share;
  }
  return std::sqrt(std::max(sum / static_cast<double>(pressures.size()),
                            worst / (looser_at_one_place * looser_at_one_place)));
}

void Stepper::end_stage(std::size_t stage, double per_step) {
  const std::span<const double> mass = rates_.mass();
  for (std::size_t i = 0; i < mass.size(); ++i) {
    stage_rate_[stage][i] = (mass[i] - known_[i]) * per_step;
  }
  if (stage == stages - 1) std::ranges::copy(mass, stage_mass_.begin());
  stage_outside_[stage] = rates_.outside();
  stage_leak_[stage] = rates_.leak_flow();
  std::swap(stage_flow_[stage], rates_.flows());
}

double Stepper::error() {
  std::array<double, stages> weight{};
  for (std::size_t j = 0; j < stages; ++j) {
    weight[j] = (esdirk::weight[j] - esdirk::weight_of_lower_order[j]) / esdirk::gamma;
  }
  for (std::size_t i = 0; i < step_.size(); ++i) {
    step_[i] = weight[0] * stage_rate_[0][i] + weight[1] * stage_rate_[1][i] +
               weight[2] * stage_rate_[2][i] + weight[3] * stage_rate_[3][i];
  }
  rates_.solve(step_);
  ++counts_.solves;
  return std::max({norm(step_), interpolation_error(), overdraws() ? error_when_overdrawn : 0.0});
}

double Stepper::first_bend() const {
  double first = HUGE_VAL;
  for (const Draw& draw : parts_.draws) {
    const std::size_t i = at(draw.unknown);
    const double above = rates_.potential(pressure_[i]) - draw.full_from;
    if (above < 0.0) return HUGE_VAL;
    const double falls = -slope_[i] * rates_.potential_slope(pressure_[i]);
    if (falls > 0.0) first = std::min(first, above / falls);
  }
  return first;
}

/// A step in which somebody overdraws his main was too long, though its error is allowed.
bool Stepper::overdraws() const {
  return std::ranges::any_of(parts_.draws, [&](const Draw& draw) {
    const std::size_t i = at(draw.unknown);
    return rates_.potential(pressure_[i]) >= draw.none_at &&
           Rates::overdrawn(draw, rates_.potential(stage_pressure_.back()[i]));
  });
}

/// Moments, dips and samples are read from the cubic between the ends of a step; the stage at 0.6
/// of it says how far that is off.
double Stepper::interpolation_error() const {
  constexpr std::size_t inner = 2;
  double worst = 0.0;
  for (std::size_t i = 0; i < pressure_.size(); ++i) {
    const double y0 = pressure_[i], y1 = stage_pressure_.back()[i];
    const bool falls_to = y0 >= least_read_[i] && y1 < most_read_[i];
    const bool dips = slope_[i] < 0.0 && stage_slope_[i] > 0.0 && y0 >= least_read_[i];
    if (!falls_to && !dips) continue;
    const double cubic =
        esdirk::between(esdirk::node[inner], tried_h_, y0, slope_[i], y1, stage_slope_[i]);
    worst = std::max(worst, std::abs(cubic - stage_pressure_[inner][i]) * per_allowed_[i]);
  }
  return worst / looser_between;
}

/// Where the implicit equations do not hold: kg/s that are missing at each row.
void Stepper::look(const std::vector<double>& p, double per_step) {
  rates_.evaluate_by_pressures(p, inflow_);
  for (std::size_t i = 0; i < p.size(); ++i) {
    step_[i] = inflow_[i] - (lumps_.held(i, p[i]).mass - known_[i]) * per_step;
  }
}

/// Newton's method with a search along each step. But for regulators that control, what is missing
/// is the slope of a concave function of the potentials, so the way is up along the step until it
/// no longer rises. For the first instant after something opened between a full tier and an empty
/// one.
bool Stepper::climb(std::vector<double>& p, double per_step) {
  constexpr int rounds = 80, halvings = 30;
  constexpr double flat = 0.2, least_share = 0.02;
  std::vector<double> way(p.size()), begin(p.size());
  for (int round = 0; round < rounds; ++round) {
    look(p, per_step);
    const std::vector<double> missing = step_;
    if (!rates_.round(Form::flows_follow, p, known_, per_step, true)) return false;
    ++counts_.factors, ++counts_.solves;
    double rises = 0.0;
    begin = p;
    for (std::size_t i = 0; i < p.size(); ++i) {
      way[i] = rates_.moved()[i] * rates_.potential_slope(p[i]);
      rises += missing[i] * way[i];
    }
    const auto go_to = [&](double share) {
      double slope = 0.0;
      for (std::size_t i = 0; i < p.size(); ++i) {
        const double from = rates_.potential(begin[i]);
        p[i] = rates_.pressure(std::max(from + share * way[i], least_share * from));
      }
      look(p, per_step);
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
      size = std::max(size, std::abs(p[i] - begin[i]) * per_allowed_[i]);
    }
    if (!std::isfinite(size)) return false;
    if (size <= 1.0) return true;
  }
  return false;
}

bool Stepper::settle(double seconds, double h) {
  may_despair_ = false;
  surprise_ = 0.0;
  known_ = mass_;
  parts_.set_time(seconds + h);
  factored_per_step_ = 0.0;
  const bool solved = solve_for(stages - 1, 1.0 / h, 0.0);
  factored_per_step_ = 0.0;
  if (!solved) return false;
  sum_up(h, std::array<double, stages>{0.0, 0.0, 0.0, 1.0});
  tried_h_ = 0.0;  // what comes next does not look back at this
  put_to_mass();
  return true;
}

/// What came and went in a step, by the weights of its stages.
void Stepper::sum_up(double h, std::span<const double> weights) {
  passed_ = {};
  passed_leaks_.assign(stage_leak_[0].size(), 0.0);
  for (std::size_t j = 0; j < stages; ++j) {
    const double weight = h * weights[j];
    if (weight == 0.0) continue;
    passed_.fed += weight * stage_outside_[j].fed;
    passed_.delivered += weight * stage_outside_[j].delivered;
    passed_.escaped += weight * stage_outside_[j].escaped;
    for (std::size_t k = 0; k < passed_leaks_.size(); ++k) {
      passed_leaks_[k] += weight * stage_leak_[j][k];
    }
  }
}

std::optional<double> Stepper::attempt(double seconds, double h, bool may_refuse) {
  may_refuse_ = may_refuse;
  for (std::size_t stage = 1; stage < stages; ++stage) {
    const Stage came = solve_stage(stage, seconds + esdirk::node[stage] * h, h);
    if (came == Stage::solved) continue;
    factored_per_step_ = 0.0;
    if (came == Stage::failed) return std::nullopt;
    return error_by_surprise * surprise_;
  }
  tried_h_ = h;
  sum_up(h, esdirk::weight);
  put_to_mass();
  return error();
}

/// The pressures of the last stage follow its masses to the last digits (but where that would move
/// them by more than Newton's tolerance: next to nothing in a place through which much flows).
void Stepper::put_to_mass() {
  std::vector<double>& p = stage_pressure_.back();
  for (std::size_t i = 0; i < p.size(); ++i) {
    const Lumps::Held held = lumps_.held(i, p[i]);
    const double off = (stage_mass_[i] - held.mass) / held.slope;
    if (std::abs(off) * per_allowed_[i] <= near_enough) p[i] += off;
    stage_slope_[i] = stage_rate_.back()[i] / held.slope;
  }
}

void Stepper::accept() {
  std::swap(before_, pressure_);
  std::swap(pressure_, stage_pressure_.back());
  std::swap(mass_, stage_mass_);
  std::swap(slope_, stage_slope_);
  std::swap(stage_rate_[0], stage_rate_.back());
  stage_outside_[0] = stage_outside_.back();
  stage_leak_[0] = stage_leak_.back();
  std::swap(flow_, stage_flow_.back());
  std::swap(flow_inside_before_, stage_flow_[2]);
  last_h_ = tried_h_;
  for (Draw& draw : parts_.draws) {
    const std::size_t i = at(draw.unknown);
    draw.off = rates_.potential(pressure_[i]) < draw.none_at &&
               rates_.potential(before_[i]) < draw.none_at;
  }
}

}  // namespace bellhole::network
