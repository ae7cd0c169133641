#include "plan/purge_path.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <iterator>

#include "plan/purge_amounts.hpp"
#include "plan/purge_graph.hpp"

namespace bellhole::plan {

std::string_view words(Feed feed) {
  constexpr std::array<std::string_view, 5> all{"the bypass", "a rider valve", "the valve itself",
                                                "the squeeze itself", "the mains filled before"};
  return all[static_cast<std::size_t>(feed)];
}

namespace {

using network::Index;
using network::Network;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

/// Off a shut place by as little as keeps a draw on its own side.
constexpr double beside_m = 1e-3;
/// Two ways that differ by less are alike.
constexpr double alike_m = 1e-6;

/// With everything shut, at the high load.
struct Shut {
  network::Scenario scenario;
  Regions regions;
  network::SteadyState state;
};

/// The way through one region that has work in it.
class Finder {
 public:
  Finder(const PurgePathQuestion& q, const Shut& shut, std::string vent)
      : q_(q),
        network_(q.model.network()),
        shut_(shut),
        vent_(std::move(vent)),
        graph_(purge_graph(network_, shut.regions, q.part)),
        filled_(graph_.vertices.size(), 0),
        used_(graph_.edges.size(), 0) {}

  Result<PurgePath> find() {
    legs_from_ends();
    legs_to_dead_ends();
    legs_to_loops();
    list_services();
    for (const PurgeEdge& edge : graph_.edges)
      path_.volume = path_.volume + volume_of(edge.bore, edge.length());
    find_amounts(q_, path_);
    if (q_.solve) {
      BELLHOLE_TRY(held, hold());
      static_cast<void>(held);
    }
    say_way(q_, graph_, loops_, path_);
    return std::move(path_);
  }

 private:
  // What feeds.

  /// Which side of an end has the gas: +1 where the part lies toward the main's `from`.
  [[nodiscard]] int live_side(std::size_t e) const {
    const PurgeVertex& vertex = graph_.vertices[*graph_.of_end[e]];
    return graph_.edges[vertex.edges.front()].end == vertex.station ? 1 : -1;
  }

  /// What a station's outlet gives with this at its inlet.
  [[nodiscard]] GaugePressure behind_station(const PartEnd& end, GaugePressure inlet) const {
    return std::min(inlet, network_.regulators.set_point[at(end.element)]);
  }

  /// Pressure behind an end while everything is shut; nan: no gas, or no way from it into the part.
  [[nodiscard]] double behind(std::size_t e) const {
    if (!graph_.of_end[e] || graph_.vertices[*graph_.of_end[e]].edges.empty()) return std::nan("");
    const PartEnd& end = q_.part.ends[e];
    if (end.kind == ShutKind::source_outlet) return network_.sources.pressure[at(end.element)].si();
    if (end.kind == ShutKind::regulator_outlet) {
      const Index inlet = network_.regulators.inlet[at(end.element)];
      return behind_station(end, shut_.state.node_pressure[at(inlet)]).si();
    }
    return pressure_at(network_, shut_.regions, shut_.state, end.pipe, end.station, live_side(e))
        .si();
  }

  [[nodiscard]] Feed feed_of(std::size_t e) const {
    const PartEnd& end = q_.part.ends[e];
    if (q_.part.bypass) return Feed::bypass;
    if (end.rider) return Feed::rider;
    return end.kind == ShutKind::squeeze || end.kind == ShutKind::placed ? Feed::squeeze
                                                                         : Feed::valve;
  }

