#include "network/balance.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "numerics/dense.hpp"

namespace bellhole::network {
namespace {

constexpr double flow_tolerance = 1e-12;  // of the whole flow: what a node may be out of balance
constexpr double idle_flow =
    1e-9;  // of the whole flow: under it a regulator, a source does nothing
constexpr double pressure_tolerance_pa = 1e-5;
constexpr double last_resort = 1e5;  // times the tolerance of flow, when the steps are used up
constexpr int patience = 20;         // steps
constexpr double loosely = 1e3;      // times the tolerances
constexpr double guess_reynolds = 12000.0;
/// Added to the matrix alone (never to the balance), of each diagonal, so that a part whose only
/// regulator stands closed still has a step; more only where the matrix is singular without.
constexpr double least_ground = 1e-13;
constexpr double most_ground = 1e-4;
constexpr double least_tie = 1e-16;  // of the whole flow over the level
/// A regulator opens wide when it would need this much more fall than there is, of its set point's
/// potential.
constexpr double mode_tolerance = 1e-7;
/// Steps end where no balance can lie, so that a part that one regulator opens onto cannot throw
/// the rest out of reach: no main carries more than the whole flow, no potential is above the
/// highest source's, and one this far under it means that nobody there is served.
constexpr double farthest_flow = 2.0;         // of the whole flow
constexpr double highest_potential = 2.0;     // of the level
constexpr double lowest_potential = -1000.0;  // of the level
constexpr int most_turns = 3;
constexpr int most_tiers = 6;
constexpr double same_flow = 1e-12;  // of the largest

}  // namespace

Balance::Balance(const Model::Prepared& prepared, const Skeleton& skeleton, const Case& laid,
                 Delivery delivery, double give)
    : prepared_(prepared),
      skeleton_(skeleton),
      laid_(laid),
      delivery_(delivery),
      loads_(fold_loads(skeleton, laid)),
      matrix_(skeleton.pattern) {
  live_.resize(skeleton.size());
  for (std::size_t i = 0; i < skeleton.size(); ++i) live_[i] = laid.live[at(skeleton.point[i])];
  Equipment equipment = make_equipment(prepared, skeleton, laid, give);
  sources_ = std::move(equipment.sources);
  valves_ = std::move(equipment.valves);
  level_ = equipment.level;
  resistance_ = least_resistance(equipment, laid);
  if (delivery == Delivery::falls_off) draws_ = make_draws(prepared, skeleton, laid);
  potential_.assign(skeleton.size(), level_);
  flow_.assign(skeleton.chains(), 0.0);
  gain_.assign(skeleton.chains(), 0.0);
  excess_.assign(skeleton.chains(), 0.0);
  mass_.assign(skeleton.size(), 0.0);
  draw_slope_.assign(skeleton.size(), 0.0);
  step_.assign(skeleton.size(), 0.0);
  flow_step_.assign(skeleton.chains(), 0.0);
}

double Balance::felt(const ValveItem& valve) const {
  return valve.felt == none ? valve.dead : potential_[at(valve.felt)];
}
double Balance::fall(const ValveItem& valve) const {
  return potential_[at(valve.inlet)] - potential_[at(valve.outlet)];
}

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
    double resistance = resistance_, loss = 0.0;
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
    double loss = resistance_ * flow_[c], slope = resistance_;
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
    const Draw::Taken now = draw.taken(potential_[at(draw.unknown)]);
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

void Balance::assemble(double ground) {
  auto values = matrix_.values();
  std::fill(values.begin(), values.end(), 0.0);
  const auto& pattern = matrix_.pattern();
  const auto diagonal = [&](Index i) -> double& { return values[at(pattern.diagonal(i))]; };
  const double tie = least_tie * laid_.scale / level_;
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
    if (source.mode == SourceMode::idle) continue;
    diagonal(source.node) += source.mode == SourceMode::feeds ? source.stiffness : source.soft;
    step_[at(source.node)] -= spring_excess(source);
  }
  for (const ValveItem& valve : valves_) {
    if (valve.mode == ValveMode::wide_open) {
      const double gain = 1.0 / valve.wide_open_slope(valve.flow);
      const double excess = valve.wide_open_loss(valve.flow) - fall(valve);
      join(skeleton_.chains() + valve.index, valve.inlet, valve.outlet, gain, excess);
    } else if (valve.mode == ValveMode::controls) {
      // The inlet's share of the column of `felt` is not symmetric: correct_for_control() adds it.
      diagonal(valve.felt) += valve.stiffness;
      step_[at(valve.outlet)] -= spring_excess(valve);
      step_[at(valve.inlet)] += spring_excess(valve);
    }
  }
  for (std::size_t i = 0; i < step_.size(); ++i) diagonal(static_cast<Index>(i)) *= 1.0 + ground;
}

