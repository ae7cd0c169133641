#include "plan/repressurise_course.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

#include "network/bore.hpp"
#include "plan/main_facts.hpp"
#include "squeeze/pace.hpp"

namespace bellhole::plan {
namespace {

std::size_t at(network::Index index) { return static_cast<std::size_t>(index); }

/// "At once", without a jump in the laws of flow.
constexpr Duration at_once = Duration::from_si(0.5);
/// A throttle is set within so long.
constexpr Duration set_within = Duration::from_si(5.0);
constexpr Duration sample = Duration::from_si(5.0);
/// Wall of a main whose outside diameter the map does not give, as a share of the bore: DR 11.
constexpr double wall_otherwise = 0.111;

std::vector<network::Travel> straight(Duration takes) { return {{Duration(), 0.0}, {takes, 1.0}}; }

std::vector<network::Travel> by_pace(const RefillQuestion& q, const PartEnd& end, Speed speed) {
  const network::Network& network = q.model.network();
  const auto in = case_of_main(network, end.pipe);
  const double bore =
      network::bores_of(network.pipes, network.nodes.size())[at(end.pipe)].value.si();
  const double od = facts_of_main(network, end.pipe).od.si();
  const double wall = od > bore ? 0.5 * (od - bore) : wall_otherwise * bore;
  const Length shut = Length::from_si(2.0 * wall), open = Length::from_si(2.0 * wall + bore);
  const auto pace = squeeze::timetable(
      {.from = shut,
       .to = open,
       .speed = speed,
       .step = q.profile.ruling("squeeze.opening_step", in).as<kinds::Length>(),
       .pause = q.profile.ruling("squeeze.opening_pause", in).as<kinds::Duration>(),
       .mark_every = open - shut,
       .per_count = {}});
  std::vector<network::Travel> travel;
  const auto clear = [&](Length gap) { return std::clamp((gap - shut).si() / bore, 0.0, 1.0); };
  for (const squeeze::Stretch& stretch : pace.stretches) {
    travel.push_back({stretch.starts, clear(stretch.from)});
    travel.push_back({stretch.ends, clear(stretch.to)});
  }
  return travel;
}

}  // namespace

Opens opens(const RefillQuestion& q, const PartEnd& end) {
  if (end.pipe == network::none) return {{}, true};
  if (end.kind == ShutKind::valve) {
    const auto turn = q.profile.ruling("plan.time_turn_valve", {}).as<kinds::Duration>();
    return {straight(std::max(turn.value_or(at_once), at_once)), turn.has_value()};
  }
  const auto speed =
      q.profile.ruling("squeeze.opening_speed", case_of_main(q.model.network(), end.pipe))
          .as<kinds::Speed>();
  if (end.kind != ShutKind::squeeze || !speed) return {straight(at_once), false};
  return {by_pace(q, end, *speed), true};
}

std::vector<char> regions_with_gas(const AllShut& before) {
  const Regions& regions = before.regions;
  std::vector<char> gas(regions.count(), 0);
  for (std::size_t i = 0; i < before.state.node_pressure.size(); ++i) {
    const bool here = !std::isnan(before.state.node_pressure[i].si());
    if (here) gas[static_cast<std::size_t>(regions.of_node(static_cast<network::Index>(i)))] = 1;
  }
  return gas;
}

namespace {

/// What an end parts: the nodes of a station's or source's outlet, or the sides of a place on a
/// main. A source itself is no region.
struct Sides {
  std::optional<std::int32_t> from, to;
};

Sides sides_of(const network::Network& network, const Regions& regions, const PartEnd& end) {
  if (end.pipe != network::none)
    return {regions.at(end.pipe, end.station, -1), regions.at(end.pipe, end.station, 1)};
  if (end.kind == ShutKind::source_outlet)
    return {std::nullopt, regions.of_node(network.sources.node[at(end.element)])};
  return {regions.of_node(network.regulators.inlet[at(end.element)]),
          regions.of_node(network.regulators.outlet[at(end.element)])};
}

/// Regions as they are joined end by end. What a regulator parts is no joint: the mains behind it
/// have gas with those before it, and fill through it by themselves.
class Joined {
 public:
  Joined(const network::Network& network, const AllShut& before)
      : gas_(regions_with_gas(before)), volume_(gas_.size(), 0.0), head_(gas_.size()) {
    const Regions& regions = before.regions;
    const auto& shut = before.scenario.regulators_shut;
    std::iota(head_.begin(), head_.end(), std::size_t{0});
    for (std::size_t r = 0; r < network.regulators.size(); ++r) {
      const auto index = static_cast<network::Index>(r);
      if (std::ranges::find(shut, index) != shut.end()) continue;
      stations_.push_back({regions.of_node(network.regulators.inlet[r]),
                           regions.of_node(network.regulators.outlet[r])});
    }
    const auto bores = network::bores_of(network.pipes, network.nodes.size());
    for (const RegionPiece& one : regions.pieces()) {
      const double bore = bores[at(one.piece.pipe)].value.si();
      volume_[static_cast<std::size_t>(one.region)] +=
          std::numbers::pi / 4.0 * bore * bore * (one.piece.end - one.piece.begin).si();
    }
  }

