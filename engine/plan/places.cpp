#include "plan/places.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>
#include <set>

#include "plan/costs.hpp"
#include "plan/main_facts.hpp"
#include "plan/standoff.hpp"
#include "plan/times.hpp"
#include "procedure/judge.hpp"
#include "squeeze/windows.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using network::Network;
using network::none;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

/// What parts a main at a station: a place that can be shut (an edge), or a closed valve (nothing).
struct Divider {
  Length station;
  int place = -1;
};

/// Everything of one kind on each main, by station.
template <class Rows, class StationOf>
std::vector<std::vector<Index>> by_pipe(std::size_t pipes, const Rows& pipe_of,
                                        StationOf station_of) {
  std::vector<std::vector<Index>> lists(pipes);
  for (std::size_t i = 0; i < pipe_of.size(); ++i) {
    if (pipe_of[i] != none) lists[at(pipe_of[i])].push_back(static_cast<Index>(i));
  }
  for (auto& list : lists) std::ranges::stable_sort(list, {}, station_of);
  return lists;
}

class Joined {
 public:
  explicit Joined(std::size_t n) : parent_(n) { std::iota(parent_.begin(), parent_.end(), 0); }
  std::int32_t root(std::int32_t i) {
    while (parent_[at(i)] != i) i = parent_[at(i)] = parent_[at(parent_[at(i)])];
    return i;
  }
  void join(std::int32_t a, std::int32_t b) { parent_[at(root(b))] = root(a); }

 private:
  std::vector<std::int32_t> parent_;
};

class Finder {
 public:
  explicit Finder(const PlacesInput& in)
      : in_(in),
        network_(in.network),
        costs_(in.profile, in.system),
        standoff_(in.network, in.work, work_case(), in.profile) {
    const auto pipes = network_.pipes.size();
    customers_ = by_pipe(pipes, network_.customers.pipe,
                         [&](Index c) { return network_.customers.station[at(c)]; });
    valves_ = by_pipe(pipes, network_.valves.pipe,
                      [&](Index v) { return network_.valves.station[at(v)]; });
    features_ = by_pipe(pipes, network_.features.pipe,
                        [&](Index f) { return network_.features.begin[at(f)]; });
    dividers_.resize(pipes);
  }

  Result<Places> find() {
    for (std::size_t pipe = 0; pipe < network_.pipes.size(); ++pipe) {
      add_valves(static_cast<Index>(pipe));
      add_squeezes(static_cast<Index>(pipe));
      add_placed(static_cast<Index>(pipe));
      std::ranges::stable_sort(dividers_[pipe], {}, &Divider::station);
    }
    return build();
  }

 private:
  procedure::Case work_case() const {
    procedure::Case c;
    c[procedure::Listed::work] = in_.kind == Kind::planned ? "planned" : "emergency";
    return c;
  }

  procedure::Case case_of(Index pipe) const {
    procedure::Case c = case_of_main(network_, pipe);
    c[procedure::Listed::work] = in_.kind == Kind::planned ? "planned" : "emergency";
    return c;
  }

  void pass_over(Index pipe, std::string element, std::string why) {
    out_.passed_over.push_back({pipe, std::move(element), std::move(why)});
  }

  // Valves.

  void add_valves(Index pipe) {
    for (const Index v : valves_[at(pipe)]) {
      const auto& valves = network_.valves;
      if (valves.position[at(v)] == network::Position::closed) {
        dividers_[at(pipe)].push_back({valves.station[at(v)], -1});
        continue;
      }
      if (const auto why = why_not(v)) {
        pass_over(pipe, "valve " + valves.id[at(v)], *why);
        continue;
      }
      const procedure::Case in = case_of(pipe);
      dividers_[at(pipe)].push_back({valves.station[at(v)], static_cast<int>(out_.places.size())});
      out_.places.push_back({.kind = ShutKind::valve,
                             .element = v,
                             .pipe = pipe,
                             .station = valves.station[at(v)],
                             .crew_s = costs_.crew_s("plan.cost_valve", in),
                             .time_s = costs_.time_s("plan.time_valve", in)});
    }
  }