/// The matrix is J = A + sum over controlling regulators of w e_felt^T, with A symmetric (it has
/// the stiffness on the diagonal of the point felt) and w = stiffness (e_outlet - e_inlet -
/// e_felt). The step so far is that of A.
bool Balance::correct_for_control() {
  std::vector<const ValveItem*> controls;
  bool own_outlets = true;
  for (const ValveItem& valve : valves_) {
    if (valve.mode != ValveMode::controls) continue;
    controls.push_back(&valve);
    own_outlets = own_outlets && valve.felt == valve.outlet;
  }
  if (controls.empty() || (own_outlets && correct_by_tiers(controls))) return true;
  return correct_at_once(controls);
}

/// Where every regulator feels its own outlet, only its inlet is left in w: what a lower tier draws
/// is known before the upper one is solved, and going over them as often as there are tiers is
/// exact. False when tiers feed each other in a ring.
bool Balance::correct_by_tiers(const std::vector<const ValveItem*>& controls) {
  const std::vector<double> without = right_side_;
  std::vector<double> drawn(controls.size(), 0.0);
  for (int tier = 0; tier < most_tiers; ++tier) {
    double news = 0.0, most = laid_.scale;
    std::copy(without.begin(), without.end(), right_side_.begin());
    for (std::size_t j = 0; j < controls.size(); ++j) {
      const double now = controls[j]->stiffness * step_[at(controls[j]->outlet)];
      news = std::max(news, std::abs(now - drawn[j]));
      most = std::max(most, std::abs(now));
      drawn[j] = now;
      right_side_[at(controls[j]->inlet)] += now;
    }
    if (news <= same_flow * most) return true;
    step_ = right_side_;
    matrix_.solve(step_);
  }
  step_ = without;
  matrix_.solve(step_);
  return false;
}

