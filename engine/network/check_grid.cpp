// Sources, tiers, nodes, what is fed, pipes and their lines.
#include <algorithm>
#include <cstdint>
#include <unordered_map>

#include "network/checker.hpp"

namespace bellhole::network::checks {
namespace {

class GridChecker : Checker {
 public:
  using Checker::Checker;
  void run() {
    sources();
    tiers();
    nodes();
    fed();
    pipes();
    pipe_lines();
  }

 private:
  void sources() {
    const Sources& s = n_.sources;
    if (s.size() == 0) {
      say("no_source", Grade::halt, n_.name, "No source feeds this network.",
          "map the place where gas enters, with its pressure");
    }
    Group silent;
    for (std::size_t i = 0; i < s.size(); ++i) {
      if (!known(s.pressure[i])) silent.add("source " + s.id[i]);
      const Index tier = n_.nodes.tier[at(s.node[i])];
      if (tier != none) above_maop("source " + s.id[i], s.pressure[i], tier, "delivers");
    }
    unknown("unknown_pressure", silent, "The pressure of a source is not recorded",
            "enter the pressure it is set to");
  }

  void tiers() {
    Group no_maop, no_least;
    for (std::size_t i = 0; i < n_.tiers.size(); ++i) {
      if (!known(n_.tiers.maop[i])) no_maop.add("tier " + n_.tiers.id[i]);
      if (!known(n_.tiers.least[i])) no_least.add("tier " + n_.tiers.id[i]);
    }
    unknown("unknown_maop", no_maop,
            "No MAOP is recorded, so no pressure here can be called allowed",
            "the engineer enters the tier's MAOP");
    unknown("unknown_least", no_least,
            "No least pressure is recorded, so no customer here can be called held",
            "the engineer enters the least pressure at the main");
  }

  void nodes() {
    Group no_tier;
    for (std::size_t i = 0; i < n_.nodes.size(); ++i) {
      if (n_.nodes.tier[i] == none) no_tier.add("node " + n_.nodes.id[i]);
    }
    unknown("unknown_tier", no_tier, "No pressure tier is recorded",
            "map the tier of the mains that meet here");
    same_place();
  }

  /// Nodes of one tier at one place that no pipe shorter than the gap joins: most often a joint
  /// that the map does not have.
  void same_place() {
    const double cell = limits_.same_place.si();
    if (!(cell > 0.0)) return;
    std::unordered_map<std::uint64_t, std::vector<Index>> grid;
    const auto key = [](double x, double y) {
      const auto column = static_cast<std::int64_t>(x), row = static_cast<std::int64_t>(y);
      return static_cast<std::uint64_t>(column) * 0x9E3779B97F4A7C15u ^
             static_cast<std::uint64_t>(row);
    };
    for (std::size_t i = 0; i < n_.nodes.size(); ++i) {
      const double x = std::floor(n_.nodes.x[i] / cell), y = std::floor(n_.nodes.y[i] / cell);
      for (double dx = -1; dx <= 1; ++dx) {
        for (double dy = -1; dy <= 1; ++dy) {
          const auto near = grid.find(key(x + dx, y + dy));
          if (near == grid.end()) continue;
          for (const Index j : near->second) same_place(static_cast<Index>(i), j);
        }
      }
      grid[key(x, y)].push_back(static_cast<Index>(i));
    }
  }
  void same_place(Index i, Index j) {
    const double apart =
        std::hypot(n_.nodes.x[at(i)] - n_.nodes.x[at(j)], n_.nodes.y[at(i)] - n_.nodes.y[at(j)]);
    if (apart > limits_.same_place.si() || n_.nodes.tier[at(i)] != n_.nodes.tier[at(j)]) return;
    if (regulated(i, j)) return;
    say("same_place", Grade::warn, node(j) + ", " + node(i),
        fmt::format("{} and {} lie at one place in one tier and are not joined.", node(j), node(i)),
        "if the mains are joined there, map one node");
  }
  bool regulated(Index i, Index j) const {
    for (std::size_t r = 0; r < n_.regulators.size(); ++r) {
      const Index in = n_.regulators.inlet[r], out = n_.regulators.outlet[r];
      if ((in == i && out == j) || (in == j && out == i)) return true;
    }
    return false;
  }

