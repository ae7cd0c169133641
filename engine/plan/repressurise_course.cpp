#include "plan/repressurise_course.hpp"

#include <algorithm>
#include <cmath>

#include "network/bore.hpp"
#include "plan/main_facts.hpp"
#include "plan/regions.hpp"
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

std::vector<network::Watched> gauges_of(const network::Network& network, const Part& part,
                                        const network::Scenario& shut) {
  const Regions regions(network, shut);
  const Piece& work = part.work.front();
  const std::int32_t inside = regions.at(work.pipe, (work.begin + work.end) * 0.5);
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
    const int toward = regions.at(end.pipe, end.station, 1) == inside ? 1 : -1;
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
    const double from = i == 0 ? opening.throttle.value_or(0.0) : 0.0;
    if (from > 0.0) mover.travel.push_back({set_within, from});
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