  Meets open(const Sides& sides) {
    const std::size_t to = head(sides.to), from = sides.from ? head(sides.from) : to;
    const bool there = gas_[to] != 0, here = !sides.from || gas_[from] != 0;
    const Meets meets{here != there, here && there, here ? volume_[to] : volume_[from]};
    if (from != to) {
      head_[from] = to;
      volume_[to] += volume_[from];
    }
    gas_[to] = here || there ? 1 : 0;
    pass_stations();
    return meets;
  }

 private:
  void pass_stations() {
    for (bool on = true; on;) {
      on = false;
      for (const Sides& station : stations_) {
        if (gas_[head(station.from)] == 0 || gas_[head(station.to)] != 0) continue;
        gas_[head(station.to)] = 1;
        on = true;
      }
    }
  }
  [[nodiscard]] std::size_t head(std::optional<std::int32_t> region) const {
    auto at = static_cast<std::size_t>(*region);
    while (head_[at] != at) at = head_[at];
    return at;
  }

  std::vector<char> gas_;       ///< by the region that stands for all joined to it
  std::vector<double> volume_;  ///< m3, the same
  std::vector<std::size_t> head_;
  std::vector<Sides> stations_;
};

}  // namespace

std::vector<Meets> meetings(const network::Network& network, const Part& part,
                            const AllShut& before, const std::vector<std::size_t>& order) {
  Joined joined(network, before);
  std::vector<Meets> meets;
  for (const std::size_t end : order)
    meets.push_back(joined.open(sides_of(network, before.regions, part.ends[end])));
  return meets;
}

std::vector<network::Watched> gauges_of(const network::Network& network, const Part& part,
                                        const AllShut& before) {
  const std::vector<char> gas = regions_with_gas(before);
  std::vector<network::Watched> watched;
  for (const PartEnd& end : part.ends) {
    if (end.pipe == network::none) {
      const network::Index node = end.kind == ShutKind::source_outlet
                                      ? network.sources.node[at(end.element)]
                                      : network.regulators.outlet[at(end.element)];
      const network::Index feed =
          end.kind == ShutKind::source_outlet ? node : network.regulators.inlet[at(end.element)];
      watched.push_back({.node = feed});
      watched.push_back({.node = node});
      continue;
    }
    const Sides sides = sides_of(network, before.regions, end);
    const int toward = gas[static_cast<std::size_t>(*sides.to)] == 0 ? 1 : -1;
    watched.push_back({.pipe = end.pipe, .station = end.station, .toward = -toward});
    watched.push_back({.pipe = end.pipe, .station = end.station, .toward = toward});
  }
  return watched;
}

network::Course course_of(const RefillQuestion& q, const network::Scenario& shut,
                          const std::vector<network::Watched>& watched, const Openings& opening) {
  network::Course course;
  course.begins = shut;
  course.begins.closures = q.conditions.closures;
  course.begins.valves = q.conditions.valves;
  for (std::size_t i = 0; i < opening.order.size(); ++i) {
    const PartEnd& end = q.part.ends[opening.order[i]];
    const bool moves = i < opening.begins.size();
    if (end.pipe == network::none) {
      const auto kind = end.kind == ShutKind::source_outlet ? network::SwitchKind::source
                                                            : network::SwitchKind::regulator;
      if (moves) course.switches.push_back({opening.begins[i], kind, end.element, false});
      continue;
    }
    network::Mover mover;
    if (end.kind == ShutKind::valve)
      mover.valve = end.element;
    else
      mover.place = {end.pipe, end.station};
    mover.travel.push_back({Duration(), 0.0});
    const bool throttled = i < opening.throttle.size() && opening.throttle[i];
    const double from = throttled ? opening.throttle[i]->share : 0.0;
    if (throttled) {
      const Duration set = opening.throttle[i]->from;
      if (set > Duration()) mover.travel.push_back({set, 0.0});
      mover.travel.push_back({set + set_within, from});
    }
    if (moves) {
      const Duration begins = std::max(opening.begins[i], mover.travel.back().at + at_once);
      mover.travel.push_back({begins, from});
      for (const network::Travel& step : opens(q, end).travel)
        if (begins + step.at > mover.travel.back().at)
          mover.travel.push_back({begins + step.at, std::max(step.clear, from)});
    }
    course.movers.push_back(std::move(mover));
  }
  course.lasts = opening.lasts;
  course.watched = watched;
  course.sample_every = sample;
  return course;
}

}  // namespace bellhole::plan
