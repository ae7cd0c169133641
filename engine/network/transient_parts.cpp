#include "network/transient_parts.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

#include "gas/flattened.hpp"
#include "gas/friction.hpp"
#include "network/bore.hpp"

namespace bellhole::network {
namespace {

/// Sources and regulators give more here than in the steady state (1e-9 and 1e-7): flows are no
/// unknowns of their own, and the last digits of a potential times a stiffer spring would show.
constexpr double source_gives = 1e-5;
constexpr double steady_source_gives = 1e-9;
/// Drawing::constant: in full down to this share of the least pressure.
constexpr double constant_down_to = 0.02;
constexpr double seconds_an_hour = 3600.0;

double clear_share(const Mover& mover, double seconds) {
  const auto& travel = mover.travel;
  if (travel.empty()) return 1.0;
  if (seconds <= travel.front().at.si()) return travel.front().clear;
  for (std::size_t k = 1; k < travel.size(); ++k) {
    const double begin = travel[k - 1].at.si(), end = travel[k].at.si();
    if (seconds >= end) continue;
    const double share = (seconds - begin) / (end - begin);
    return travel[k - 1].clear + share * (travel[k].clear - travel[k - 1].clear);
  }
  return travel.back().clear;
}

/// The scenario with the valves that move left to their movers.
Scenario without_movers(const Course& course) {
  Scenario scenario = course.begins;
  for (const Mover& mover : course.movers) {
    if (mover.valve != none) scenario.valves.push_back({mover.valve, Position::open});
  }
  return scenario;
}

}  // namespace

Order::Order(const Model::Prepared& prepared) {
  const auto skeleton = prepared.unfolded != nullptr
                            ? prepared.unfolded
                            : std::make_shared<const Skeleton>(make_skeleton(
                                  prepared.points, prepared.kept, prepared.pairs, Fold::nothing));
  pattern = skeleton->pattern;
  // Nothing is folded: every point is an unknown of its own, every chain a segment.
  row.resize(prepared.points.size());
  for (std::size_t i = 0; i < row.size(); ++i) {
    row[i] = pattern->place()[at(skeleton->core[i])];
  }
  std::vector<Index> chain(skeleton->chains());
  for (std::size_t c = 0; c < chain.size(); ++c) chain[c] = static_cast<Index>(c);
  std::ranges::stable_sort(chain, {}, [&](Index c) { return pattern->slot(at(c)); });
  run.resize(chain.size());
  for (const Index c : chain) {
    const Index s = skeleton->link_segment[at(skeleton->first[at(c)])];
    run[at(s)] = static_cast<Index>(segment.size());
    segment.push_back(s);
    slot.push_back(pattern->slot(at(c)));
  }
  for (std::size_t k = 0; k < prepared.pairs.size(); ++k) {
    pair_slot.push_back(pattern->slot(skeleton->chains() + k));
  }
}

Parts::Parts(const Model::Prepared& prepared, const Course& course, const Order& order,
             std::span<const Index> leaks_at, double give)
    : laid(lay_over(prepared, without_movers(course))),
      prepared_(prepared),
      course_(course),
      order_(order) {
  const Network& network = *prepared.network;
  // Here every part has a pressure, fed or not.
  std::ranges::fill(laid.live, char{1});
  laid.scale = 1e-6;
  for (double wanted_now : laid.wanted) laid.scale += wanted_now * course.draw_factor;
  meter_shut_.assign(network.customers.size(), 0);
  for (std::size_t c = 0; c < course.begins.without_load.size(); ++c) {
    meter_shut_[c] = static_cast<char>(course.begins.without_load[c]);
  }
  lay_equipment(give);
  lay_lines();
  lay_movers();
  lay_leaks(leaks_at);
  collect_moments();
  lay_taps();
}

void Parts::lay_equipment(double give) {
  Skeleton as_they_are;  // every point its own unknown
  as_they_are.core = order_.row;
  Case open = laid;  // shut stations too: a switch may open them
  std::ranges::fill(open.source_shut, char{0});
  std::ranges::fill(open.regulator_shut, char{0});
  const Equipment made = make_equipment(prepared_, as_they_are, open, give);
  level = made.level;
  for (const SourceItem& item : made.sources) {
    sources.push_back({item, laid.source_shut[item.index] != 0});
    sources.back().item.stiffness *= steady_source_gives / source_gives;
  }
  for (const ValveItem& item : made.valves) {
    valves.push_back({item, laid.regulator_shut[item.index] != 0});
  }
}

void Parts::lay_lines() {
  const Points& points = prepared_.points;
  // As in Balance: no length of main may be stiffer than this.
  constexpr double least_loss = 1e-9;
  const double least_slope = least_loss * level / laid.scale;
  for (const Index segment : order_.segment) {
    const std::size_t s = at(segment);
    const gas::PipeLaw& law = prepared_.law[at(points.pipe[s])];
    const double length = std::max(points.length[s], least_slope / law.loss(0.0, 1.0).slope);
    lines.push_back({.a = order_.row[at(points.a[s])],
                     .b = order_.row[at(points.b[s])],
                     .per_curve = length * prepared_.lift[s],
                     .extra = laid.closed[s] != 0 ? HUGE_VAL : 0.0,
                     .law = &law,
                     .length = length});
    closed.push_back(laid.closed[s]);
  }
  lay_curves();
}

/// One table for all mains of one law.
void Parts::lay_curves() {
  constexpr std::size_t most = 1000;  // tables, 9 kB each; a main beyond them asks its law
  constexpr int octaves = 12;         // above the end of laminar flow: Re 8e6
  std::map<double, std::vector<std::pair<const gas::PipeLaw*, const numerics::Octaves*>>> known;
  for (Line& line : lines) {
    const gas::PipeLaw& law = *line.law;
    // Laws change their form at the end of laminar flow and at twice that.
    line.per_flow = law.reynolds(1.0) / gas::laminar_ends;
    auto& alike = known[line.per_flow];
    const auto same = std::ranges::find_if(alike, [&](const auto& k) { return *k.first == law; });
    if (same != alike.end()) {
      line.curve = same->second;
      continue;
    }
    if (curves_.size() < most) {
      const double unit = 1.0 / line.per_flow;
      curves_.emplace_back(octaves, [&](double x) -> numerics::Octaves::At {
        const gas::Loss loss = law.loss(x * unit, 1.0);
        return {loss.value, loss.slope * unit};
      });
      line.curve = &curves_.back();
    }
    alike.emplace_back(&law, line.curve);
  }
}

void Parts::lay_movers() {
  const Network& network = *prepared_.network;
  for (std::size_t v = 0; v < network.valves.size(); ++v) {
    const Index s =
        prepared_.points.segment_at(network.valves.pipe[v], network.valves.station[v].si());
    if (laid.closed[at(s)] != 0) {
      shut_places.push_back({network.valves.pipe[v], network.valves.station[v]});
    }
  }
  shut_places.insert(shut_places.end(), course_.begins.closures.begin(),
                     course_.begins.closures.end());
  if (course_.movers.empty()) return;
  const std::vector<Bore> bores = bores_of(network.pipes, network.nodes.size());
  for (const Mover& mover : course_.movers) {
    MovingPart part{.mover = &mover, .place = mover.place};
    if (mover.valve != none) {
      part.place = {network.valves.pipe[at(mover.valve)], network.valves.station[at(mover.valve)]};
    }
    shut_places.push_back(part.place);
    part.run =
        order_.run[at(prepared_.points.segment_at(part.place.pipe, part.place.station.si()))];
    part.loss_at_unit_k =
        lines[at(part.run)].lift() *
        gas::loss_per_flow_squared(prepared_.gas, bores[at(part.place.pipe)].value, 1.0);
    movers.push_back(part);
  }
}

void Parts::lay_leaks(std::span<const Index> leaks_at) {
  if (leaks_at.empty()) return;
  const Network& network = *prepared_.network;
  const std::vector<Bore> bores = bores_of(network.pipes, network.nodes.size());
  for (std::size_t k = 0; k < leaks_at.size(); ++k) {
    const Leak& leak = course_.leaks[k];
    const std::size_t pipe = at(leak.place.pipe);
    const double bore = bores[pipe].value.si();
    const int ways = leak.opening.area ? 1 : 2;
    for (int way = 0; way < ways; ++way) {
      const std::size_t point = at(prepared_.points.of_customer[at(leaks_at[k] + way)]);
      LeakPart part{.leak = &leak, .index = k, .row = order_.row[point]};
      part.height = prepared_.points.height[point];
      part.section = std::numbers::pi / 4.0 * bore * bore;
      part.air = gas::barometer_higher(prepared_.barometer, part.height, course_.begins.air).si();
      if (!leak.opening.area) {
        const Index node = way == 0 ? network.pipes.from[pipe] : network.pipes.to[pipe];
        part.node = order_.row[at(node)];
        part.node_height = prepared_.points.height[at(node)];
      }
      leaks.push_back(part);
    }
  }
}

void Parts::collect_moments() {
  const double end = course_.lasts.si();
  const auto add = [&](double t) {
    if (t > 0.0 && t < end) moments_.push_back(t);
  };
  for (const Mover& mover : course_.movers) {
    for (const Travel& travel : mover.travel) add(travel.at.si());
  }
  for (const Switch& change : course_.switches) add(change.at.si());
  for (const Leak& leak : course_.leaks) {
    add(leak.from.si());
    add(leak.until.si());
  }
  for (const Weather& weather : course_.weather) add(weather.at.si());
  if (!course_.hour_stands) {
    const double to_the_hour =
        (std::floor(course_.begins.hour) + 1.0 - course_.begins.hour) * seconds_an_hour;
    for (double t = to_the_hour; t < end; t += seconds_an_hour) add(t);
  }
  moments_.push_back(end);
  std::ranges::sort(moments_);
  constexpr double same = 1e-3;
  const auto [first, last] =
      std::ranges::unique(moments_, [](double x, double y) { return y - x < same; });
  moments_.erase(first, last);
  moments_.back() = end;
}

void Parts::set_time(double seconds) {
  for (const MovingPart& part : movers) {
    if (closed[at(part.run)] == 0) lines[at(part.run)].extra = 0.0;
  }
  for (const MovingPart& part : movers) {
    const double open = gas::open_share(clear_share(*part.mover, seconds));
    if (open >= 1.0) continue;
    lines[at(part.run)].extra += part.loss_at_unit_k * gas::squeeze_loss(open).most;
  }
}

void Parts::set_moment(double seconds) {
  // A moment belongs to what begins with it.
  constexpr double just_after = 1e-3;
  for (SourcePart& source : sources) source.shut = laid.source_shut[source.item.index] != 0;
  for (ValvePart& valve : valves) valve.shut = laid.regulator_shut[valve.item.index] != 0;
  for (LeakPart& part : leaks) {
    part.open = part.leak->from.si() <= seconds + just_after &&
                part.leak->until.si() > seconds + just_after;
  }
  meters_now = meter_shut_;
  for (const Switch& change : course_.switches) {
    if (change.at.si() > seconds + just_after) continue;
    const std::size_t element = at(change.element);
    switch (change.kind) {
      case SwitchKind::meter:
        meters_now[element] = change.shut ? 1 : 0;
        break;
      case SwitchKind::source:
        for (SourcePart& source : sources) {
          if (source.item.index == element) source.shut = change.shut;
        }
        break;
      case SwitchKind::regulator:
        for (ValvePart& valve : valves) {
          if (valve.item.index == element) valve.shut = change.shut;
        }
        break;
    }
  }
  Scenario now = course_.begins;
  if (!course_.hour_stands) {
    now.hour = std::fmod(course_.begins.hour + (seconds + just_after) / seconds_an_hour, 24.0);
  }
  for (const Weather& weather : course_.weather) {
    if (weather.at.si() <= seconds + just_after) now.air = weather.air;
  }
  now.without_load.assign(meters_now.begin(), meters_now.end());
  const std::vector<StdFlow> flows = loads(*prepared_.network, now);
  wanted.resize(flows.size());
  for (std::size_t c = 0; c < flows.size(); ++c) {
    wanted[c] = flows[c].si() * prepared_.kg_per_std_m3 * course_.draw_factor;
  }
  set_draws();
}

/// Customers by rows, and what those of one least pressure at one row have in common.
void Parts::lay_taps() {
  const std::vector<Index>& point_of = prepared_.points.of_customer;
  const auto row_of = [&](Index c) { return order_.row[at(point_of[at(c)])]; };
  std::vector<Index> next(order_.row.size() + 1, 0);
  for (const Index point : point_of) ++next[at(order_.row[at(point)]) + 1];
  for (std::size_t i = 1; i < next.size(); ++i) next[i] += next[i - 1];
  by_row.resize(point_of.size());
  for (std::size_t c = 0; c < point_of.size(); ++c) {
    by_row[at(next[at(row_of(static_cast<Index>(c)))]++)] = static_cast<Index>(c);
  }
  for (std::size_t k = 0, end = 0; k < by_row.size(); k = end) {
    const Index row = row_of(by_row[k]);
    while (end < by_row.size() && row_of(by_row[end]) == row) ++end;
    std::stable_sort(by_row.begin() + static_cast<std::ptrdiff_t>(k),
                     by_row.begin() + static_cast<std::ptrdiff_t>(end),
                     [&](Index x, Index y) { return laid.least[at(x)] > laid.least[at(y)]; });
  }
  const double share = course_.drawing == Drawing::constant ? constant_down_to : 1.0;
  for (std::size_t k = 0; k < by_row.size(); ++k) {
    const std::size_t c = at(by_row[k]);
    const bool alike = k > 0 && row_of(by_row[k - 1]) == row_of(by_row[k]) &&
                       laid.least[at(by_row[k - 1])] == laid.least[c];
    if (!alike) {
      const double height = prepared_.points.height[at(point_of[c])];
      taps_.push_back({.draw = {.unknown = row_of(by_row[k]),
                                .none_at = laid.altitude.reduced(0.0, height),
                                .full_from = laid.altitude.reduced(laid.least[c] * share, height)},
                       .first = k});
    }
    taps_.back().last = k + 1;
  }
}

void Parts::set_draws() {
  draws.clear();
  for (const Tap& tap : taps_) {
    Draw draw = tap.draw;
    for (std::size_t k = tap.first; k < tap.last; ++k) draw.full += wanted[at(by_row[k])];
    if (draw.full > 0.0) draws.push_back(draw);
  }
}

}  // namespace bellhole::network