  /// Parts that no source reaches, even with every valve open.
  void fed() {
    std::vector<std::vector<Index>> next(n_.nodes.size());
    for (std::size_t i = 0; i < n_.pipes.size(); ++i) {
      next[at(n_.pipes.from[i])].push_back(n_.pipes.to[i]);
      next[at(n_.pipes.to[i])].push_back(n_.pipes.from[i]);
    }
    for (std::size_t r = 0; r < n_.regulators.size(); ++r) {
      next[at(n_.regulators.inlet[r])].push_back(n_.regulators.outlet[r]);
      next[at(n_.regulators.outlet[r])].push_back(n_.regulators.inlet[r]);
    }
    std::vector<std::int32_t> part(n_.nodes.size(), -1);
    const auto fill = [&](Index start, std::int32_t number) {
      std::vector<Index> stack{start};
      if (part[at(start)] >= 0) return;
      part[at(start)] = number;
      while (!stack.empty()) {
        const Index here = stack.back();
        stack.pop_back();
        for (const Index there : next[at(here)]) {
          if (part[at(there)] < 0) {
            part[at(there)] = number;
            stack.push_back(there);
          }
        }
      }
    };
    for (const Index source : n_.sources.node) fill(source, 0);
    std::int32_t parts = 1;
    for (std::size_t i = 0; i < n_.nodes.size(); ++i) {
      if (part[i] < 0) fill(static_cast<Index>(i), parts++);
    }
    say_unfed(part, at(parts));
  }
  void say_unfed(const std::vector<std::int32_t>& part, std::size_t parts) {
    std::vector<Group> mains(parts), lone(parts);
    std::vector<std::size_t> customers(parts, 0);
    const auto of_pipe = [&](Index p) { return at(part[at(n_.pipes.from[at(p)])]); };
    for (std::size_t i = 0; i < n_.pipes.size(); ++i)
      mains[of_pipe(static_cast<Index>(i))].add(n_.pipes.id[i]);
    for (const Index p : n_.customers.pipe) ++customers[of_pipe(p)];
    for (std::size_t i = 0; i < n_.nodes.size(); ++i) lone[at(part[i])].add(n_.nodes.id[i]);
    for (std::size_t k = 1; k < parts; ++k) {
      const bool bare = mains[k].ids.empty();
      const Group& group = bare ? lone[k] : mains[k];
      auto& finding = say(
          "unfed", customers[k] > 0 ? Grade::undecided : Grade::warn,
          (bare ? "nodes " : "pipes ") + group.all(),
          bare ? fmt::format("No pipe meets node {}.", group.few())
               : fmt::format("No source reaches {} {} with {} customers: {}.", group.ids.size(),
                             group.ids.size() == 1 ? "pipe" : "pipes", customers[k], group.few()),
          customers[k] > 0 ? "find the main that feeds them and map it"
                           : "map how they are joined, or that they are dead");
      finding.quantity = "customers on mains that no source reaches";
      finding.value_si = static_cast<double>(customers[k]);
      finding.unit_si = "1";
    }
  }

  void pipes() {
    const Pipes& p = n_.pipes;
    Group no_bore, no_ratio, no_material, no_size;
    for (std::size_t i = 0; i < p.size(); ++i) {
      const Index here = static_cast<Index>(i);
      if (!(p.length[i].si() > 0.0)) {
        say("zero_length", Grade::halt, pipe(here), pipe(here) + " has no length.",
            "correct its line or remove it");
      }
      if (p.from[i] == p.to[i]) {
        say("same_node", Grade::warn, pipe(here),
            fmt::format("{} begins and ends at {}.", pipe(here), node(p.from[i])),
            "look whether the line closes on itself in the street");
      }
      const Index a = n_.nodes.tier[at(p.from[i])], b = n_.nodes.tier[at(p.to[i])];
      if (a != b && a != none && b != none) {
        say("tier_joined", Grade::halt, pipe(here),
            fmt::format("{} joins tier {} to tier {} without a regulator.", pipe(here),
                        n_.tiers.id[at(a)], n_.tiers.id[at(b)]),
            "correct the tiers, or map the regulator");
      }
      if (!(p.bore[i].si() > 0.0)) no_bore.add("pipe " + p.id[i]);
      if (p.material[i] == Material::unknown) no_material.add("pipe " + p.id[i]);
      if (p.material[i] == Material::pe && !std::isfinite(p.ratio[i]))
        no_ratio.add("pipe " + p.id[i]);
      if (p.nominal_size[i].empty()) no_size.add("pipe " + p.id[i]);
    }
    unknown("unknown_bore", no_bore,
            "The bore is not known; flow takes the smallest bore that meets it",
            "enter size and DR, or the bore");
    unknown("unknown_material", no_material,
            "The material is not recorded, so it may not be squeezed", "find out what it is");
    unknown("unknown_ratio", no_ratio, "PE without a DR: no stop gap until the wall is known",
            "read the print line, or measure the wall");
    unknown("unknown_size", no_size, "The size is not recorded",
            "read the print line, or measure round the pipe");
  }

  void pipe_lines() {
    const Pipes& p = n_.pipes;
    for (std::size_t i = 0; i < p.size(); ++i) {
      const auto first = at(p.first[i]), last = at(p.first[i + 1]) - 1;
      double drawn = 0.0;
      for (std::size_t k = first; k < last; ++k)
        drawn += std::hypot(p.vx[k + 1] - p.vx[k], p.vy[k + 1] - p.vy[k]);
      line_end(static_cast<Index>(i), p.from[i], first);
      line_end(static_cast<Index>(i), p.to[i], last);
      const double apart = std::abs(drawn - p.length[i].si());
      if (apart <= std::max(limits_.length_apart_least.si(), limits_.length_apart * drawn))
        continue;
      auto& finding = say("length_apart", Grade::warn, "pipe " + p.id[i],
                          fmt::format("Pipe {} is recorded {} long and drawn {} long.", p.id[i],
                                      print(p.length[i]), print(Length::from_si(drawn))),
                          "find out which is right: stations along it follow the record");
      finding.quantity = "recorded length less drawn length";
      finding.value_si = p.length[i].si() - drawn;
      finding.limit_si = std::max(limits_.length_apart_least.si(), limits_.length_apart * drawn);
      finding.unit_si = "m";
    }
  }
  void line_end(Index pipe_index, Index node_index, std::size_t vertex) {
    const double apart = std::hypot(n_.pipes.vx[vertex] - n_.nodes.x[at(node_index)],
                                    n_.pipes.vy[vertex] - n_.nodes.y[at(node_index)]);
    if (apart <= limits_.line_end.si()) return;
    say("line_end", Grade::halt, pipe(pipe_index),
        fmt::format("The line of {} ends {} from {}.", pipe(pipe_index),
                    print(Length::from_si(apart)), node(node_index)),
        "draw the line from node to node");
  }
};

}  // namespace

void check_grid(const Network& network, units::System system, const CheckLimits& limits,
                Findings& findings) {
  GridChecker(network, system, limits, findings).run();
}

}  // namespace bellhole::network::checks