  std::optional<std::string> why_not(Index v) const {
    const auto& valves = network_.valves;
    if (valves.operable[at(v)] == network::Ternary::no) return "recorded as not operable";
    if (valves.reachable[at(v)] == network::Ternary::no) return "recorded as not reachable";
    const auto trust =
        in_.profile.ruling("plan.valve_trust", case_of(valves.pipe[at(v)])).as<kinds::Duration>();
    if (!trust) return std::nullopt;  // said beside the shut-off that uses it
    constexpr double year_s = 365.25 * 86400.0;
    const double last = valves.last_operated_year[at(v)];
    if (!std::isfinite(last)) return "no record that it was ever turned and held";
    if (!(in_.today_year - last <= trust->si() / year_s)) {
      return fmt::format("last turned in {:.0f}, longer ago than the profile trusts",
                         std::floor(last));
    }
    return std::nullopt;
  }

  // Plugs, bags and caps that the question names.

  void add_placed(Index pipe) {
    for (std::size_t i = 0; i < in_.placed.size(); ++i) {
      const HandPlaced& hand = in_.placed[i];
      if (hand.pipe != pipe) continue;
      const procedure::Case in = case_of(pipe);
      dividers_[at(pipe)].push_back({hand.station, static_cast<int>(out_.places.size())});
      out_.places.push_back(
          {.kind = ShutKind::placed,
           .element = static_cast<Index>(i),
           .pipe = pipe,
           .station = hand.station,
           .means = hand.means,
           .crew_s = hand.cost ? static_cast<std::int64_t>(std::ceil(hand.cost->si()))
                               : costs_.crew_s("plan.cost_placed", in),
           .time_s = hand.time ? hand.time->si() : costs_.time_s("plan.time_placed", in)});
    }
  }

  // Squeezes.

  void add_squeezes(Index pipe) {
    const MainFacts facts = facts_of_main(network_, pipe);
    if (!facts.why_not_squeezed.empty()) {
      pass_over(pipe, "main " + network_.pipes.id[at(pipe)], facts.why_not_squeezed);
      return;
    }
    const procedure::Case in = case_of(pipe);
    const auto clearance = clearance_of(in_.profile, in, facts.od, in_.half_width);
    if (!clearance) {
      pass_over(pipe, "main " + network_.pipes.id[at(pipe)],
                "clearance runs from the tool's edge, and no tool with a half-width is given");
      return;
    }
    if (clearance->by != Clearance::By::profile && said_.insert(clearance->by).second)
      out_.findings.push_back(clearance_finding(in_.profile, in, clearance->by, in_.system));
    const Squeezes squeezes = squeezes_asked(pipe, in);
    const auto widest = in_.profile.ruling("squeeze.od_most", in).as<kinds::Length>();
    if (widest && facts.od > *widest) {
      pass_over(pipe, "main " + network_.pipes.id[at(pipe)],
                "larger than the profile lets be squeezed");
      return;
    }
    const std::vector<squeeze::Feature> features = kept_clear_of(pipe);
    std::vector<Length> ends = stretch_ends(pipe);
    for (std::size_t i = 0; i + 1 < ends.size(); ++i) {
      if (inside_work(pipe, ends[i], ends[i + 1])) continue;
      add_squeeze(pipe, ends[i], ends[i + 1], features, *clearance, squeezes, in);
    }
  }

  /// Neighbouring customers, valves, ends of the work and of the main bound a free stretch.
  std::vector<Length> stretch_ends(Index pipe) const {
    std::vector<Length> ends{Length(), network_.pipes.length[at(pipe)]};
    for (const Index c : customers_[at(pipe)]) ends.push_back(network_.customers.station[at(c)]);
    for (const Index v : valves_[at(pipe)]) ends.push_back(network_.valves.station[at(v)]);
    for (const Piece& piece : in_.work.pieces) {
      if (piece.pipe == pipe) ends.insert(ends.end(), {piece.begin, piece.end});
    }
    std::ranges::sort(ends);
    const auto [first, last] = std::ranges::unique(ends);
    ends.erase(first, last);
    return ends;
  }

  bool inside_work(Index pipe, Length a, Length b) const {
    return std::ranges::any_of(in_.work.pieces, [&](const Piece& piece) {
      return piece.pipe == pipe && piece.begin <= a && b <= piece.end && piece.begin < piece.end;
    });
  }

  /// Everything that a squeeze keeps clear of. The map shows few joints; a fitting is taken to be
  /// at every node, customer and valve, and joints or a cut at both ends of the work.
  std::vector<squeeze::Feature> kept_clear_of(Index pipe) const {
    std::vector<squeeze::Feature> features;
    const auto point = [&](Length station) { features.push_back({"", station, station}); };
    point(Length());
    point(network_.pipes.length[at(pipe)]);
    for (const Index c : customers_[at(pipe)]) point(network_.customers.station[at(c)]);
    for (const Index v : valves_[at(pipe)]) point(network_.valves.station[at(v)]);
    for (const Index f : features_[at(pipe)]) {
      features.push_back({"", network_.features.begin[at(f)], network_.features.end[at(f)]});
    }
    for (const Piece& piece : in_.work.pieces) {
      if (piece.pipe == pipe) features.push_back({"", piece.begin, piece.end});
    }
    for (const HandPlaced& hand : in_.placed) {
      if (hand.pipe == pipe) point(hand.station);
    }
    return features;
  }