/// Sherman, Morrison, Woodbury: one solution for each regulator.
bool Balance::correct_at_once(const std::vector<const ValveItem*>& controls) {
  const std::size_t m = controls.size();
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

/// Flow beyond what the spring gives, kg/s.
double Balance::spring_excess(const SourceItem& source) const {
  const double stretch = source.rest - potential_[at(source.node)];
  return source.mode == SourceMode::feeds ? source.flow - source.stiffness * stretch
                                          : source.flow - source.capacity - source.soft * stretch;
}
double Balance::spring_excess(const ValveItem& valve) const {
  return valve.flow - valve.stiffness * (valve.rest - felt(valve));
}

bool Balance::find_step() {
  double ground = least_ground;
  for (assemble(ground); !matrix_.factor(); assemble(ground)) {
    ground *= 100.0;
    if (ground > most_ground) return false;
  }
  right_side_ = step_;
  matrix_.solve(step_);
  if (!correct_for_control()) return false;
  find_flow_steps();
  return true;
}

/// The steps of the flows follow from those of the potentials. They are made of the excess and the
/// step of the potential, not of the potential after the step: its last digits, times a stiff
/// spring, would be missing from the mass balance.
void Balance::find_flow_steps() {
  for (std::size_t c = 0; c < skeleton_.chains(); ++c) {
    if (loads_.active[c] == 0) continue;
    flow_step_[c] = gain_[c] * (step_[at(skeleton_.a[c])] - step_[at(skeleton_.b[c])] - excess_[c]);
  }
  for (SourceItem& source : sources_) {
    source.step = 0.0;
    if (source.mode == SourceMode::idle) continue;
    const double stiffness = source.mode == SourceMode::feeds ? source.stiffness : source.soft;
    source.step = -spring_excess(source) - stiffness * step_[at(source.node)];
  }
  for (ValveItem& valve : valves_) {
    valve.step = 0.0;
    if (valve.mode == ValveMode::wide_open) {
      const double gain = 1.0 / valve.wide_open_slope(valve.flow);
      const double excess = valve.wide_open_loss(valve.flow) - fall(valve);
      valve.step = gain * (step_[at(valve.inlet)] - step_[at(valve.outlet)] - excess);
    } else if (valve.mode == ValveMode::controls) {
      valve.step = -spring_excess(valve) - valve.stiffness * step_[at(valve.felt)];
    }
  }
}

double Balance::in_reach(double flow) const {
  const double most = farthest_flow * laid_.scale;
  return std::clamp(flow, -most, most);
}

void Balance::go() {
  for (std::size_t c = 0; c < flow_.size(); ++c) {
    if (loads_.active[c] != 0) flow_[c] = in_reach(flow_[c] + flow_step_[c]);
  }
  for (SourceItem& source : sources_) source.flow = in_reach(source.flow + source.step);
  for (ValveItem& valve : valves_) valve.flow = in_reach(valve.flow + valve.step);
  for (std::size_t i = 0; i < step_.size(); ++i)
    potential_[i] =
        std::clamp(potential_[i] + step_[i], lowest_potential * level_, highest_potential * level_);
}

bool Balance::change(SourceItem& source) const {
  const double tolerance = idle_flow * laid_.scale;
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
  if (valve.flow < 0.0 && ++valve.turns >= most_turns) valve.may_reverse = false;
  valve.mode = ValveMode::closed;
  valve.flow = 0.0;
}

void Balance::open_wide(ValveItem& valve) const {
  valve.mode = ValveMode::wide_open;
  valve.flow = in_reach(valve.wide_open_flow(fall(valve)));
  // One that must not pass gas backwards is tried without flow; it closes when the next step says
  // backwards too.
  if (valve.flow < 0.0 && !valve.may_reverse) valve.flow = 0.0;
}

bool Balance::change(ValveItem& valve) const {
  const double tolerance = idle_flow * laid_.scale;
  const double calls = valve.stiffness * (valve.rest - felt(valve));
  const ValveMode before = valve.mode;
  switch (before) {
    case ValveMode::controls:
      if (valve.flow < -tolerance) {
        close(valve);
      } else if (valve.wide_open_loss(valve.flow) > fall(valve) + mode_tolerance * valve.rest) {
        open_wide(valve);
      }
      break;
    case ValveMode::wide_open:
      if (calls < -tolerance) {
        if (valve.flow > 0.0 && !valve.parted) {
          valve.mode = ValveMode::controls;
        } else if (!valve.parted || ++valve.turns <= most_turns) {
          close(valve);
        }
      } else if (valve.flow < -tolerance && !valve.may_reverse) {
        close(valve);
      }
      break;
    case ValveMode::closed:
      if (calls <= tolerance) break;
      if (fall(valve) > 0.0 && !valve.parted && calls < valve.wide_open_flow(fall(valve))) {
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
    if (!find_step()) return false;
    go();
  }
  evaluate();
  bool changed = false;
  for (iterations_ = 1; iterations_ <= most; ++iterations_) {
    // Modes change with every step at first; where that goes round in circles, only from one
    // settled state to the next.
    changed = (iterations_ <= patience || stands(loosely)) && change_modes();
    if (changed) evaluate_mass();
    if (!changed && stands(1.0)) {
      if (!put_off_draws()) return true;
      evaluate_mass();
    }
    if (!find_step()) return false;
    go();
    evaluate();
  }
  return !changed && stands(last_resort) && !change_modes() && !put_off_draws();
}

/// Customers who would draw backwards are put off; true when there were any.
bool Balance::put_off_draws() {
  bool any = false;
  for (Draw& draw : draws_) {
    if (draw.off || draw.taken(potential_[at(draw.unknown)]).flow >= -idle_flow * laid_.scale)
      continue;
    draw.off = any = true;
  }
  return any;
}

/// Whether all laws hold to so many times the tolerances.
bool Balance::stands(double times) const {
  return worst_mass_ <= times * flow_tolerance * laid_.scale &&
         worst_loss_ <= pressure_tolerance_pa * prepared_.gas.pressure(level_) && springs_agree();
}

bool Balance::is_near(double of_whole_flow, double pressure_pa) {
  evaluate();
  if (put_off_draws()) evaluate_mass();
  return worst_mass_ <= of_whole_flow * laid_.scale &&
         worst_loss_ <= pressure_pa * prepared_.gas.pressure(level_);
}

bool Balance::springs_agree() const {
  const double apart = pressure_tolerance_pa * prepared_.gas.pressure(level_);
  for (const SourceItem& source : sources_) {
    if (source.mode != SourceMode::feeds) continue;
    const double rest = source.rest - source.flow / source.stiffness;
    if (std::abs(rest - potential_[at(source.node)]) > apart) return false;
  }
  for (const ValveItem& valve : valves_) {
    const double off =
        valve.mode == ValveMode::controls ? valve.rest - valve.flow / valve.stiffness - felt(valve)
        : valve.mode == ValveMode::wide_open ? valve.wide_open_loss(valve.flow) - fall(valve)
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
  return std::max(0.0, draw_of(prepared_, skeleton_, laid_, customer).taken(potential).flow);
}

}  // namespace bellhole::network
