#include "network/transient_rates.hpp"

#include <algorithm>
#include <cmath>

#include "gas/friction.hpp"
#include "numerics/dense.hpp"

namespace bellhole::network {

Rates::Rates(const Model::Prepared& prepared, const Parts& parts, const Lumps& lumps,
             std::shared_ptr<const numerics::SparsePattern> pattern,
             const std::vector<Index>& slot_of_segment, std::size_t first_pair)
    : prepared_(prepared),
      parts_(parts),
      lumps_(lumps),
      slot_of_segment_(slot_of_segment),
      first_pair_(first_pair),
      matrix_(std::move(pattern)),
      k_(prepared.gas.k_per_pa),
      third_k_(prepared.gas.k_per_pa / 3.0) {
  potential_.resize(lumps.size());
  held_.resize(lumps.size());
  for (const SourcePart& source : parts.sources) held_[at(source.item.node)] = 1;
  draw_slope_.resize(lumps.size());
  gain_.resize(parts.runs.a.size());
  flow_.resize(parts.runs.a.size());
  near_.resize(parts.runs.a.size());
  valve_flow_.resize(parts.valves.size());
  source_flow_.resize(parts.sources.size());
  ways_.resize(parts.sources.size() + parts.valves.size());
}

/// A length of main with a squeeze in it: both losses add, solved for the flow between bounds.
gas::PipeLaw::Driven Rates::past_squeeze(std::size_t run, double fall, double squeeze) const {
  if (std::isinf(squeeze)) return {};
  const Runs& runs = parts_.runs;
  const double wanted = std::abs(fall) * runs.per_lift[run];
  double high = runs.law[run]->driven(wanted, runs.length[run]).flow, low = 0.0;
  double flow = std::min(high, std::sqrt(wanted / std::max(squeeze, 1e-300)));
  double slope = runs.law[run]->loss(flow, runs.length[run]).slope + 2.0 * squeeze * flow;
  constexpr int most = 60;
  for (int i = 0; i < most; ++i) {
    const gas::Loss main = runs.law[run]->loss(flow, runs.length[run]);
    slope = main.slope + 2.0 * squeeze * flow;
    const double excess = main.value + squeeze * flow * flow - wanted;
    (excess > 0.0 ? high : low) = flow;
    double next = flow - excess / slope;
    if (!(next >= low && next <= high)) next = 0.5 * (low + high);
    const bool done = std::abs(next - flow) <= 1e-13 * next;
    flow = next;
    if (done) break;
  }
  return {fall < 0.0 ? -flow : flow, 1.0 / slope};
}

void Rates::along_mains(std::span<double> inflow) {
  const Runs& runs = parts_.runs;
  for (std::size_t s = 0; s < runs.a.size(); ++s) {
    if (runs.closed[s] != 0) {
      gain_[s] = 0.0;
      flow_[s] = 0.0;
      continue;
    }
    const std::size_t a = at(runs.a[s]), b = at(runs.b[s]);
    const double fall = potential_[a] - potential_[b];
    const double squeeze = runs.mover[s] == none ? 0.0 : squeeze_[at(runs.mover[s])];
    const auto driven = squeeze > 0.0
                            ? past_squeeze(s, fall, squeeze)
                            : runs.law[s]->driven(fall * runs.per_lift[s], runs.length[s]);
    gain_[s] = driven.slope * runs.per_lift[s];
    // Flow goes with the root of the fall: about no flow the tangent throws Newton's method from
    // one side to the other for ever. The chord through nought leads home.
    if (driven.flow * flow_[s] < 0.0) gain_[s] = std::max(gain_[s], driven.flow / fall);
    flow_[s] = driven.flow;
    inflow[a] -= driven.flow;
    inflow[b] += driven.flow;
  }
}

double Rates::fed_by(const SourcePart& source, double potential, Way& way) const {
  const auto& [item, shut] = source;
  const double stretch = item.rest - potential;
  const double flow = shut ? 0.0 : std::max(0.0, item.stiffness * stretch);
  way = flow > item.capacity ? Way::soft : flow > 0.0 ? Way::spring : Way::rest;
  if (way != Way::soft) return flow;
  return item.capacity + item.soft * (stretch - item.capacity / item.stiffness);
}

/// Loss along a main at its flow: the law itself, or, near to where it was last asked, three terms
/// of its series about there (the loss goes nearly with a power of the flow).
gas::Loss Rates::loss(std::size_t run) {
  const double flow = flow_[run];
  Near& near = near_[run];
  const double off = flow - near.flow;
  if (std::abs(off) <= near.reach) {
    return {near.value + off * (near.slope + 0.5 * near.bend * off), near.slope + near.bend * off};
  }
  const gas::PipeLaw& law = *parts_.runs.law[run];
  const gas::Loss now = law.loss(flow, parts_.runs.length[run]);
  constexpr double reach = 0.02;  // of the flow: the loss is then within 1e-6
  const double re = law.reynolds(flow);
  const bool blends = re > 0.95 * gas::laminar_ends && re < 1.05 * gas::turbulent_begins;
  near = {flow, now.value, now.slope, 0.0, blends ? -1.0 : reach * std::abs(flow)};
  if (now.value != 0.0) near.bend = now.slope * (now.slope / now.value - 1.0 / flow);
  return now;
}

void Rates::along_lines(std::span<double> inflow) {
  const Runs& runs = parts_.runs;
  for (std::size_t s = 0; s < runs.a.size(); ++s) {
    const double squeeze = runs.mover[s] == none ? 0.0 : squeeze_[at(runs.mover[s])];
    if (runs.closed[s] != 0 || std::isinf(squeeze)) {
      gain_[s] = 0.0;
      flow_[s] = 0.0;
      continue;
    }
    gas::Loss now = loss(s);
    now.value += squeeze * flow_[s] * std::abs(flow_[s]);
    now.slope += 2.0 * squeeze * std::abs(flow_[s]);
    const std::size_t a = at(runs.a[s]), b = at(runs.b[s]);
    flow_[s] -= (now.value - (potential_[a] - potential_[b]) * runs.per_lift[s]) / now.slope;
    gain_[s] = runs.per_lift[s] / now.slope;
    inflow[a] -= flow_[s];
    inflow[b] += flow_[s];
  }
}

void Rates::through_equipment(std::span<double> inflow) {
  for (std::size_t s = 0; s < parts_.sources.size(); ++s) {
    const Index node = parts_.sources[s].item.node;
    source_flow_[s] = fed_by(parts_.sources[s], potential_[at(node)], ways_[s]);
    inflow[at(node)] += source_flow_[s];
    outside_.fed += source_flow_[s];
  }
  for (std::size_t v = 0; v < parts_.valves.size(); ++v) {
    const auto& [item, shut] = parts_.valves[v];
    Way& way = ways_[parts_.sources.size() + v];
    const double calls = item.stiffness * (item.rest - potential_[at(item.felt)]);
    const double wide =
        item.wide_open_flow(potential_[at(item.inlet)] - potential_[at(item.outlet)]);
    way = shut || calls <= 0.0 || (wide < 0.0 && !item.may_reverse) ? Way::rest
          : std::abs(wide) <= calls                                 ? Way::wide
                                                                    : Way::spring;
    const double flow = way == Way::rest ? 0.0 : way == Way::wide ? wide : calls;
    valve_flow_[v] = way == Way::spring && wide < 0.0 ? -flow : flow;
    inflow[at(item.inlet)] -= valve_flow_[v];
    inflow[at(item.outlet)] += valve_flow_[v];
  }
}

void Rates::draw(std::span<double> inflow) {
  std::ranges::fill(draw_slope_, 0.0);
  for (const Draw& draw : parts_.draws) {
    const double here = potential_[at(draw.unknown)];
    if (here <= draw.none_at) continue;  // nobody gives gas back
    const Draw::Taken now = draw.taken(here);
    inflow[at(draw.unknown)] -= now.flow;
    draw_slope_[at(draw.unknown)] += now.slope;
    outside_.delivered += now.flow;
  }
}

Outside Rates::outside_at(std::span<const double> p) const {
  Outside now;
  Way way{};
  for (const SourcePart& source : parts_.sources) {
    now.fed += fed_by(source, potential(p[at(source.item.node)]), way);
  }
  for (const Draw& draw : parts_.draws) {
    const double here = potential(p[at(draw.unknown)]);
    if (here > draw.none_at) now.delivered += draw.taken(here).flow;
  }
  return now;
}

void Rates::evaluate(double seconds, std::span<const double> p, std::span<double> inflow) {
  for (std::size_t i = 0; i < p.size(); ++i) potential_[i] = potential(p[i]);
  std::ranges::fill(inflow, 0.0);
  parts_.squeeze_losses(seconds, squeeze_);
  along_mains(inflow);
  rest_of(inflow);
}

void Rates::linearise(double seconds, std::span<const double> p, std::span<double> inflow) {
  for (std::size_t i = 0; i < p.size(); ++i) potential_[i] = potential(p[i]);
  std::ranges::fill(inflow, 0.0);
  parts_.squeeze_losses(seconds, squeeze_);
  along_lines(inflow);
  rest_of(inflow);
}

void Rates::rest_of(std::span<double> inflow) {
  outside_ = {};
  through_equipment(inflow);
  draw(inflow);
}

bool Rates::factor(std::span<const double> p, double per_step) {
  auto values = matrix_.values();
  std::fill(values.begin(), values.end(), 0.0);
  const auto& pattern = matrix_.pattern();
  const auto diagonal = [&](Index i) -> double& { return values[at(pattern.diagonal(i))]; };
  for (std::size_t i = 0; i < p.size(); ++i) {
    diagonal(static_cast<Index>(i)) =
        per_step * lumps_.held(i, p[i]).slope / potential_slope(p[i]) + draw_slope_[i];
  }
  const auto join = [&](Index slot, Index a, Index b, double gain) {
    if (a == b) return;
    diagonal(a) += gain;
    diagonal(b) += gain;
    values[at(slot)] -= gain;
  };
  const Runs& runs = parts_.runs;
  for (std::size_t s = 0; s < runs.a.size(); ++s) {
    join(slot_of_segment_[s], runs.a[s], runs.b[s], gain_[s]);
  }
  for (std::size_t s = 0; s < parts_.sources.size(); ++s) {
    const SourceItem& item = parts_.sources[s].item;
    if (ways_[s] == Way::spring) diagonal(item.node) += item.stiffness;
    if (ways_[s] == Way::soft) diagonal(item.node) += item.soft;
  }
  controlling_.clear();
  for (std::size_t v = 0; v < parts_.valves.size(); ++v) {
    const ValveItem& item = parts_.valves[v].item;
    const Way way = ways_[parts_.sources.size() + v];
    if (way == Way::wide) {
      join(pattern.slot(first_pair_ + item.index), item.inlet, item.outlet,
           1.0 / item.wide_open_slope(valve_flow_[v]));
    } else if (way == Way::spring) {
      if (valve_flow_[v] > 0.0) diagonal(item.felt) += item.stiffness;
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
    const double forward = valve_flow_[controlling_[j]] > 0.0 ? 1.0 : -1.0;
    columns_[j][at(item.inlet)] -= forward * item.stiffness;
    columns_[j][at(item.outlet)] += forward * item.stiffness;
    if (forward > 0.0) columns_[j][at(item.felt)] -= item.stiffness;
    matrix_.solve(columns_[j]);
  }
  small_.assign(m * m, 0.0);
  for (std::size_t i = 0; i < m; ++i) {
    const std::size_t row = at(parts_.valves[controlling_[i]].item.felt);
    for (std::size_t j = 0; j < m; ++j) small_[i * m + j] = columns_[j][row] + (i == j ? 1.0 : 0.0);
  }
  return true;
}

void Rates::solve(std::span<const double> p, std::span<double> r) {
  solve_potentials(r);
  for (std::size_t i = 0; i < r.size(); ++i) r[i] /= potential_slope(p[i]);
}

void Rates::solve_step(std::span<const double> p, std::span<double> r) {
  solve_potentials(r);
  const Runs& runs = parts_.runs;
  for (std::size_t s = 0; s < runs.a.size(); ++s) {
    flow_[s] += gain_[s] * (r[at(runs.a[s])] - r[at(runs.b[s])]);
  }
  for (std::size_t i = 0; i < r.size(); ++i) r[i] /= potential_slope(p[i]);
}

void Rates::solve_potentials(std::span<double> r) {
  matrix_.solve(r);
  const std::size_t m = controlling_.size();
  if (m > 0) {
    std::vector<double> small = small_, share(m);
    for (std::size_t i = 0; i < m; ++i) {
      share[i] = r[at(parts_.valves[controlling_[i]].item.felt)];
    }
    if (numerics::solve_dense(small, share)) {
      for (std::size_t j = 0; j < m; ++j) {
        for (std::size_t i = 0; i < r.size(); ++i) r[i] -= share[j] * columns_[j][i];
      }
    }
  }
}

}  // namespace bellhole::network
