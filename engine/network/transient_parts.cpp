#include "network/transient_parts.hpp"

#include <algorithm>
#include <cmath>

#include "gas/flattened.hpp"
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

Parts::Parts(const Model::Prepared& prepared, const Course& course, double give)
    : laid(lay_over(prepared, without_movers(course))), prepared_(prepared), course_(course) {
  const Network& network = *prepared.network;
  // Here every part has a pressure, fed or not.
  std::ranges::fill(laid.live, char{1});
  laid.scale = 1e-6;
  for (double wanted_now : laid.wanted) laid.scale += wanted_now * course.draw_factor;
  meter_shut_.assign(network.customers.size(), 0);
  for (std::size_t c = 0; c < course.begins.without_load.size(); ++c) {
    meter_shut_[c] = static_cast<char>(course.begins.without_load[c]);
  }
  for (std::size_t c = 0; c < network.customers.size(); ++c) {
    by_point_.push_back(static_cast<Index>(c));
  }
  std::ranges::stable_sort(by_point_, {},
                           [&](Index c) { return prepared.points.of_customer[at(c)]; });
  lay_equipment(give);
  lay_runs();
  lay_movers();
  collect_moments();
  set_moment(0.0);
}

void Parts::lay_equipment(double give) {
  Skeleton as_they_are;  // every point its own unknown
  as_they_are.core.resize(prepared_.points.size());
  for (std::size_t i = 0; i < as_they_are.core.size(); ++i) {
    as_they_are.core[i] = static_cast<Index>(i);
  }
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

void Parts::lay_runs() {
  const Points& points = prepared_.points;
  // As in Balance: no length of main may be stiffer than this.
  constexpr double least_loss = 1e-9;
  const double least_slope = least_loss * level / laid.scale;
  runs.a = points.a;
  runs.b = points.b;
  runs.mover.assign(points.segments(), none);
  runs.closed = laid.closed;
  for (std::size_t s = 0; s < points.segments(); ++s) {
    const gas::PipeLaw& law = prepared_.law[at(points.pipe[s])];
    runs.law.push_back(&law);
    runs.length.push_back(std::max(points.length[s], least_slope / law.loss(0.0, 1.0).slope));
    runs.per_lift.push_back(1.0 / prepared_.lift[s]);
  }
}

void Parts::lay_movers() {
  const Network& network = *prepared_.network;
  const std::vector<Bore> bores = bores_of(network.pipes, network.nodes.size());
  for (std::size_t v = 0; v < network.valves.size(); ++v) {
    const Index s =
        prepared_.points.segment_at(network.valves.pipe[v], network.valves.station[v].si());
    if (laid.closed[at(s)] != 0) {
      shut_places.push_back({network.valves.pipe[v], network.valves.station[v]});
    }
  }
  shut_places.insert(shut_places.end(), course_.begins.closures.begin(),
                     course_.begins.closures.end());
  for (const Mover& mover : course_.movers) {
    MovingPart part{.mover = &mover, .place = mover.place};
    if (mover.valve != none) {
      part.place = {network.valves.pipe[at(mover.valve)], network.valves.station[at(mover.valve)]};
    }
    shut_places.push_back(part.place);
    part.segment = prepared_.points.segment_at(part.place.pipe, part.place.station.si());
    part.loss_at_unit_k =
        gas::loss_per_flow_squared(prepared_.gas, bores[at(part.place.pipe)].value, 1.0);
    if (runs.mover[at(part.segment)] == none) {
      runs.mover[at(part.segment)] = static_cast<Index>(movers.size());
    }
    movers.push_back(part);
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

void Parts::squeeze_losses(double seconds, std::vector<double>& losses) const {
  losses.assign(movers.size(), 0.0);
  for (const MovingPart& part : movers) {
    const double open = gas::open_share(clear_share(*part.mover, seconds));
    losses[at(runs.mover[at(part.segment)])] +=
        open < 1.0 ? part.loss_at_unit_k * gas::squeeze_loss(open).most : 0.0;
  }
}

void Parts::set_moment(double seconds) {
  // A moment belongs to what begins with it.
  constexpr double just_after = 1e-3;
  for (SourcePart& source : sources) source.shut = laid.source_shut[source.item.index] != 0;
  for (ValvePart& valve : valves) valve.shut = laid.regulator_shut[valve.item.index] != 0;
  std::vector<char> meters = meter_shut_;
  for (const Switch& change : course_.switches) {
    if (change.at.si() > seconds + just_after) continue;
    const std::size_t element = at(change.element);
    switch (change.kind) {
      case SwitchKind::meter:
        meters[element] = change.shut ? 1 : 0;
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
  now.without_load.assign(meters.begin(), meters.end());
  const std::vector<StdFlow> flows = loads(*prepared_.network, now);
  wanted.resize(flows.size());
  for (std::size_t c = 0; c < flows.size(); ++c) {
    wanted[c] = flows[c].si() * prepared_.kg_per_std_m3 * course_.draw_factor;
  }
  set_draws();
}

void Parts::set_draws() {
  draws.clear();
  for (const Index customer : by_point_) {
    const std::size_t c = at(customer);
    if (!(wanted[c] > 0.0)) continue;
    const Index point = prepared_.points.of_customer[c];
    const double height = prepared_.points.height[at(point)];
    Draw draw{.unknown = point, .full = wanted[c]};
    draw.none_at = laid.altitude.reduced(0.0, height);
    const double down_to =
        laid.least[c] * (course_.drawing == Drawing::constant ? constant_down_to : 1.0);
    draw.full_from = laid.altitude.reduced(down_to, height);
    if (!draws.empty() && draws.back().unknown == point &&
        draws.back().full_from == draw.full_from) {
      draws.back().full += draw.full;
    } else {
      draws.push_back(draw);
    }
  }
}

}  // namespace bellhole::network
