#include "network/descent.hpp"

#include <algorithm>
#include <cmath>

#include "network/sets.hpp"

namespace bellhole::network {
namespace {

constexpr int most_rounds = 400;
constexpr int most_steps = 200;
constexpr int most_returns = 3;
constexpr int whole_corrections = 5;  // rounds
constexpr double softer = 1e-3;       // than Balance's springs of sources
constexpr double least_loss =
    1e-5;  // of a regulator wide open, at the whole flow, of its set point
constexpr double flow_tolerance = 1e-7;  // of the whole flow
constexpr double flat = 0.1;             // of the slope at the beginning of a step
constexpr double near_enough = 1e-4;     // of the whole flow
constexpr int most_stuck = 8;
constexpr int most_halvings = 80;
constexpr double potential_tolerance = 1e-6;  // of a set point's

/// Added to the matrix alone, of each diagonal: a part that nothing holds has no step otherwise.
constexpr double least_ground = 1e-12;
constexpr double most_ground = 1e-2;
constexpr double least_tie = 1e-16;  // of the whole flow over the level

/// The flow that loses `fall` along a segment; the loss rises strictly with the flow. Begins at
/// `guess`.
double flow_for(const Model::Prepared& prepared, Index segment, double resistance, double fall,
                double guess) {
  if (fall == 0.0) return 0.0;
  double low = fall > 0.0 ? 0.0 : -HUGE_VAL, high = fall > 0.0 ? HUGE_VAL : 0.0;
  double flow = guess * fall > 0.0 ? guess : 0.0;
  for (int i = 0; i < 100; ++i) {
    gas::Loss loss = prepared.loss(segment, flow);
    loss.value += resistance * flow;
    loss.slope += resistance;
    const double off = loss.value - fall;
    (off > 0.0 ? high : low) = flow;
    double next = flow - off / loss.slope;
    if (std::abs(next - flow) <= 1e-13 * std::abs(next)) return next;
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    flow = next;
  }
  return flow;
}

}  // namespace

Descent::Descent(const Model::Prepared& prepared, const Skeleton& skeleton, const Case& laid)
    : prepared_(prepared), skeleton_(skeleton), laid_(laid), matrix_(skeleton.pattern) {
  Equipment equipment = make_equipment(prepared, skeleton, laid, gives);
  level_ = equipment.level;
  resistance_ = least_resistance(equipment, laid);
  sources_ = std::move(equipment.sources);
  for (SourceItem& source : sources_) source.stiffness *= softer;
  for (ValveItem& item : equipment.valves) {
    item.linear = std::max(item.linear, least_loss * item.rest / laid.scale);
    valves_.push_back({.item = item, .rest = item.rest});
  }
  draws_ = make_draws(prepared, skeleton, laid);
  const std::size_t n = skeleton.size();
  potential_.assign(n, 0.0);
  mass_.assign(n, 0.0);
  slope_.assign(n, 0.0);
  step_.assign(n, 0.0);
  flow_.assign(skeleton.chains(), 0.0);
  gain_.assign(skeleton.chains(), 0.0);
}

/// Every part at the highest pressure that anything feeding it holds.
void Descent::start_without_load() {
  Sets parts(skeleton_.size());
  for (std::size_t c = 0; c < skeleton_.chains(); ++c) {
    if (laid_.closed[at(skeleton_.link_segment[at(skeleton_.first[c])])] == 0) {
      parts.join(skeleton_.a[c], skeleton_.b[c]);
    }
  }
  std::vector<double> highest(skeleton_.size(), laid_.altitude.reduced(0.0, 0.0));
  for (const SourceItem& source : sources_) {
    double& here = highest[at(parts.root(source.node))];
    here = std::max(here, source.rest);
  }
  for (bool more = true; more;) {
    more = false;
    for (const Valve& valve : valves_) {
      const double passes = std::min(highest[at(parts.root(valve.item.inlet))], valve.rest);
      double& outlet = highest[at(parts.root(valve.item.outlet))];
      if (passes <= outlet) continue;
      outlet = passes;
      more = true;
    }
  }
  for (std::size_t i = 0; i < potential_.size(); ++i) {
    potential_[i] = highest[at(parts.root(static_cast<Index>(i)))];
  }
  for (Valve& valve : valves_) {
    valve.wide = highest[at(parts.root(valve.item.inlet))] < valve.rest && !valve.item.parted;
  }
}

double Descent::felt(const Valve& valve) const {
  return valve.item.felt == none ? valve.item.dead : potential_[at(valve.item.felt)];
}
double Descent::fall(const Valve& valve) const {
  return potential_[at(valve.item.inlet)] - potential_[at(valve.item.outlet)];
}
double Descent::regulated_flow(const Valve& valve) const {
  if (valve.off) return 0.0;
  return std::max(0.0, valve.item.stiffness * (valve.rest - potential_[at(valve.item.outlet)]));
}
double Descent::wide_flow(const Valve& valve) const {
  const double flow = valve.item.wide_open_flow(fall(valve));
  return flow < 0.0 && !valve.item.may_reverse ? 0.0 : flow;
}

Draw::Taken Descent::drawn(const Valve& valve) const {
  const Draw as_customer{
      .full = valve.drawn, .none_at = valve.item.dead, .full_from = valve.item.rest};
  return as_customer.taken(potential_[at(valve.item.inlet)]);
}

Draw::Taken Descent::given(const SourceItem& source) const {
  const double stretch = source.rest - potential_[at(source.node)];
  if (stretch < 0.0) return {};
  const double flow = source.stiffness * stretch;
  if (flow <= source.capacity) return {flow, source.stiffness};
  const double beyond = stretch - source.capacity / source.stiffness;
  return {source.capacity + source.soft * beyond, source.soft};
}

void Descent::evaluate_chains() {
  for (std::size_t c = 0; c < skeleton_.chains(); ++c) {
    const Index segment = skeleton_.link_segment[at(skeleton_.first[c])];
    const Index a = skeleton_.a[c], b = skeleton_.b[c];
    if (laid_.closed[at(segment)] != 0 || laid_.live[at(skeleton_.point[at(a)])] == 0) continue;
    flow_[c] =
        flow_for(prepared_, segment, resistance_, potential_[at(a)] - potential_[at(b)], flow_[c]);
    gain_[c] = 1.0 / (prepared_.loss(segment, flow_[c]).slope + resistance_);
    mass_[at(a)] += flow_[c];
    mass_[at(b)] -= flow_[c];
  }
}

void Descent::evaluate_equipment() {
  for (const SourceItem& source : sources_) {
    const Draw::Taken now = given(source);
    mass_[at(source.node)] -= now.flow;
    slope_[at(source.node)] += now.slope;
  }
  for (const Valve& valve : valves_) {
    if (valve.wide) {
      mass_[at(valve.item.inlet)] += wide_flow(valve);
      mass_[at(valve.item.outlet)] -= wide_flow(valve);
      continue;
    }
    mass_[at(valve.item.inlet)] += drawn(valve).flow;
    slope_[at(valve.item.inlet)] += drawn(valve).slope;
    const double flow = regulated_flow(valve);
    mass_[at(valve.item.outlet)] -= flow;
    const bool at_or_below = valve.rest >= potential_[at(valve.item.outlet)];
    if (at_or_below && !valve.off) slope_[at(valve.item.outlet)] += valve.item.stiffness;
  }
  for (const Draw& draw : draws_) {
    const Draw::Taken now = draw.taken(potential_[at(draw.unknown)]);
    mass_[at(draw.unknown)] += now.flow;
    slope_[at(draw.unknown)] += now.slope;
  }
}

void Descent::evaluate() {
  std::fill(mass_.begin(), mass_.end(), 0.0);
  std::fill(slope_.begin(), slope_.end(), 0.0);
  evaluate_chains();
  evaluate_equipment();
}

void Descent::assemble(double ground) {
  auto values = matrix_.values();
  std::fill(values.begin(), values.end(), 0.0);
  const auto& pattern = matrix_.pattern();
  const auto diagonal = [&](Index i) -> double& { return values[at(pattern.diagonal(i))]; };
  for (std::size_t i = 0; i < step_.size(); ++i) {
    const bool live = laid_.live[at(skeleton_.point[i])] != 0;
    diagonal(static_cast<Index>(i)) = live ? slope_[i] + least_tie * laid_.scale / level_ : 1.0;
    step_[i] = -mass_[i];
  }
  const auto join = [&](std::size_t entry, Index a, Index b, double gain) {
    if (a == b) return;
    diagonal(a) += gain;
    diagonal(b) += gain;
    values[at(pattern.slot(entry))] -= gain;
  };
  for (std::size_t c = 0; c < skeleton_.chains(); ++c)
    join(c, skeleton_.a[c], skeleton_.b[c], gain_[c]);
  for (const Valve& valve : valves_) {
    if (!valve.wide) continue;
    const double flow = wide_flow(valve);
    if (flow == 0.0 && fall(valve) < 0.0) continue;
    join(skeleton_.chains() + valve.item.index, valve.item.inlet, valve.item.outlet,
         1.0 / valve.item.wide_open_slope(flow));
  }
  for (std::size_t i = 0; i < step_.size(); ++i) diagonal(static_cast<Index>(i)) *= 1.0 + ground;
}

double Descent::along_step() const {
  double sum = 0.0;
  for (std::size_t i = 0; i < step_.size(); ++i) sum += mass_[i] * step_[i];
  return sum;
}

/// Goes along the step to where the function's slope along it has all but vanished, or all the way
/// where it still falls there. The slope rises along the step, at kinks by a jump.
void Descent::search() {
  const double begin = along_step();
  double done = 0.0;
  const auto go_to = [&](double share) {
    for (std::size_t i = 0; i < step_.size(); ++i) potential_[i] += (share - done) * step_[i];
    done = share;
    evaluate();
    return along_step();
  };
  double low = 0.0, high = 1.0, slope_low = begin, slope_high = go_to(1.0);
  if (slope_high <= flat * -begin) return;
  for (int i = 0; i < most_halvings; ++i) {
    const double chord = low + (high - low) * slope_low / (slope_low - slope_high);
    const double middle = low == 0.0         ? 0.01 * high  // a step may be far too long
                          : high > 4.0 * low ? std::sqrt(low * high)
                                             : 0.5 * (low + high);
    const double share = i % 2 == 0 && chord > low && chord < high ? chord : middle;
    const double slope = go_to(share);
    if (std::abs(slope) <= flat * -begin) return;
    (slope > 0.0 ? high : low) = share;
    (slope > 0.0 ? slope_high : slope_low) = slope;
  }
  go_to(high);  // the far side of a kink is the one whose stiffness the next step has to know
}

double Descent::worst_mass() const {
  double worst = 0.0;
  for (double mass : mass_) worst = std::max(worst, std::abs(mass));
  return worst;
}

bool Descent::go_down() {
  evaluate();
  // Steps that promise no more than the last did are noise: the last digits of a potential, times
  // the stiffness of a short wide main. Balance has no such noise and finishes.
  double promised = HUGE_VAL;
  int stuck = 0;
  for (int i = 0; i < most_steps; ++i) {
    const double worst = worst_mass();
    if (worst <= flow_tolerance * laid_.scale) return true;
    double ground = least_ground;
    for (assemble(ground); !matrix_.factor(); assemble(ground)) {
      ground *= 100.0;
      if (ground > most_ground) return false;
    }
    matrix_.solve(step_);
    const double promises = -along_step();
    stuck = promises > 0.999 * promised ? stuck + 1 : 0;
    if (stuck >= (worst <= near_enough * laid_.scale ? 1 : most_stuck)) return true;
    promised = promises;
    search();
  }
  return worst_mass() <= near_enough * laid_.scale;
}

/// Takes a regulator for what it now is; true when that is news.
bool Descent::look_at(Valve& valve, double share) const {
  const double apart = potential_tolerance * valve.item.rest;
  if (valve.item.parted) {  // feels something it does not feed: wide open or shut
    const bool was_off = valve.off;
    // One that goes on turning over (it feels its own outlet through other stations) ends wide
    // open: the unsafe end.
    const bool wide = felt(valve) < valve.item.rest || valve.returns >= most_returns;
    if (wide && was_off) ++valve.returns;
    const bool news = wide != valve.wide || !(wide || valve.off);
    valve.wide = wide;
    valve.off = !wide;
    valve.drawn = 0.0;
    return news;
  }
  if (valve.wide) {
    if (felt(valve) <= valve.item.rest + apart || valve.returns >= most_returns) return false;
    ++valve.returns;
    valve.wide = false;
    valve.drawn = std::max(0.0, wide_flow(valve));
    return true;
  }
  const double flow = regulated_flow(valve);
  if (flow > 0.0 && valve.item.wide_open_loss(flow) > fall(valve) + apart) {
    valve.wide = true;
    return true;
  }
  bool news = std::abs(flow - valve.drawn) > flow_tolerance * laid_.scale;
  valve.drawn = flow;
  const double wanting = valve.item.rest - felt(valve);
  if (valve.item.felt != valve.item.outlet && (flow > 0.0 || wanting > 0.0) &&
      std::abs(wanting) > 1e2 * apart) {
    valve.rest += share * wanting;
    news = true;
  }
  return news;
}

bool Descent::look_at_valves(int round) {
  // Several regulators that feel one place would each make up the whole of what is wanting there.
  const double share = round < whole_corrections ? 1.0 : 0.4;
  bool news = false;
  for (Valve& valve : valves_) news = look_at(valve, share) || news;
  return news;
}

bool Descent::run() {
  start_without_load();
  for (int round = 0; round < most_rounds; ++round) {
    if (!go_down()) return false;
    if (!look_at_valves(round)) return !overfeeds();
  }
  return false;
}

/// Whether a regulator was left wide open, after turning over too often, that ought to be closed.
bool Descent::overfeeds() const {
  return std::ranges::any_of(valves_, [&](const Valve& valve) {
    const double most = valve.item.rest * (1.0 + potential_tolerance);
    return valve.wide && !valve.item.parted && wide_flow(valve) > 0.0 && felt(valve) > most;
  });
}

Settled Descent::settled() const {
  Settled settled;
  const Network& network = *prepared_.network;
  settled.potential.assign(prepared_.points.size(), std::nan(""));
  settled.flow.assign(prepared_.points.segments(), 0.0);
  for (std::size_t i = 0; i < skeleton_.size(); ++i)
    settled.potential[at(skeleton_.point[i])] = potential_[i];
  for (std::size_t c = 0; c < skeleton_.chains(); ++c) {
    const Index segment = skeleton_.link_segment[at(skeleton_.first[c])];
    const bool along = prepared_.points.a[at(segment)] == skeleton_.point[at(skeleton_.a[c])];
    settled.flow[at(segment)] = along ? flow_[c] : -flow_[c];
  }
  settled.source_flow.assign(network.sources.size(), 0.0);
  settled.source_mode.assign(network.sources.size(), static_cast<char>(SourceMode::idle));
  settled.regulator_flow.assign(network.regulators.size(), 0.0);
  settled.regulator_mode.assign(network.regulators.size(), static_cast<char>(ValveMode::closed));
  for (const SourceItem& source : sources_) {
    const double flow = given(source).flow;
    settled.source_flow[source.index] = flow;
    const SourceMode mode = flow <= 0.0               ? SourceMode::idle
                            : flow <= source.capacity ? SourceMode::feeds
                                                      : SourceMode::at_capacity;
    settled.source_mode[source.index] = static_cast<char>(mode);
  }
  for (const Valve& valve : valves_) {
    const double flow = valve.wide ? wide_flow(valve) : regulated_flow(valve);
    settled.regulator_flow[valve.item.index] = flow;
    const ValveMode mode = flow == 0.0  ? ValveMode::closed
                           : valve.wide ? ValveMode::wide_open
                                        : ValveMode::controls;
    settled.regulator_mode[valve.item.index] = static_cast<char>(mode);
  }
  return settled;
}

}  // namespace bellhole::network
