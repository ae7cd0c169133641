#include "plan/purge_path.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

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

class Finder {
 public:
  explicit Finder(const PurgePathQuestion& q)
      : q_(q),
        network_(q.model.network()),
        shut_(shut_scenario(network_, q.part, q.conditions)),
        regions_(network_, shut_),
        graph_(purge_graph(network_, regions_, q.part)) {
    shut_.load = network::LoadCase::high;
  }

  Result<PurgePath> find() {
    BELLHOLE_TRY(state, q_.model.solve(shut_));
    state_ = std::move(state);
    filled_.assign(graph_.vertices.size(), 0);
    used_.assign(graph_.edges.size(), 0);
    legs_from_ends();
    legs_to_dead_ends();
    list_services();
    for (PurgeEdge& edge : graph_.edges)
      path_.volume = path_.volume + volume_of(edge.bore, edge.length());
    find_amounts(q_, path_);
    if (q_.solve) {
      BELLHOLE_TRY(held, hold());
      static_cast<void>(held);
    }
    say();
    return std::move(path_);
  }

 private:
  // What feeds.

  /// Which side of an end has the gas: +1 where the part lies toward the main's `from`.
  [[nodiscard]] int live_side(std::size_t e) const {
    const PurgeVertex& vertex = graph_.vertices[*graph_.of_end[e]];
    return graph_.edges[vertex.edges.front()].end == vertex.station ? 1 : -1;
  }