  void add_squeeze(Index pipe, Length a, Length b, const std::vector<squeeze::Feature>& features,
                   const Clearance& clearance, Squeezes squeezes, const procedure::Case& in) {
    const auto windows = squeeze::windows({{a, b}, features}, clearance.distance, Length());
    const Length apart = std::max(clearance.distance, in_.half_width.value_or(Length()) * 2.0);
    std::optional<Place> best;
    double nearest = std::numeric_limits<double>::infinity();
    for (const squeeze::Window& window : windows) {
      for (const squeeze::Window& clear : standoff_.outside(pipe, window)) {
        const double begin = standoff_.away(pipe, clear.first).si(),
                     end = standoff_.away(pipe, clear.second).si();
        if (std::min(begin, end) >= nearest) continue;
        nearest = std::min(begin, end);
        const Length free = clear.second - clear.first;
        const bool alone = clearance.by == Clearance::By::nothing || free < apart;
        const Length back = alone ? free * 0.5 : apart;
        best = Place{.kind = ShutKind::squeeze,
                     .element = pipe,
                     .pipe = pipe,
                     .station = begin <= end ? clear.first + back : clear.second - back,
                     .window_begin = clear.first,
                     .window_end = clear.second,
                     .clearance = clearance.distance,
                     .apart = apart,
                     .squeezes = squeezes};
      }
    }
    if (!best) return;
    const int count = squeezes == Squeezes::two ? 2 : 1;
    best->crew_s = count * costs_.crew_s("plan.cost_squeeze", in);
    best->time_s = time_of_squeeze(network_, in_.profile, pipe, count, in, costs_);
    dividers_[at(pipe)].push_back({best->station, static_cast<int>(out_.places.size())});
    out_.places.push_back(*best);
  }

  /// By the most that the tier may ever see, else by the pressure there today.
  Squeezes squeezes_asked(Index pipe, const procedure::Case& in) const {
    const GaugePressure line = line_pressure(network_, in_.before, pipe);
    const auto single =
        in_.profile.ruling("squeeze.pressure_single", in).as<kinds::GaugePressure>();
    if (!single || !std::isfinite(line.si())) return Squeezes::undecided;
    return line <= *single ? Squeezes::one : Squeezes::two;
  }

  // The graph.

  Result<Places> build() {
    std::vector<std::int32_t> first_part(network_.pipes.size());
    auto parts = static_cast<std::int32_t>(network_.nodes.size());
    for (std::size_t pipe = 0; pipe < network_.pipes.size(); ++pipe) {
      first_part[pipe] = parts;
      parts += static_cast<std::int32_t>(dividers_[pipe].size()) + 1;
    }
    Joined joined(at(parts));
    for (std::size_t pipe = 0; pipe < network_.pipes.size(); ++pipe) {
      joined.join(network_.pipes.from[pipe], first_part[pipe]);
      joined.join(network_.pipes.to[pipe],
                  first_part[pipe] + static_cast<std::int32_t>(dividers_[pipe].size()));
    }
    std::vector<isolate::Vertex> vertex(at(parts), -1);
    isolate::Vertex count = 0;
    for (std::int32_t i = 0; i < parts; ++i) {
      const std::int32_t root = joined.root(i);
      if (vertex[at(root)] < 0) vertex[at(root)] = count++;
      vertex[at(i)] = vertex[at(root)];
    }

    std::vector<isolate::Edge> edges(out_.places.size());
    for (std::size_t pipe = 0; pipe < network_.pipes.size(); ++pipe) {
      Length begin;
      for (std::size_t d = 0; d <= dividers_[pipe].size(); ++d) {
        const Length end =
            d < dividers_[pipe].size() ? dividers_[pipe][d].station : network_.pipes.length[pipe];
        const isolate::Vertex here = vertex[at(first_part[pipe]) + d];
        out_.pieces.push_back({{static_cast<Index>(pipe), begin, end}, here});
        begin = end;
        if (d == dividers_[pipe].size() || dividers_[pipe][d].place < 0) continue;
        const auto place = static_cast<std::size_t>(dividers_[pipe][d].place);
        edges[place] = {here, vertex[at(first_part[pipe]) + d + 1], out_.places[place].crew_s};
      }
    }
    out_.part_of_node.assign(vertex.begin(),
                             vertex.begin() + static_cast<std::ptrdiff_t>(network_.nodes.size()));
    add_regulators(edges);
    return finish(std::move(edges), count);
  }

