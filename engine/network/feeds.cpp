#include "network/feeds.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <limits>
#include <optional>
#include <queue>
#include <set>
#include <string>
#include <tuple>

namespace bellhole::network {
namespace {

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

enum class Step : std::uint8_t { main, regulator, backwards };

/// A step outward, against the gas: from a node to one that gas may come from.
struct Link {
  Index to = none;
  Step step = Step::main;
  Index element = none;  ///< pipe or regulator
};

struct Reached {
  std::size_t backwards = std::numeric_limits<std::size_t>::max();
  double length = std::numeric_limits<double>::infinity();
  Index from = none;
  Link by;
};

class Tracer {
 public:
  explicit Tracer(const Network& network)
      : n_(network), links_(network.nodes.size()), valves_on_(network.pipes.size()) {
    std::vector<std::uint8_t> parted(n_.pipes.size(), 0);
    for (std::size_t v = 0; v < n_.valves.size(); ++v) {
      if (n_.valves.position[v] == Position::closed) parted[at(n_.valves.pipe[v])] = 1;
      valves_on_[at(n_.valves.pipe[v])].push_back(static_cast<Index>(v));
    }
    for (std::size_t p = 0; p < n_.pipes.size(); ++p) {
      if (parted[p] != 0) continue;
      links_[at(n_.pipes.from[p])].push_back({n_.pipes.to[p], Step::main, static_cast<Index>(p)});
      links_[at(n_.pipes.to[p])].push_back({n_.pipes.from[p], Step::main, static_cast<Index>(p)});
    }
    for (std::size_t r = 0; r < n_.regulators.size(); ++r) {
      links_[at(n_.regulators.outlet[r])].push_back(
          {n_.regulators.inlet[r], Step::regulator, static_cast<Index>(r)});
      if (n_.regulators.blocks_reverse[r] != Ternary::yes) {
        links_[at(n_.regulators.inlet[r])].push_back(
            {n_.regulators.outlet[r], Step::backwards, static_cast<Index>(r)});
      }
    }
  }

  [[nodiscard]] const std::vector<Link>& links(Index node) const { return links_[at(node)]; }

  /// Whether a closed valve stands on a main between two stations, both excluded at the far end.
  [[nodiscard]] bool open_between(Index pipe, Length begin, Length end) const {
    return std::ranges::none_of(valves_on_[at(pipe)], [&](Index v) {
      return n_.valves.position[at(v)] == Position::closed && n_.valves.station[at(v)] >= begin &&
             n_.valves.station[at(v)] <= end;
    });
  }
  [[nodiscard]] std::vector<Index> valves_between(Index pipe, Length begin, Length end) const {
    std::vector<Index> list;
    for (const Index v : valves_on_[at(pipe)]) {
      if (n_.valves.station[at(v)] >= begin && n_.valves.station[at(v)] <= end) list.push_back(v);
    }
    return list;
  }

  /// Feeds that reach `start` without passing over pipe `barred` or through node `barred_node`.
  [[nodiscard]] std::vector<Feed> trace(Index start, Index barred, Index barred_node,
                                        std::size_t backwards) const {
    std::vector<Reached> reached(n_.nodes.size());
    using Entry = std::tuple<std::size_t, double, Index>;
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> queue;
    reached[at(start)] = {backwards, 0.0, none, {}};
    queue.emplace(backwards, 0.0, start);
    while (!queue.empty()) {
      const auto [against, length, node] = queue.top();
      queue.pop();
      if (std::tie(against, length) >
          std::tie(reached[at(node)].backwards, reached[at(node)].length))
        continue;
      for (const Link& link : links_[at(node)]) {
        if ((link.step == Step::main && link.element == barred) || link.to == barred_node) continue;
        const std::size_t next_against = against + (link.step == Step::backwards ? 1 : 0);
        const double next_length =
            length + (link.step == Step::main ? n_.pipes.length[at(link.element)].si() : 0.0);
        Reached& there = reached[at(link.to)];
        if (std::tie(next_against, next_length) >= std::tie(there.backwards, there.length))
          continue;
        there = {next_against, next_length, node, link};
        queue.emplace(next_against, next_length, link.to);
      }
    }
    std::vector<Feed> feeds;
    for (std::size_t s = 0; s < n_.sources.size(); ++s) {
      const Reached& end = reached[at(n_.sources.node[s])];
      if (end.length == std::numeric_limits<double>::infinity()) continue;
      feeds.push_back(way(static_cast<Index>(s), reached));
    }
    return feeds;
  }

 private:
  /// The way from a source inward, as it was reached.
  [[nodiscard]] Feed way(Index source, const std::vector<Reached>& reached) const {
    Feed feed;
    feed.source = source;
    for (Index node = n_.sources.node[at(source)]; reached[at(node)].from != none;
         node = reached[at(node)].from) {
      const Link& by = reached[at(node)].by;
      if (by.step == Step::regulator) feed.regulators.push_back(by.element);
      if (by.step == Step::backwards) feed.backwards.push_back(by.element);
      if (by.step != Step::main) continue;
      feed.length = feed.length + n_.pipes.length[at(by.element)];
      for (const Index v : valves_on_[at(by.element)]) feed.valves.push_back(v);
    }
    return feed;
  }