  /// Pressure behind an end while everything is shut; nan: no gas, or no way from it into the part.
  [[nodiscard]] double behind(std::size_t e) const {
    if (!graph_.of_end[e] || graph_.vertices[*graph_.of_end[e]].edges.empty()) return std::nan("");
    const PartEnd& end = q_.part.ends[e];
    if (end.kind == ShutKind::source_outlet) return network_.sources.pressure[at(end.element)].si();
    if (end.kind == ShutKind::regulator_outlet)
      return state_.node_pressure[at(network_.regulators.inlet[at(end.element)])].si();
    return pressure_at(network_, regions_, state_, end.pipe, end.station, live_side(e)).si();
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
      leg.vent = "the work";
      leg.before = GaugePressure::from_si(behind(e));
      path_.legs.push_back(std::move(leg));
    }
  }

  /// What no end reaches on its way to the work: each has a vent of its own at its far end, the
  /// nearest first.
  void legs_to_dead_ends() {
    if (path_.legs.empty()) return;
    const auto away = distances(graph_, *graph_.of_end[*path_.legs.front().end]);
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
    return fmt::format(
        "main {} at {}, where a valve stands closed", network_.pipes.id[at(vertex.pipe)],
        units::print_in(vertex.station, q_.system == units::System::us ? "ft" : "m", 1));
  }

  // Services.

  void list_services() {
    if (path_.legs.empty()) return;
    const auto away = distances(graph_, *graph_.of_end[*path_.legs.front().end]);
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

  Result<bool> hold() {
    for (PurgeLeg& leg : path_.legs) {
      if (!leg.end || !(leg.flow_m3_per_s > 0.0)) continue;
      const PartEnd& end = q_.part.ends[*leg.end];
      if (end.pipe == network::none) continue;  // a station's outlet: said in say()
      BELLHOLE_TRY(found, hold_of(q_, shut_, state_, end, live_side(*leg.end), leg));
      static_cast<void>(found);
    }
    return true;
  }

  // What is said.

  void add(std::string rule, Grade grade, std::string says, std::string action, std::string about) {
    path_.findings.push_back({.rule = std::move(rule),
                              .grade = grade,
                              .says = std::move(says),
                              .quantity = "way of the purge",
                              .source = "the network with the part shut",
                              .evidence = Evidence::derived,
                              .action = std::move(action),
                              .about = std::move(about)});
  }

  void say() {
    if (path_.legs.empty())
      add("purge.no_feed", Grade::halt,
          "no gas stands behind any end of the part: nothing purges it",
          "find out what feeds it, or bring gas: a portable supply", "feed");
    if (!graph_.whole)
      add("purge.other_parts", Grade::undecided,
          "the work lies in more than one part: only the one with its first place is looked at",
          "ask again for the other places of the work", "work");
    std::string loops;
    for (std::size_t e = 0; e < graph_.edges.size(); ++e)
      if (used_[e] == 0 && !path_.legs.empty())
        loops += (loops.empty() ? "" : ", ") + network_.pipes.id[at(graph_.edges[e].pipe)];
    if (!loops.empty())
      add("purge.loop", Grade::undecided,
          fmt::format("gas comes to {} from both ends and may shut air in between", loops),
          "vent it between, or shut one of its ends while the other feeds", loops);
    say_bores();
    for (const PurgeLeg& leg : path_.legs) say_leg(leg);
    path_.says = fmt::format("{} leg{}, air out at the work; {} service{} last.", path_.legs.size(),
                             path_.legs.size() == 1 ? "" : "s", path_.services.size(),
                             path_.services.size() == 1 ? "" : "s");
    path_.assumed.emplace_back("the whole part holds air: it was vented down and cut open");
    path_.assumed.emplace_back(
        "mains beyond a shut-off, a closed valve or a station kept their gas: no air came there");
  }

  void say_bores() {
    std::string bores;
    for (const PurgeEdge& edge : graph_.edges)
      if (!edge.bore_known) bores += (bores.empty() ? "" : ", ") + network_.pipes.id[at(edge.pipe)];
    if (!bores.empty())
      add("purge.bore", Grade::undecided,
          fmt::format("the bore of {} is not recorded and taken as the smallest beside it: a wider "
                      "one takes more gas to fill",
                      bores),
          "read the print line; purge by the widest that it may be", bores);
  }

  void say_leg(const PurgeLeg& leg) {
    if (leg.feed == Feed::squeeze)
      add("purge.feed_squeeze", Grade::warn,
          fmt::format("{} feeds the purge itself: a squeeze is a poor throttle and slow to shut",
                      leg.from),
          "feed through a bypass or a rider valve, where one can be fitted", leg.from);
    if (!leg.short_of_gas.empty()) {
      std::string ids;
      for (const Index c : leg.short_of_gas)
        ids += (ids.empty() ? "" : ", ") + network_.customers.id[at(c)];
      add("purge.short", Grade::halt,
          fmt::format("while {} feeds the purge, {} customer{} who stay on fall short: {}",
                      leg.from, leg.short_of_gas.size(), leg.short_of_gas.size() == 1 ? "" : "s",
                      ids),
          "purge at a quieter hour or more slowly behind a slug", leg.from);
    }
    if (leg.purging && leg.inlet && *leg.purging < *leg.inlet)
      add("purge.inlet", Grade::halt,
          fmt::format("the purge takes {} at {}, and {} is there while it runs",
                      units::print(*leg.inlet, q_.system, units::Toward::up), leg.from,
                      units::print(*leg.purging, q_.system, units::Toward::down)),
          "take a wider stack, or a slug at a lower speed", leg.from);
    if (leg.end && q_.part.ends[*leg.end].pipe == network::none && q_.solve)
      add("purge.not_looked_at", Grade::undecided,
          fmt::format("whether the network holds while {} feeds the purge is not looked at: it is "
                      "a station's outlet",
                      leg.from),
          "watch the station's inlet while it purges", leg.from);
  }

  const PurgePathQuestion& q_;
  const Network& network_;
  network::Scenario shut_;
  Regions regions_;
  PurgeGraph graph_;
  network::SteadyState state_;
  std::vector<char> filled_, used_;
  PurgePath path_;
};

}  // namespace

Result<PurgePath> purge_path(const PurgePathQuestion& question) { return Finder(question).find(); }

}  // namespace bellhole::plan