  void legs_from_ends() {
    std::vector<std::size_t> live;
    for (std::size_t e = 0; e < q_.part.ends.size(); ++e)
      if (behind(e) > 0.0) live.push_back(e);
    std::ranges::stable_sort(live, [&](std::size_t a, std::size_t b) {
      return std::pair(feed_of(a), -behind(a)) < std::pair(feed_of(b), -behind(b));
    });
    std::vector<char> vent(graph_.vertices.size(), 0);
    vent[graph_.work] = 1;
    for (const std::size_t e : live) {
      const auto way = way_to(graph_, *graph_.of_end[e], vent);
      if (!way) continue;
      PurgeLeg leg = leg_along(*graph_.of_end[e], way->edges);
      leg.feed = feed_of(e);
      leg.end = e;
      leg.from = end_words(network_, q_.part.ends[e], q_.system);
      leg.vent = vent_;
      leg.before = GaugePressure::from_si(behind(e));
      path_.legs.push_back(std::move(leg));
    }
  }

  /// What no end reaches on its way to the work: each has a vent of its own at its far end, the
  /// nearest first.
  void legs_to_dead_ends() {
    if (path_.legs.empty()) return;
    const std::vector<double> away = away_from_feed();
    std::vector<std::size_t> ends;
    for (std::size_t v = 0; v < graph_.vertices.size(); ++v)
      if (graph_.vertices[v].edges.size() == 1 && filled_[v] == 0) ends.push_back(v);
    std::ranges::stable_sort(ends, {}, [&](std::size_t v) { return away[v]; });
    for (const std::size_t v : ends) {
      auto way = way_to(graph_, v, filled_);
      if (!way) continue;
      std::ranges::reverse(way->edges);
      PurgeLeg leg = leg_along(way->to, way->edges);
      leg.from = vertex_words(way->to);
      leg.vent = vertex_words(v);
      path_.legs.push_back(std::move(leg));
    }
  }

  /// What has gas at both its sides, the farthest first: a vent where both ways to it are alike.
  void legs_to_loops() {
    while (!path_.legs.empty()) {
      const std::vector<double> away = distances(graph_, filled_);
      const auto way = [&](const PurgeEdge& edge) {
        return away[edge.at_begin] + away[edge.at_end] + edge.length().si();
      };
      std::optional<std::size_t> farthest;
      for (std::size_t e = 0; e < graph_.edges.size(); ++e) {
        if (used_[e] != 0 || !std::isfinite(way(graph_.edges[e]))) continue;
        if (!farthest || way(graph_.edges[e]) > way(graph_.edges[*farthest])) farthest = e;
      }
      if (!farthest) return;
      vent_between(*farthest, meeting(graph_.edges[*farthest], away), away);
    }
  }

  /// The last main before a vent, in the direction of the gas.
  struct Approach {
    std::size_t from = 0, edge = 0;
    Length begins, ends;
  };

  /// Both sides of a place on a main, or every shortest way to the vertex that it stands at.
  [[nodiscard]] std::vector<Approach> approaches(std::size_t e, Length station,
                                                 const std::vector<double>& away) const {
    const PurgeEdge& edge = graph_.edges[e];
    if (station != edge.begin && station != edge.end)
      return {{edge.at_begin, e, edge.begin, station}, {edge.at_end, e, edge.end, station}};
    const std::size_t vertex = station == edge.begin ? edge.at_begin : edge.at_end;
    std::vector<Approach> all;
    for (const std::size_t last : graph_.vertices[vertex].edges) {
      const PurgeEdge& one = graph_.edges[last];
      const std::size_t from = one.other(vertex);
      if (used_[last] != 0 || away[from] + one.length().si() > away[vertex] + alike_m) continue;
      const bool along = one.at_begin == from;
      all.push_back({from, last, along ? one.begin : one.end, along ? one.end : one.begin});
    }
    return all;
  }

  /// Ends a way at the first vertex on it that is filled, which is answered.
  [[nodiscard]] std::size_t cut_where_filled(std::size_t from,
                                             std::vector<std::size_t>& way) const {
    std::size_t n = 0;
    for (; n < way.size() && filled_[from] == 0; ++n) from = graph_.edges[way[n]].other(from);
    way.resize(n);
    return from;
  }