  const Network& n_;
  std::vector<std::vector<Link>> links_;
  std::vector<std::vector<Index>> valves_on_;
};

/// One side of a place on a main: the length from the place to the node, then everything beyond it.
Side side_of(const Tracer& tracer, Index pipe, Index toward, Length begin, Length end,
             Index barred_node) {
  Side side{pipe, toward, {}};
  if (!tracer.open_between(pipe, begin, end)) return side;
  side.feeds = tracer.trace(toward, pipe, barred_node, 0);
  for (Feed& feed : side.feeds) {
    feed.length = feed.length + (end - begin);
    const auto own = tracer.valves_between(pipe, begin, end);
    feed.valves.insert(feed.valves.end(), own.begin(), own.end());
  }
  return side;
}

Finding finding(std::string rule, Grade grade, std::string says, std::string action,
                std::string about) {
  return {.rule = std::move(rule),
          .grade = grade,
          .says = std::move(says),
          .quantity = "sides that gas comes from",
          .unit_si = "1",
          .source = "network as imported, traced",
          .evidence = Evidence::derived,
          .action = std::move(action),
          .about = std::move(about)};
}

}  // namespace

std::size_t Feeds::fed_sides() const {
  return static_cast<std::size_t>(
      std::ranges::count_if(sides, [](const Side& side) { return !side.feeds.empty(); }));
}

Feeds feeds_of(const Network& network, Index pipe, Length station) {
  const Tracer tracer(network);
  const Index from = network.pipes.from[at(pipe)], to = network.pipes.to[at(pipe)];
  return {{side_of(tracer, pipe, from, Length(), station, none),
           side_of(tracer, pipe, to, station, network.pipes.length[at(pipe)], none)}};
}

Feeds feeds_of(const Network& network, Index node) {
  const Tracer tracer(network);
  Feeds feeds;
  for (std::size_t p = 0; p < network.pipes.size(); ++p) {
    const auto pipe = static_cast<Index>(p);
    const bool begins = network.pipes.from[p] == node;
    if (!begins && network.pipes.to[p] != node) continue;
    feeds.sides.push_back(side_of(tracer, pipe,
                                  begins ? network.pipes.to[p] : network.pipes.from[p], Length(),
                                  network.pipes.length[p], node));
  }
  for (const Link& link : tracer.links(node)) {
    if (link.step == Step::main) continue;
    const bool back = link.step == Step::backwards;
    Side side{none, link.to, tracer.trace(link.to, none, node, back ? 1 : 0)};
    for (Feed& feed : side.feeds) (back ? feed.backwards : feed.regulators).push_back(link.element);
    feeds.sides.push_back(std::move(side));
  }
  for (std::size_t s = 0; s < network.sources.size(); ++s) {
    if (network.sources.node[s] == node)
      feeds.sides.push_back({none, node, {{static_cast<Index>(s), {}, {}, {}, Length()}}});
  }
  return feeds;
}

Findings findings(const Network& network, const Feeds& feeds) {
  Findings list;
  const auto add = [&](Finding one) {
    one.value_si = static_cast<double>(feeds.fed_sides());
    list.push_back(std::move(one));
  };
  if (feeds.fed_sides() == 0) {
    add(finding("feeds.none", Grade::undecided, "as the map stands no source reaches this place",
                "do not take that for a main without gas: find out at the pipe, with a gauge",
                "place"));
    return list;
  }
  if (feeds.fed_sides() == 1) {
    add(finding("feeds.one_side", Grade::info,
                "gas reaches this place from one side only; whatever is behind it loses gas when "
                "it is shut",
                "a gauge that holds behind a shut place shows trapped gas, not a second feed",
                "place"));
  } else {
    add(finding("feeds.both_sides", Grade::info,
                fmt::format("gas reaches this place from {} sides; shutting one leaves it live",
                            feeds.fed_sides()),
                "shut every side, and let nobody work before all are shut", "place"));
  }
  std::set<Index> backwards, unknown;
  for (const Side& side : feeds.sides) {
    for (const Feed& feed : side.feeds) {
      backwards.insert(feed.backwards.begin(), feed.backwards.end());
      for (const Index v : feed.valves) {
        if (network.valves.position[at(v)] == Position::unknown) unknown.insert(v);
      }
    }
  }
  for (const Index r : backwards) {
    const bool open = network.regulators.blocks_reverse[at(r)] == Ternary::unknown;
    add(finding(
        "feeds.backwards", open ? Grade::undecided : Grade::warn,
        fmt::format("gas may pass regulator {} from its outlet to its inlet; {}",
                    network.regulators.id[at(r)],
                    open ? "whether something stops it is not recorded" : "nothing stops it"),
        "look at the station before relying on it, and before taking this side for shut",
        "regulator " + network.regulators.id[at(r)]));
  }
  for (const Index v : unknown) {
    add(finding(
        "feeds.valve_unknown", Grade::undecided,
        fmt::format("a way passes valve {}, whose position is not known", network.valves.id[at(v)]),
        "look whether it is open", "valve " + network.valves.id[at(v)]));
  }
  return list;
}

}  // namespace bellhole::network
