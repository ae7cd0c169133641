#include "network/balance.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "numerics/dense.hpp"

namespace bellhole::network {
namespace {

constexpr double source_gives = 1e-9;      // of the potential, at the whole flow
constexpr double regulator_gives = 1e-7;
constexpr double flow_tolerance = 1e-10;   // of the whole flow
constexpr double pressure_tolerance_pa = 1e-5;
constexpr double guess_reynolds = 12000.0;
/// Wide open, a regulator's loss has this share linear in the flow, so that one without flow has a slope.
constexpr double linear_share = 1e-4;
/// Ties every unknown to the ground in the matrix alone (never in the balance), so that a part whose only
/// regulator stands closed still has a step.
constexpr double ground = 1e-10;
constexpr int most_reversals = 3;

}  // namespace

Balance::Balance(const Model::Prepared& prepared, const Skeleton& skeleton, const Case& laid,
                 Delivery delivery)
    : prepared_(prepared),
      skeleton_(skeleton),
      laid_(laid),
      delivery_(delivery),
      loads_(fold_loads(skeleton, laid)),
      matrix_(skeleton.pattern) {
  live_.resize(skeleton.size());
  for (std::size_t i = 0; i < skeleton.size(); ++i) live_[i] = laid.live[at(skeleton.point[i])];
  add_sources();
  add_valves();
  if (delivery == Delivery::falls_off) add_draws();
  potential_.assign(skeleton.size(), level_);
  flow_.assign(skeleton.chains(), 0.0);
  gain_.assign(skeleton.chains(), 0.0);
  excess_.assign(skeleton.chains(), 0.0);
  mass_.assign(skeleton.size(), 0.0);
  draw_slope_.assign(skeleton.size(), 0.0);
  step_.assign(skeleton.size(), 0.0);
}

void Balance::add_sources() {
  const auto& sources = prepared_.network->sources;
  for (std::size_t s = 0; s < sources.size(); ++s) {
    if (laid_.source_shut[s] != 0) continue;
    const Index node = sources.node[s];
    SourceItem item{.index = s, .node = skeleton_.core[at(node)]};
    item.rest = laid_.altitude.reduced(sources.pressure[s].si(), prepared_.points.height[at(node)]);
    item.stiffness = laid_.scale / (source_gives * item.rest);
    const double capacity = sources.capacity[s].si() * prepared_.kg_per_std_m3;
    item.capacity = std::isnan(capacity) ? std::numeric_limits<double>::infinity() : capacity;
    item.soft = std::max(0.01 * capacity, 1e-6 * laid_.scale) / item.rest;
    level_ = std::max(level_, item.rest);
    sources_.push_back(item);
  }
}

void Balance::add_valves() {
  const auto& regulators = prepared_.network->regulators;
  for (std::size_t r = 0; r < regulators.size(); ++r) {
    const Index inlet = regulators.inlet[r], outlet = regulators.outlet[r];
    if (laid_.regulator_shut[r] != 0 || laid_.live[at(inlet)] == 0) continue;
    const Index tap = prepared_.points.of_tap[r];
    const double height = prepared_.points.height[at(tap)];
    ValveItem item{.index = r};
    item.inlet = skeleton_.core[at(inlet)];
    item.outlet = skeleton_.core[at(outlet)];
    item.felt = laid_.live[at(tap)] != 0 ? skeleton_.core[at(tap)] : none;
    item.dead = laid_.altitude.reduced(0.0, height);
    item.rest = laid_.altitude.reduced(regulators.set_point[r].si(), height);
    item.stiffness = laid_.scale / (regulator_gives * item.rest);
    item.parted = laid_.tap_parted[r] != 0;
    item.may_reverse = regulators.blocks_reverse[r] != Ternary::yes;
    const double capacity = regulators.capacity[r].si() * prepared_.kg_per_std_m3;
    if (capacity > 0.0) {
      const double least = regulators.least_inlet[r].si();
      const double design = std::isnan(least) ? prepared_.supply[r] : least;
      const double from = laid_.altitude.reduced(design, prepared_.points.height[at(inlet)]);
      const double loss = std::max(from - item.rest, 0.01 * item.rest);
      item.square = (1.0 - linear_share) * loss / (capacity * capacity);
      item.linear = linear_share * loss / capacity;
    } else {
      item.linear = 1e-8 * item.rest / laid_.scale;
    }
    valves_.push_back(item);
  }
}

void Balance::add_draws() {
  const auto& customers = prepared_.network->customers;
  for (std::size_t c = 0; c < customers.size(); ++c) {
    const Index point = prepared_.points.of_customer[c];
    if (laid_.live[at(point)] == 0 || laid_.wanted[c] <= 0.0) continue;
    const double height = prepared_.points.height[at(point)];
    draws_.push_back({.unknown = skeleton_.core[at(point)],
                      .customer = c,
                      .full = laid_.wanted[c],
                      .least = laid_.least[c],
                      .height = height,
                      .full_from = laid_.altitude.reduced(laid_.least[c], height)});
  }
}

/// Full from the least pressure up, 1 - (1 - x)^2 below it with x = pressure / least, so that it leaves the full
/// load without a kink. Under no pressure it runs on with the slope it has there: no state lies there, but a
/// step may.
Balance::Taken Balance::taken(const Draw& draw, double potential) const {
  if (potential >= draw.full_from) return {draw.full, 0.0};
  const double x = laid_.altitude.gauge(potential, draw.height) / draw.least;
  const double per = laid_.altitude.gauge_slope(potential, draw.height) / draw.least * draw.full;
  if (x >= 1.0) return {draw.full, 0.0};
  if (x <= 0.0) return {2.0 * x * draw.full, 2.0 * per};
  return {x * (2.0 - x) * draw.full, 2.0 * (1.0 - x) * per};
}

double Balance::felt(const ValveItem& valve) const {
  return valve.felt == none ? valve.dead : potential_[at(valve.felt)];
}
double Balance::fall(const ValveItem& valve) const {
  return potential_[at(valve.inlet)] - potential_[at(valve.outlet)];
}

namespace {
double wide_open_loss(double square, double linear, double flow) {
  return square * flow * std::abs(flow) + linear * flow;
}
/// Its inverse.
double wide_open_flow(double square, double linear, double loss) {
  const double size = std::abs(loss);
  const double flow = 2.0 * size / (linear + std::sqrt(linear * linear + 4.0 * square * size));
  return loss < 0.0 ? -flow : flow;
}
}  // namespace

void Balance::start_from(const Settled& settled) {
  for (std::size_t i = 0; i < skeleton_.size(); ++i) {
    const double known = settled.potential[at(skeleton_.point[i])];
    if (!std::isnan(known)) potential_[i] = known;
  }
  for (std::size_t c = 0; c < skeleton_.chains(); ++c) {
    const Index segment = skeleton_.link_segment[at(skeleton_.first[c])];
    const bool along = prepared_.points.a[at(segment)] == skeleton_.point[at(skeleton_.a[c])];
    flow_[c] = along ? settled.flow[at(segment)] : -settled.flow[at(segment)];
  }
  for (SourceItem& source : sources_) {
    source.flow = settled.source_flow[source.index];
    source.mode = static_cast<SourceMode>(settled.source_mode[source.index]);
  }
  for (ValveItem& valve : valves_) {
    valve.flow = settled.regulator_flow[valve.index];
    valve.mode = static_cast<ValveMode>(settled.regulator_mode[valve.index]);
    if (valve.parted && valve.mode == ValveMode::controls) valve.mode = ValveMode::wide_open;
  }
  started_ = true;
}

/// Every chain a linear resistance, as it would be at a Reynolds number usual in mains.
void Balance::linear_guess() {
  for (ValveItem& valve : valves_) {
    if (valve.parted) valve.mode = ValveMode::wide_open;
  }
  for (std::size_t c = 0; c < skeleton_.chains(); ++c) {
    if (loads_.active[c] == 0) continue;
    double resistance = 0.0, loss = 0.0;
    for (Index k = skeleton_.first[c]; k < skeleton_.first[c + 1]; ++k) {
      const Index segment = skeleton_.link_segment[at(k)];
      const auto& law = prepared_.law[at(prepared_.points.pipe[at(segment)])];
      const double usual = guess_reynolds / law.reynolds(1.0);
      const double linear = prepared_.loss(segment, usual).value / usual;
      resistance += linear;
      loss -= linear * loads_.passed[at(k)];
    }
    gain_[c] = 1.0 / resistance;
    excess_[c] = loss - (potential_[at(skeleton_.a[c])] - potential_[at(skeleton_.b[c])]);
  }
  evaluate_mass();
}

void Balance::evaluate_chains() {
  worst_loss_ = 0.0;
  for (std::size_t c = 0; c < skeleton_.chains(); ++c) {
    if (loads_.active[c] == 0) continue;
    double loss = 0.0, slope = 0.0;
    for (Index k = skeleton_.first[c]; k < skeleton_.first[c + 1]; ++k) {
      const gas::Loss link =
          prepared_.loss(skeleton_.link_segment[at(k)], flow_[c] - loads_.passed[at(k)]);
      loss += link.value;
      slope += link.slope;
    }
    gain_[c] = 1.0 / slope;
    excess_[c] = loss - (potential_[at(skeleton_.a[c])] - potential_[at(skeleton_.b[c])]);
    worst_loss_ = std::max(worst_loss_, std::abs(excess_[c]));
  }
}

void Balance::evaluate_mass() {
  const bool full = delivery_ == Delivery::full;
  for (std::size_t i = 0; i < mass_.size(); ++i) {
    mass_[i] = full && live_[i] != 0 ? loads_.core[i] : 0.0;
    draw_slope_[i] = 0.0;
  }
  for (std::size_t c = 0; c < skeleton_.chains(); ++c) {
    if (loads_.active[c] == 0) continue;
    mass_[at(skeleton_.a[c])] += flow_[c];
    mass_[at(skeleton_.b[c])] -= flow_[c] - (full ? loads_.drawn[c] : 0.0);
  }
  for (const SourceItem& source : sources_) mass_[at(source.node)] -= source.flow;
  for (const ValveItem& valve : valves_) {
    mass_[at(valve.inlet)] += valve.flow;
    mass_[at(valve.outlet)] -= valve.flow;
  }
  for (const Draw& draw : draws_) {
    const Taken now = taken(draw, potential_[at(draw.unknown)]);
    mass_[at(draw.unknown)] += now.flow;
    draw_slope_[at(draw.unknown)] += now.slope;
  }
  worst_mass_ = 0.0;
  for (double mass : mass_) worst_mass_ = std::max(worst_mass_, std::abs(mass));
}

void Balance::evaluate() {
  evaluate_chains();
  evaluate_mass();
}

void Balance::assemble() {
  auto values = matrix_.values();
  std::fill(values.begin(), values.end(), 0.0);
  const auto& pattern = matrix_.pattern();
  const auto diagonal = [&](Index i) -> double& { return values[at(pattern.diagonal(i))]; };
  const double tie = ground * laid_.scale / level_;
  for (std::size_t i = 0; i < step_.size(); ++i) {
    diagonal(static_cast<Index>(i)) = live_[i] != 0 ? draw_slope_[i] + tie : 1.0;
    step_[i] = -mass_[i];
  }
  const auto join = [&](std::size_t entry, Index a, Index b, double gain, double excess) {
    step_[at(a)] += gain * excess;
    step_[at(b)] -= gain * excess;
    if (a == b) return;
    diagonal(a) += gain;
    diagonal(b) += gain;
    values[at(pattern.slot(entry))] -= gain;
  };
  for (std::size_t c = 0; c < skeleton_.chains(); ++c) {
    if (loads_.active[c] != 0) join(c, skeleton_.a[c], skeleton_.b[c], gain_[c], excess_[c]);
  }
  for (const SourceItem& source : sources_) {
    if (source.mode == SourceMode::idle) {
      diagonal(source.node) += flow_tolerance * source.stiffness;
      continue;
    }
    const bool feeds = source.mode == SourceMode::feeds;
    const double stiffness = feeds ? source.stiffness : source.soft;
    const double beyond = source.flow - (feeds ? 0.0 : source.capacity);
    diagonal(source.node) += stiffness;
    step_[at(source.node)] -= beyond - stiffness * (source.rest - potential_[at(source.node)]);
  }
  for (const ValveItem& valve : valves_) {
    if (valve.mode == ValveMode::wide_open) {
      const double gain = 1.0 / (2.0 * valve.square * std::abs(valve.flow) + valve.linear);
      const double excess = wide_open_loss(valve.square, valve.linear, valve.flow) - fall(valve);
      join(skeleton_.chains() + valve.index, valve.inlet, valve.outlet, gain, excess);
    } else if (valve.mode == ValveMode::controls) {
      // The inlet's share of the column of `felt` is not symmetric: correct_for_control() adds it.
      const double excess = valve.flow - valve.stiffness * (valve.rest - felt(valve));
      diagonal(valve.felt) += valve.stiffness;
      step_[at(valve.outlet)] -= excess;
      step_[at(valve.inlet)] += excess;
    } else {
      diagonal(valve.outlet) += flow_tolerance * valve.stiffness;
    }
  }
}

/// The matrix is J = A + sum over controlling regulators of w e_felt^T, with A symmetric (it has the stiffness on
/// the diagonal of the point felt) and w = stiffness (e_outlet - e_inlet - e_felt): Sherman, Morrison, Woodbury.
bool Balance::correct_for_control() {
  std::vector<const ValveItem*> controls;
  for (const ValveItem& valve : valves_) {
    if (valve.mode == ValveMode::controls) controls.push_back(&valve);
  }
  const std::size_t m = controls.size();
  if (m == 0) return true;
  std::vector<std::vector<double>> columns(m, std::vector<double>(step_.size(), 0.0));
  for (std::size_t j = 0; j < m; ++j) {
    const ValveItem& valve = *controls[j];
    columns[j][at(valve.inlet)] -= valve.stiffness;
    columns[j][at(valve.outlet)] += valve.stiffness;
    columns[j][at(valve.felt)] -= valve.stiffness;
    matrix_.solve(columns[j]);
  }
  std::vector<double> small(m * m), share(m);
  for (std::size_t i = 0; i < m; ++i) {
    const std::size_t row = at(controls[i]->felt);
    for (std::size_t j = 0; j < m; ++j) small[i * m + j] = columns[j][row] + (i == j ? 1.0 : 0.0);
    share[i] = step_[row];
  }
  if (!numerics::solve_dense(small, share)) return false;
  for (std::size_t j = 0; j < m; ++j) {
    for (std::size_t i = 0; i < step_.size(); ++i) step_[i] -= share[j] * columns[j][i];
  }
  return true;
}

bool Balance::take_step() {
  assemble();
  if (!matrix_.factor()) return false;
  matrix_.solve(step_);
  if (!correct_for_control()) return false;
  apply();
  return true;
}

void Balance::apply() {
  for (std::size_t c = 0; c < skeleton_.chains(); ++c) {
    if (loads_.active[c] == 0) continue;
    flow_[c] += gain_[c] * (step_[at(skeleton_.a[c])] - step_[at(skeleton_.b[c])] - excess_[c]);
  }
  // From the potential before the step and the step, not from their sum: the sum's last digits, times a stiff
  // spring, would be missing from the mass balance.
  const auto spring = [&](double stiffness, double rest, Index felt) {
    return stiffness * (rest - potential_[at(felt)]) - stiffness * step_[at(felt)];
  };
  for (SourceItem& source : sources_) {
    if (source.mode == SourceMode::feeds) {
      source.flow = spring(source.stiffness, source.rest, source.node);
    } else if (source.mode == SourceMode::at_capacity) {
      source.flow = source.capacity + spring(source.soft, source.rest, source.node);
    }
  }
  for (ValveItem& valve : valves_) {
    if (valve.mode == ValveMode::wide_open) {
      const double gain = 1.0 / (2.0 * valve.square * std::abs(valve.flow) + valve.linear);
      const double excess = wide_open_loss(valve.square, valve.linear, valve.flow) - fall(valve);
      valve.flow += gain * (step_[at(valve.inlet)] - step_[at(valve.outlet)] - excess);
    } else if (valve.mode == ValveMode::controls) {
      valve.flow = spring(valve.stiffness, valve.rest, valve.felt);
    }
  }
  for (std::size_t i = 0; i < step_.size(); ++i) potential_[i] += step_[i];
}

bool Balance::change(SourceItem& source) const {
  const double tolerance = flow_tolerance * laid_.scale;
  const double calls = source.stiffness * (source.rest - potential_[at(source.node)]);
  const SourceMode before = source.mode;
  switch (before) {
    case SourceMode::feeds:
      if (source.flow < -tolerance) {
        source.mode = SourceMode::idle;
        source.flow = 0.0;
      } else if (source.flow > source.capacity + tolerance) {
        source.mode = SourceMode::at_capacity;
      }
      break;
    case SourceMode::at_capacity:
      if (calls < 0.0) source.mode = SourceMode::feeds;
      break;
    case SourceMode::idle:
      if (calls > tolerance) source.mode = SourceMode::feeds;
      break;
  }
  return source.mode != before;
}

void Balance::close(ValveItem& valve) const {
  if (valve.flow < 0.0 && ++valve.reversals >= most_reversals) valve.may_reverse = false;
  valve.mode = ValveMode::closed;
  valve.flow = 0.0;
}

void Balance::open_wide(ValveItem& valve) const {
  valve.mode = ValveMode::wide_open;
  valve.flow = wide_open_flow(valve.square, valve.linear, fall(valve));
  if (valve.flow < 0.0 && !valve.may_reverse) close(valve);
}

bool Balance::change(ValveItem& valve) const {
  const double tolerance = flow_tolerance * laid_.scale;
  const double calls = valve.stiffness * (valve.rest - felt(valve));
  const ValveMode before = valve.mode;
  switch (before) {
    case ValveMode::controls:
      if (valve.flow < -tolerance) {
        close(valve);
      } else if (wide_open_loss(valve.square, valve.linear, valve.flow) >
                 fall(valve) + regulator_gives * valve.rest) {
        open_wide(valve);
      }
      break;
    case ValveMode::wide_open:
      if (calls < -tolerance) {
        if (valve.flow > 0.0 && !valve.parted) {
          valve.mode = ValveMode::controls;
        } else {
          close(valve);
        }
      } else if (valve.flow < -tolerance && !valve.may_reverse) {
        close(valve);
      }
      break;
    case ValveMode::closed:
      if (calls <= tolerance) break;
      if (fall(valve) > 0.0 && !valve.parted) {
        valve.mode = ValveMode::controls;
      } else if (fall(valve) > 0.0 || valve.may_reverse) {
        open_wide(valve);
      }
      break;
  }
  return valve.mode != before;
}

bool Balance::change_modes() {
  bool changed = false;
  for (SourceItem& source : sources_) changed = change(source) || changed;
  for (ValveItem& valve : valves_) changed = change(valve) || changed;
  return changed;
}

bool Balance::run(int most) {
  if (!started_) {
    linear_guess();
    if (!take_step()) return false;
  }
  const double pressure = prepared_.gas.pressure(level_);
  for (iterations_ = 1; iterations_ <= most; ++iterations_) {
    const bool changed = change_modes();
    evaluate();
    const bool small = worst_mass_ <= flow_tolerance * laid_.scale &&
                       worst_loss_ <= pressure_tolerance_pa * pressure;
    if (small && !changed && springs_agree()) return true;
    if (!take_step()) return false;
  }
  return false;
}

bool Balance::springs_agree() const {
  const double apart = pressure_tolerance_pa * prepared_.gas.pressure(level_);
  for (const SourceItem& source : sources_) {
    if (source.mode != SourceMode::feeds) continue;
    const double rest = source.rest - source.flow / source.stiffness;
    if (std::abs(rest - potential_[at(source.node)]) > apart) return false;
  }
  for (const ValveItem& valve : valves_) {
    const double off = valve.mode == ValveMode::controls
                           ? valve.rest - valve.flow / valve.stiffness - felt(valve)
                       : valve.mode == ValveMode::wide_open
                           ? wide_open_loss(valve.square, valve.linear, valve.flow) - fall(valve)
                           : 0.0;
    if (std::abs(off) > apart) return false;
  }
  return true;
}

Settled Balance::settled() const {
  Settled settled;
  unfold(prepared_, skeleton_, laid_, loads_, potential_, flow_, settled);
  const Network& network = *prepared_.network;
  settled.source_flow.assign(network.sources.size(), 0.0);
  settled.source_mode.assign(network.sources.size(), static_cast<char>(SourceMode::idle));
  settled.regulator_flow.assign(network.regulators.size(), 0.0);
  settled.regulator_mode.assign(network.regulators.size(), static_cast<char>(ValveMode::closed));
  for (const SourceItem& source : sources_) {
    settled.source_flow[source.index] = source.flow;
    settled.source_mode[source.index] = static_cast<char>(source.mode);
  }
  for (const ValveItem& valve : valves_) {
    settled.regulator_flow[valve.index] = valve.flow;
    settled.regulator_mode[valve.index] = static_cast<char>(valve.mode);
  }
  return settled;
}

double Balance::delivered(std::size_t customer, double potential) const {
  if (delivery_ == Delivery::full) return laid_.wanted[customer];
  const Index point = prepared_.points.of_customer[customer];
  const double height = prepared_.points.height[at(point)];
  const double least = laid_.least[customer];
  const Draw draw{.unknown = none, .customer = customer, .full = laid_.wanted[customer],
                  .least = least, .height = height,
                  .full_from = laid_.altitude.reduced(least, height)};
  return std::max(0.0, taken(draw, potential).flow);
}

}  // namespace bellhole::network
