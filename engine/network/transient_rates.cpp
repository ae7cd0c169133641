#include "network/transient_rates.hpp"

#include <algorithm>
#include <cmath>

#include "numerics/dense.hpp"

namespace bellhole::network {

Rates::Rates(const Model::Prepared& prepared, const Parts& parts, const Lumps& lumps,
             const Order& order)
    : prepared_(prepared),
      parts_(parts),
      lumps_(lumps),
      order_(order),
      matrix_(order.pattern),
      k_(prepared.gas.k_per_pa),
      third_k_(prepared.gas.k_per_pa / 3.0) {
  const std::size_t rows = lumps.size(), runs = parts.lines.size();
  for (auto* by_row : {&potential_, &mass_, &step_, &without_mains_, &moved_, &draw_slope_,
                       &capacity_, &per_potential_}) {
    by_row->resize(rows);
  }
  for (auto* by_run : {&flow_, &new_flow_, &gain_, &still_slope_, &still_loss_})
    by_run->resize(runs);
  for (const Line& line : parts.lines) ends_.push_back({line.a, line.b});
  valve_flow_.resize(parts.valves.size());
  valve_gain_.resize(parts.valves.size());
  source_flow_.resize(parts.sources.size());
  leak_flow_.resize(parts.leaks.size());
  leak_slope_.resize(parts.leaks.size());
  fed_.resize(parts.sources.size());
  passed_.resize(parts.valves.size());
  ways_.resize(parts.sources.size() + parts.valves.size());
}

void Rates::set_negligible(std::span<const double> p, std::span<const double> negligible_pa) {
  for (std::size_t s = 0; s < still_loss_.size(); ++s) {
    const Line& line = parts_.lines[s];
    const std::size_t a = at(line.a), b = at(line.b);
    still_loss_[s] = std::min(potential_slope(p[a]) * negligible_pa[a],
                              potential_slope(p[b]) * negligible_pa[b]);
    if (std::isinf(line.extra)) continue;
    // What flow that is: as if laminar, then by the square of the flow. It need not be right.
    double flow = still_loss_[s] / line.loss(0.0).slope;
    flow *= std::sqrt(still_loss_[s] / line.loss(flow).value);
    still_slope_[s] = line.loss(flow).slope;
  }
}

namespace {

/// What the fall of reduced potential along a line drives, whatever it carried before.
gas::PipeLaw::Driven driven(const Line& line, double fall) {
  if (std::isinf(line.extra)) return {};
  const auto open = line.law->driven(fall / line.lift(), line.length);
  if (line.extra == 0.0) return {open.flow, open.slope / line.lift()};
  // A squeeze stands in it: both losses add, solved for the flow between bounds.
  const double wanted = std::abs(fall);
  double high = std::abs(open.flow), low = 0.0;
  double flow = std::min(high, std::sqrt(wanted / line.extra)), slope = line.loss(flow).slope;
  constexpr int most = 60;
  for (int i = 0; i < most; ++i) {
    const Line::Loss now = line.loss(flow);
    slope = now.slope;
    (now.value > wanted ? high : low) = flow;
    double next = flow - (now.value - wanted) / slope;
    if (!(next >= low && next <= high)) next = 0.5 * (low + high);
    const bool done = std::abs(next - flow) <= 1e-13 * next;
    flow = next;
    if (done) break;
  }
  return {fall < 0.0 ? -flow : flow, 1.0 / slope};
}

}  // namespace

void Rates::flows_follow(std::span<double> inflow) {
  for (std::size_t s = 0; s < flow_.size(); ++s) {
    const Line& line = parts_.lines[s];
    const std::size_t a = at(line.a), b = at(line.b);
    const double fall = potential_[a] - potential_[b];
    const auto now = driven(line, fall);
    gain_[s] = now.slope;
    // Flow goes with the root of the fall: about no flow the tangent throws Newton's method from
    // one side to the other for ever. The chord through nought leads home.
    if (now.flow * flow_[s] < 0.0) gain_[s] = std::max(gain_[s], now.flow / fall);
    flow_[s] = now.flow;
    inflow[a] -= now.flow;
    inflow[b] += now.flow;
  }
}

/// Each main's law is linear about its flow. False where the slopes that were kept lead astray.
bool Rates::flows_move(std::span<double> inflow, bool renew) {
  constexpr double astray = 20.0;  // times the loss that does not count
  double worst = 0.0;
  for (std::size_t s = 0; s < flow_.size(); ++s) {
    const Line& line = parts_.lines[s];
    if (std::isinf(line.extra)) {
      gain_[s] = new_flow_[s] = 0.0;
      continue;
    }
    const std::size_t a = at(line.a), b = at(line.b);
    const Line::Loss now = line.loss(flow_[s]);
    if (renew) gain_[s] = 1.0 / std::max(now.slope, still_slope_[s]);
    const double off = potential_[a] - potential_[b] - now.value;
    worst = std::max(worst, (now.slope * gain_[s] - 1.0) * std::abs(off) - astray * still_loss_[s]);
    new_flow_[s] = flow_[s] + gain_[s] * off;
    inflow[a] -= new_flow_[s];
    inflow[b] += new_flow_[s];
  }
  return renew || worst == 0.0;
}

Rates::Through Rates::fed_by(const SourcePart& source, double potential) const {
  const auto& [item, shut] = source;
  const double stretch = item.rest - potential;
  const double flow = item.stiffness * stretch;
  if (shut || flow <= 0.0) return {};
  if (flow <= item.capacity) return {flow, item.stiffness, Way::spring};
  return {item.capacity + item.soft * (stretch - item.capacity / item.stiffness), item.soft,
          Way::soft};
}

Rates::Through Rates::through(const ValvePart& valve, double felt, double fall) const {
  const auto& [item, shut] = valve;
  const double calls = item.stiffness * (item.rest - felt);
  const double wide = item.wide_open_flow(fall);
  if (shut || calls <= 0.0 || (wide < 0.0 && !item.may_reverse)) return {};
  if (std::abs(wide) <= calls) return {wide, 1.0 / item.wide_open_slope(wide), Way::wide};
  return {wide < 0.0 ? -calls : calls, item.stiffness, Way::spring};
}

void Rates::through_equipment(std::span<double> inflow, Wide wide, bool renew) {
  for (std::size_t s = 0; s < parts_.sources.size(); ++s) {
    const Index row = parts_.sources[s].item.node;
    fed_[s] = fed_by(parts_.sources[s], potential_[at(row)]);
    ways_[s] = fed_[s].way;
    source_flow_[s] = fed_[s].flow;
    inflow[at(row)] += fed_[s].flow;
    outside_.fed += fed_[s].flow;
  }
  for (std::size_t v = 0; v < parts_.valves.size(); ++v) {
    const ValveItem& item = parts_.valves[v].item;
    Way& way = ways_[parts_.sources.size() + v];
    const bool was_wide = way == Way::wide;
    passed_[v] = through(parts_.valves[v], potential_[at(item.felt)], fall(item));
    way = passed_[v].way;
    if (way == Way::wide && was_wide && wide != Wide::follows) {
      const double before = valve_flow_[v];
      if (renew) valve_gain_[v] = 1.0 / item.wide_open_slope(before);
      const double off = fall(item) - item.wide_open_loss(before);
      passed_[v].slope = valve_gain_[v];
      passed_[v].flow = before + (wide == Wide::moves ? valve_gain_[v] * off : 0.0);
    } else {
      valve_gain_[v] = passed_[v].slope;
    }
    valve_flow_[v] = passed_[v].flow;
    inflow[at(item.inlet)] -= valve_flow_[v];
    inflow[at(item.outlet)] += valve_flow_[v];
  }
}

bool Rates::ways_hold(std::span<const double> p) const {
  for (std::size_t s = 0; s < parts_.sources.size(); ++s) {
    const double here = potential(p[at(parts_.sources[s].item.node)]);
    if (fed_by(parts_.sources[s], here).way != ways_[s]) return false;
  }
  for (std::size_t v = 0; v < parts_.valves.size(); ++v) {
    const ValveItem& item = parts_.valves[v].item;
    const double falls = potential(p[at(item.inlet)]) - potential(p[at(item.outlet)]);
    const Through now = through(parts_.valves[v], potential(p[at(item.felt)]), falls);
    if (now.way != ways_[parts_.sources.size() + v]) return false;
  }
  return true;
}

void Rates::draw(std::span<double> inflow, bool renew) {
  if (renew) std::ranges::fill(draw_slope_, 0.0);
  for (const Draw& draw : parts_.draws) {
    const std::size_t row = at(draw.unknown);
    const bool full = potential_[row] >= draw.full_from;
    const Draw::Taken now = full ? Draw::Taken{draw.full, 0.0} : draw.taken(potential_[row]);
    inflow[row] -= now.flow;
    if (renew) draw_slope_[row] += now.slope;
    outside_.delivered += now.flow;
  }
}

void Rates::leak(std::span<double> inflow, bool renew) {
  for (std::size_t k = 0; k < parts_.leaks.size(); ++k) {
    const LeakPart& part = parts_.leaks[k];
    const double node = part.node == none ? 0.0 : potential_[at(part.node)];
    const Leaving now =
        part.open ? leaves(part, prepared_.gas, potential_[at(part.row)], node) : Leaving{};
    leak_flow_[k] = now.flow;
    if (renew) leak_slope_[k] = now.slope;
    inflow[at(part.row)] -= now.flow;
    outside_.escaped += now.flow;
  }
}

void Rates::begin(std::span<const double> p, std::span<double> inflow, Wide wide) {
  for (std::size_t i = 0; i < p.size(); ++i) potential_[i] = potential(p[i]);
  std::ranges::fill(inflow, 0.0);
  outside_ = {};
  through_equipment(inflow, wide, true);
  draw(inflow, true);
  leak(inflow, true);
}

void Rates::evaluate(std::span<const double> p, std::span<double> inflow) {
  begin(p, inflow, Wide::stays);
  for (std::size_t s = 0; s < flow_.size(); ++s) {
    const Line& line = parts_.lines[s];
    if (std::isinf(line.extra)) flow_[s] = 0.0;
    inflow[at(line.a)] -= flow_[s];
    inflow[at(line.b)] += flow_[s];
  }
}

void Rates::evaluate_by_pressures(std::span<const double> p, std::span<double> inflow) {
  begin(p, inflow, Wide::follows);
  flows_follow(inflow);
}

bool Rates::round(Form form, std::span<const double> p, std::span<const double> known,
                  double per_step, bool renew) {
  outside_ = {};
  for (std::size_t i = 0; i < p.size(); ++i) {
    potential_[i] = potential(p[i]);
    mass_[i] = lumps_.held(i, p[i]).mass;
    step_[i] = (known[i] - mass_[i]) * per_step;
  }
  const Wide wide = form == Form::flows_unknown ? Wide::moves : Wide::follows;
  through_equipment(step_, wide, renew);
  renew = renew || ways_ != factored_ways_;
  if (form == Form::flows_unknown) {
    if (!renew) without_mains_ = step_;
    if (!flows_move(step_, renew)) {
      step_ = without_mains_;
      renew = true;
      flows_move(step_, renew);
    }
    std::swap(flow_, new_flow_);
  } else {
    flows_follow(step_);
    renew = true;
  }
  draw(step_, renew);
  leak(step_, renew);
  factored_ = renew;
  if (renew && !factor(p, per_step)) return false;
  solve_potentials(step_);
  go_along();
  return true;
}

/// Everything goes along with the step of the potentials.
void Rates::go_along() {
  for (std::size_t s = 0; s < flow_.size(); ++s) {
    flow_[s] += gain_[s] * (step_[at(ends_[s].a)] - step_[at(ends_[s].b)]);
  }
  for (std::size_t i = 0; i < step_.size(); ++i) {
    moved_[i] = step_[i] * per_potential_[i];
    mass_[i] += step_[i] * capacity_[i];
    outside_.delivered += step_[i] * draw_slope_[i];
  }
  for (std::size_t k = 0; k < parts_.leaks.size(); ++k) {
    const double change = leak_slope_[k] * step_[at(parts_.leaks[k].row)];
    leak_flow_[k] += change;
    outside_.escaped += change;
  }
  for (std::size_t s = 0; s < parts_.sources.size(); ++s) {
    const double change = -fed_[s].slope * step_[at(parts_.sources[s].item.node)];
    source_flow_[s] += change;
    outside_.fed += change;
  }
  for (std::size_t v = 0; v < parts_.valves.size(); ++v) {
    const ValveItem& item = parts_.valves[v].item;
    if (passed_[v].way == Way::wide) {
      valve_flow_[v] += passed_[v].slope * (step_[at(item.inlet)] - step_[at(item.outlet)]);
    } else if (passed_[v].way == Way::spring) {
      const double change = passed_[v].slope * step_[at(item.felt)];
      valve_flow_[v] += passed_[v].flow > 0.0 ? -change : change;
    }
  }
}

bool Rates::factor(std::span<const double> p, double per_step) {
  auto values = matrix_.values();
  std::fill(values.begin(), values.end(), 0.0);
  const auto& pattern = matrix_.pattern();
  const auto diagonal = [&](Index i) -> double& {
    return values[at(pattern.diagonal_in_order(i))];
  };
  for (std::size_t i = 0; i < p.size(); ++i) {
    per_potential_[i] = 1.0 / potential_slope(p[i]);
    capacity_[i] = lumps_.held(i, p[i]).slope * per_potential_[i];
    diagonal(static_cast<Index>(i)) = per_step * capacity_[i] + draw_slope_[i];
  }
  for (std::size_t s = 0; s < flow_.size(); ++s) {
    const Ends& ends = ends_[s];
    if (ends.a == ends.b) continue;
    diagonal(ends.a) += gain_[s];
    diagonal(ends.b) += gain_[s];
    values[at(order_.slot[s])] -= gain_[s];
  }
  for (std::size_t s = 0; s < parts_.sources.size(); ++s) {
    diagonal(parts_.sources[s].item.node) += fed_[s].slope;
  }
  for (std::size_t k = 0; k < parts_.leaks.size(); ++k) {
    diagonal(parts_.leaks[k].row) += leak_slope_[k];
  }
  controlling_.clear();
  for (std::size_t v = 0; v < parts_.valves.size(); ++v) {
    const ValveItem& item = parts_.valves[v].item;
    if (passed_[v].way == Way::wide) {
      diagonal(item.inlet) += passed_[v].slope;
      diagonal(item.outlet) += passed_[v].slope;
      values[at(order_.pair_slot[item.index])] -= passed_[v].slope;
    } else if (passed_[v].way == Way::spring) {
      if (passed_[v].flow > 0.0) diagonal(item.felt) += item.stiffness;
      controlling_.push_back(v);
    }
  }
  factored_ways_ = ways_;
  return matrix_.factor() && correct_columns();
}

/// The matrix is A + sum of w e_felt^T (Balance::correct_for_control); a column A^-1 w each.
bool Rates::correct_columns() {
  const std::size_t m = controlling_.size();
  columns_.assign(m, {});
  for (std::size_t j = 0; j < m; ++j) {
    const ValveItem& item = parts_.valves[controlling_[j]].item;
    columns_[j].assign(potential_.size(), 0.0);
    const double forward = passed_[controlling_[j]].flow > 0.0 ? 1.0 : -1.0;
    columns_[j][at(item.inlet)] -= forward * item.stiffness;
    columns_[j][at(item.outlet)] += forward * item.stiffness;
    if (forward > 0.0) columns_[j][at(item.felt)] -= item.stiffness;
    matrix_.solve_in_order(columns_[j]);
  }
  small_.assign(m * m, 0.0);
  for (std::size_t i = 0; i < m; ++i) {
    const std::size_t row = at(parts_.valves[controlling_[i]].item.felt);
    for (std::size_t j = 0; j < m; ++j) small_[i * m + j] = columns_[j][row] + (i == j ? 1.0 : 0.0);
  }
  return true;
}

void Rates::solve(std::span<double> r) {
  solve_potentials(r);
  for (std::size_t i = 0; i < r.size(); ++i) r[i] *= per_potential_[i];
}

void Rates::solve_potentials(std::span<double> r) {
  matrix_.solve_in_order(r);
  const std::size_t m = controlling_.size();
  if (m == 0) return;
  std::vector<double> small = small_, share(m);
  for (std::size_t i = 0; i < m; ++i) {
    share[i] = r[at(parts_.valves[controlling_[i]].item.felt)];
  }
  if (!numerics::solve_dense(small, share)) return;
  for (std::size_t j = 0; j < m; ++j) {
    for (std::size_t i = 0; i < r.size(); ++i) r[i] -= share[j] * columns_[j][i];
  }
}

}  // namespace bellhole::network