  void add_regulators(std::vector<isolate::Edge>& edges) {
    for (std::size_t r = 0; r < network_.regulators.size(); ++r) {
      const procedure::Case in = work_case();
      const Place place{.kind = ShutKind::regulator_outlet,
                        .element = static_cast<Index>(r),
                        .crew_s = costs_.crew_s("plan.cost_station_outlet", in),
                        .time_s = costs_.time_s("plan.time_station_outlet", in)};
      edges.push_back({out_.part_of_node[at(network_.regulators.inlet[r])],
                       out_.part_of_node[at(network_.regulators.outlet[r])], place.crew_s});
      out_.places.push_back(place);
    }
  }

  Result<Places> finish(std::vector<isolate::Edge> edges, isolate::Vertex count) {
    std::vector<isolate::Supply> supplies;
    for (std::size_t s = 0; s < network_.sources.size(); ++s) {
      const procedure::Case in = work_case();
      const Place place{.kind = ShutKind::source_outlet,
                        .element = static_cast<Index>(s),
                        .crew_s = costs_.crew_s("plan.cost_station_outlet", in),
                        .time_s = costs_.time_s("plan.time_station_outlet", in)};
      supplies.push_back({out_.part_of_node[at(network_.sources.node[s])], place.crew_s});
      out_.places.push_back(place);
    }
    std::vector<isolate::Cost> lost(at(count), 0);
    out_.part_of_customer.resize(network_.customers.size());
    for (std::size_t c = 0; c < network_.customers.size(); ++c) {
      const isolate::Vertex part =
          part_at(network_.customers.pipe[c], network_.customers.station[c]);
      out_.part_of_customer[c] = part;
      lost[at(part)] += costs_.crew_s("plan.cost_customer", work_case()) +
                        (network_.customers.must_not_lose[c] != 0 ? one_must_not_lose : 0);
    }
    for (const Piece& piece : in_.work.pieces) {
      for (const PartPiece& part : out_.pieces) {
        const bool meets = part.piece.pipe == piece.pipe && part.piece.begin <= piece.end &&
                           piece.begin <= part.piece.end;
        if (meets) out_.work.push_back(part.part);
      }
    }
    for (const Index node : in_.work.nodes) out_.work.push_back(out_.part_of_node[at(node)]);
    std::ranges::sort(out_.work);
    const auto [first, last] = std::ranges::unique(out_.work);
    out_.work.erase(first, last);
    BELLHOLE_TRY(graph, isolate::Graph::prepare(lost, edges, supplies));
    out_.graph = std::move(graph);
    append(out_.findings, costs_.findings());
    append(out_.findings, standoff_.findings(in_.system));
    return std::move(out_);
  }

  /// Pieces run by pipe and station; a customer at a divider counts as before it.
  isolate::Vertex part_at(Index pipe, Length station) const {
    const auto found = std::ranges::lower_bound(
        out_.pieces, std::pair(pipe, station), {},
        [](const PartPiece& part) { return std::pair(part.piece.pipe, part.piece.end); });
    return found->part;
  }

  const PlacesInput& in_;
  const Network& network_;
  Costs costs_;
  std::set<Clearance::By> said_;  ///< each way of doing without a set clearance once
  Standoff standoff_;
  std::vector<std::vector<Index>> customers_, valves_, features_;
  std::vector<std::vector<Divider>> dividers_;
  Places out_;
};

}  // namespace

Result<Places> find_places(const PlacesInput& in) { return Finder(in).find(); }

std::string_view word(Means means) {
  switch (means) {
    case Means::plug:
      return "plug";
    case Means::bag:
      return "bag";
    case Means::cap:
      return "cap";
    case Means::none:
    case Means::other:
      break;
  }
  return "other shut-off";
}

int toward_part(const Places& places, const isolate::Cut& cut, const Place& place) {
  const auto before = std::ranges::lower_bound(
      places.pieces, std::pair(place.pipe, place.station), {},
      [](const PartPiece& part) { return std::pair(part.piece.pipe, part.piece.end); });
  return std::ranges::binary_search(cut.lost, before->part) ? -1 : 1;
}

}  // namespace bellhole::plan