  void vent_between(std::size_t e, Length station, const std::vector<double>& away) {
    const PurgeEdge& edge = graph_.edges[e];
    const bool at_vertex = station == edge.begin || station == edge.end;
    const std::size_t vertex = station == edge.begin ? edge.at_begin : edge.at_end;
    const std::string vent =
        at_vertex ? vertex_words(vertex) : place_words(edge.pipe, station) + ", between";
    const std::vector<Approach> all = approaches(e, station, away);
    std::vector<std::vector<std::size_t>> ways;
    for (const Approach& approach : all)
      ways.push_back(way_to(graph_, approach.from, filled_)->edges);  // `away` is finite
    for (std::size_t i = 0; i < all.size(); ++i) {
      const Approach& approach = all[i];
      const std::size_t from = cut_where_filled(approach.from, ways[i]);
      std::ranges::reverse(ways[i]);
      PurgeLeg leg = leg_along(from, ways[i]);
      leg.runs.push_back({graph_.edges[approach.edge].pipe, approach.begins, approach.ends,
                          graph_.edges[approach.edge].bore});
      used_[approach.edge] = 1;
      leg.from = vertex_words(from);
      leg.vent = vent;
      path_.legs.push_back(std::move(leg));
    }
    loops_.push_back({network_.pipes.id[at(edge.pipe)], vent});
  }

  PurgeLeg leg_along(std::size_t from, const std::vector<std::size_t>& edges) {
    PurgeLeg leg;
    filled_[from] = 1;
    for (const std::size_t e : edges) {
      const PurgeEdge& edge = graph_.edges[e];
      const bool along = edge.at_begin == from;
      leg.runs.push_back(
          {edge.pipe, along ? edge.begin : edge.end, along ? edge.end : edge.begin, edge.bore});
      used_[e] = 1;
      from = edge.other(from);
      filled_[from] = 1;
    }
    return leg;
  }

  [[nodiscard]] std::string vertex_words(std::size_t v) const {
    const PurgeVertex& vertex = graph_.vertices[v];
    if (vertex.work) return "the work";
    if (vertex.end)
      return "the part side of " + end_words(network_, q_.part.ends[*vertex.end], q_.system);
    if (vertex.node != network::none) return "node " + network_.nodes.id[at(vertex.node)];
    return place_words(vertex.pipe, vertex.station) + ", where a valve stands closed";
  }

  [[nodiscard]] std::string place_words(Index pipe, Length station) const {
    return fmt::format("main {} at {}", network_.pipes.id[at(pipe)],
                       units::print_in(station, q_.system == units::System::us ? "ft" : "m", 1));
  }

  [[nodiscard]] std::vector<double> away_from_feed() const {
    std::vector<char> feed(graph_.vertices.size(), 0);
    feed[*graph_.of_end[*path_.legs.front().end]] = 1;
    return distances(graph_, feed);
  }

  // Services.

  void list_services() {
    if (path_.legs.empty()) return;
    const std::vector<double> away = away_from_feed();
    const auto& customers = network_.customers;
    for (std::size_t c = 0; c < customers.size(); ++c) {
      for (const PurgeEdge& edge : graph_.edges) {
        const Length station = customers.station[c];
        if (customers.pipe[c] != edge.pipe || station < edge.begin || station > edge.end) continue;
        const double from_begin = away[edge.at_begin] + (station - edge.begin).si();
        const double from_end = away[edge.at_end] + (edge.end - station).si();
        path_.services.push_back(
            {static_cast<Index>(c), Length::from_si(std::min(from_begin, from_end))});
        break;
      }
    }
    std::ranges::stable_sort(path_.services, {}, &PurgeService::away);
  }

  // Does the network hold?

  struct Beside {
    Index pipe = network::none;
    Length station;
  };

  /// Where the gas of an end is drawn from: beside it, or from a main at its station's inlet.
  [[nodiscard]] std::optional<Beside> beside(std::size_t e) const {
    const PartEnd& end = q_.part.ends[e];
    const auto& pipes = network_.pipes;
    if (end.pipe != network::none) {
      const double station = end.station.si() + live_side(e) * beside_m;
      return Beside{end.pipe,
                    Length::from_si(std::clamp(station, 0.0, pipes.length[at(end.pipe)].si()))};
    }
    const Index inlet = network_.regulators.inlet[at(end.element)];
    for (std::size_t p = 0; p < pipes.size(); ++p) {
      if (pipes.from[p] == inlet) return Beside{static_cast<Index>(p), Length()};
      if (pipes.to[p] == inlet) return Beside{static_cast<Index>(p), pipes.length[p]};
    }
    return std::nullopt;
  }

  Result<bool> hold() {
    for (PurgeLeg& leg : path_.legs) {
      if (!leg.end || !(leg.flow_m3_per_s > 0.0)) continue;
      const PartEnd& end = q_.part.ends[*leg.end];
      if (end.kind == ShutKind::source_outlet) {
        leg.purging = leg.before;  // it feeds nothing else
        continue;
      }
      const auto place = beside(*leg.end);
      if (!place) continue;
      BELLHOLE_TRY(found,
                   hold_of(q_, shut_.scenario, shut_.state, place->pipe, place->station, leg));
      static_cast<void>(found);
      if (end.kind == ShutKind::regulator_outlet) leg.purging = behind_station(end, *leg.purging);
    }
    return true;
  }

  const PurgePathQuestion& q_;
  const Network& network_;
  const Shut& shut_;
  std::string vent_;  ///< at the work, in words
  PurgeGraph graph_;
  std::vector<char> filled_, used_;
  std::vector<PurgeLoop> loops_;
  PurgePath path_;
};

/// What several parts of the work say alike is said once.
void add_part(PurgePath& all, PurgePath part, bool first) {
  std::ranges::move(part.legs, std::back_inserter(all.legs));
  std::ranges::move(part.services, std::back_inserter(all.services));
  all.volume = all.volume + part.volume;
  if (first)
    all.time_planned = part.time_planned;
  else if (all.time_planned && part.time_planned)
    all.time_planned = *all.time_planned + *part.time_planned;
  else
    all.time_planned.reset();
  const auto once = [](auto& list, auto& more, const auto& same) {
    for (auto& one : more)
      if (std::ranges::none_of(list, [&](const auto& other) { return same(one, other); }))
        list.push_back(std::move(one));
  };
  once(all.findings, part.findings, [](const Finding& a, const Finding& b) {
    return a.rule == b.rule && a.says == b.says && a.about == b.about;
  });
  once(all.cautions, part.cautions, std::equal_to<>());
  once(all.assumed, part.assumed, std::equal_to<>());
}

}  // namespace

Result<PurgePath> purge_path(const PurgePathQuestion& question) {
  const Network& network = question.model.network();
  network::Scenario scenario = shut_scenario(network, question.part, question.conditions);
  const Regions regions(network, scenario);
  scenario.load = network::LoadCase::high;
  BELLHOLE_TRY(state, question.model.solve(scenario));
  const Shut shut{std::move(scenario), regions, std::move(state)};
  PurgePath path;
  const std::vector<Part> parts = parted(regions, question.part);
  for (const Part& part : parts) {
    const PurgePathQuestion one{
        question.model, question.profile, question.conditions, part,
        question.speed, question.stack,   question.system,     question.solve};
    const std::string& main = network.pipes.id[at(part.work.front().pipe)];
    BELLHOLE_TRY(
        found,
        Finder(one, shut, parts.size() == 1 ? "the work" : "the work on main " + main).find());
    add_part(path, std::move(found), &part == &parts.front());
  }
  path.says = fmt::format("{} leg{}, air out at the work; {} service{} last.", path.legs.size(),
                          path.legs.size() == 1 ? "" : "s", path.services.size(),
                          path.services.size() == 1 ? "" : "s");
  return path;
}

}  // namespace bellhole::plan
