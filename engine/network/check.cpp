#include "network/check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <span>
#include <unordered_map>

namespace bellhole::network {
namespace {

std::size_t at(Index i) { return static_cast<std::size_t>(i); }
template <class Kind>
bool known(Quantity<Kind> value) {
  return std::isfinite(value.si());
}

/// Elements that share one thing to say. `about` lists them all; a sentence names the first few.
struct Group {
  std::vector<std::string> ids;
  void add(const std::string& id) { ids.push_back(id); }
  [[nodiscard]] std::string all() const { return joined(ids.size()); }
  [[nodiscard]] std::string few() const {
    constexpr std::size_t shown = 5;
    return ids.size() <= shown ? joined(ids.size())
                               : fmt::format("{} and {} more", joined(shown), ids.size() - shown);
  }

 private:
  [[nodiscard]] std::string joined(std::size_t count) const {
    return fmt::format("{}", fmt::join(std::span(ids).first(count), ", "));
  }
};

class Checker {
 public:
  Checker(const Network& network, units::System system, const CheckLimits& limits)
      : n_(network), system_(system), limits_(limits) {}

  Findings run() {
    sources();
    tiers();
    nodes();
    fed();
    pipes();
    pipe_lines();
    valves();
    regulators();
    shapes();
    customers();
    features();
    assumed();
    return std::move(findings_);
  }

 private:
  Finding& say(const char* rule, Grade grade, std::string about, std::string says,
               std::string action) {
    Finding finding;
    finding.rule = std::string("network.") + rule;
    finding.grade = grade;
    finding.says = std::move(says);
    finding.about = std::move(about);
    finding.action = std::move(action);
    finding.source = "the map's own records";
    finding.evidence = Evidence::derived;
    findings_.push_back(std::move(finding));
    return findings_.back();
  }
  void unknown(const char* rule, const Group& group, const std::string& what,
               const std::string& action) {
    if (group.ids.empty()) return;
    auto& finding =
        say(rule, Grade::undecided, group.all(), fmt::format("{}: {}", what, group.few()), action);
    finding.quantity = "number of elements";
    finding.value_si = static_cast<double>(group.ids.size());
    finding.unit_si = "1";
  }
  template <class Kind>
  std::string print(Quantity<Kind> value) const {
    return units::print(value, system_);
  }
  std::string pipe(Index i) const { return "pipe " + n_.pipes.id[at(i)]; }
  std::string node(Index i) const { return "node " + n_.nodes.id[at(i)]; }

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

  void above_maop(const std::string& what, GaugePressure pressure, Index tier, const char* verb) {
    const GaugePressure maop = n_.tiers.maop[at(tier)];
    if (!known(pressure) || !known(maop) || pressure <= maop) return;
    auto& finding =
        say("above_maop", Grade::halt, what,
            fmt::format("{} {} {}, more than the MAOP {} of tier {}.", what, verb, print(pressure),
                        units::print(maop, system_, units::Toward::down), n_.tiers.id[at(tier)]),
            "correct the record, or have the pressure set down, before anything is planned on it");
    finding.quantity = "set pressure against MAOP";
    finding.value_si = pressure.si();
    finding.limit_si = maop.si();
    finding.unit_si = "Pa (gauge)";
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

  void station(const std::string& what, Index on, Length where) {
    const Length length = n_.pipes.length[at(on)];
    if (where.si() <= length.si() + limits_.line_end.si()) return;
    auto& finding = say("station_beyond", Grade::halt, what + ", " + pipe(on),
                        fmt::format("{} stands at {} on {}, which is {} long.", what, print(where),
                                    pipe(on), print(length)),
                        "correct the station");
    finding.quantity = "station along the pipe";
    finding.value_si = where.si();
    finding.limit_si = length.si();
    finding.unit_si = "m";
  }

  void valves() {
    const Valves& v = n_.valves;
    Group unknown_position;
    for (std::size_t i = 0; i < v.size(); ++i) {
      station("valve " + v.id[i], v.pipe[i], v.station[i]);
      if (v.position[i] == Position::unknown) unknown_position.add("valve " + v.id[i]);
      const bool apart = v.position[i] != Position::unknown && v.normal[i] != Position::unknown &&
                         v.position[i] != v.normal[i];
      if (apart) {
        say("valve_position", Grade::warn, "valve " + v.id[i],
            fmt::format("Valve {} stands {} and is meant to be {}.", v.id[i],
                        v.position[i] == Position::open ? "open" : "shut",
                        v.normal[i] == Position::open ? "open" : "shut"),
            "go and look, before a plan leans on it");
      }
    }
    unknown("unknown_position", unknown_position,
            "It is not recorded whether the valve stands open or shut", "go and look");
  }

  void regulators() {
    const Regulators& r = n_.regulators;
    Group no_set, no_sensing, no_capacity, no_reverse;
    for (std::size_t i = 0; i < r.size(); ++i) {
      const std::string what = "regulator " + r.id[i];
      const Index in = n_.nodes.tier[at(r.inlet[i])], out = n_.nodes.tier[at(r.outlet[i])];
      if (!known(r.set_point[i])) no_set.add(what);
      if (!known(r.capacity[i])) no_capacity.add(what);
      if (r.sensing[i] == Sensing::unknown) no_sensing.add(what);
      if (r.blocks_reverse[i] == Ternary::unknown) no_reverse.add(what);
      if (r.inlet[i] == r.outlet[i]) {
        say("same_node", Grade::halt, what,
            fmt::format("{} has inlet and outlet at {}.", what, node(r.inlet[i])),
            "map both sides");
      } else if (in == out && in != none) {
        say("regulator_tiers", Grade::warn, what,
            fmt::format("{} has both sides in tier {}.", what, n_.tiers.id[at(in)]),
            "correct the tier of one side");
      }
      if (out != none) above_maop(what, r.set_point[i], out, "is set to");
      if (known(r.relief[i]) && known(r.set_point[i]) && r.relief[i] < r.set_point[i]) {
        say("regulator_relief", Grade::halt, what,
            fmt::format("{} is set to {}, above its relief at {}.", what, print(r.set_point[i]),
                        print(r.relief[i])),
            "correct the record of the set point or of the relief");
      }
      tap(i, what, out);
    }
    unknown("unknown_set_point", no_set, "The set point is not recorded",
            "read it from the station's sheet");
    unknown("unknown_sensing", no_sensing, "It is not recorded where the regulator senses",
            "trace the control line");
    unknown("unknown_capacity", no_capacity, "The capacity is not recorded",
            "read it from the maker's table for this orifice");
    unknown("unknown_reverse", no_reverse,
            "It is not recorded whether gas can pass backwards, so it counts as possible",
            "look for a check or slam-shut");
  }
  void tap(std::size_t i, const std::string& what, Index out_tier) {
    const Regulators& r = n_.regulators;
    if (r.sensing[i] != Sensing::remote) return;
    if (r.tap_pipe[i] == none) {
      say("regulator_tap", Grade::undecided, what,
          what + " senses at a tap on a main, and the map does not say where.",
          "trace the control line: a squeeze between tap and station would blind the regulator");
      return;
    }
    if (known(r.tap_station[i])) station("sensing tap of " + what, r.tap_pipe[i], r.tap_station[i]);
    const Index tier = n_.nodes.tier[at(n_.pipes.from[at(r.tap_pipe[i])])];
    if (tier != out_tier && tier != none && out_tier != none) {
      say("regulator_tap", Grade::halt, what,
          fmt::format("{} feeds tier {} and is mapped as sensing on {} in tier {}.", what,
                      n_.tiers.id[at(out_tier)], pipe(r.tap_pipe[i]), n_.tiers.id[at(tier)]),
          "correct the tap");
    }
  }

  void shapes() {
    const LoadShapes& s = n_.shapes;
    for (std::size_t i = 0; i < s.size(); ++i) {
      double mean = 0.0;
      for (const double factor : s.hour_factor[i]) mean += factor / 24.0;
      if (std::abs(mean - 1.0) > limits_.day_mean) {
        auto& finding = say(
            "day_mean", Grade::halt, "shape " + s.id[i],
            fmt::format("The hour factors of shape {} average {:.6g} and not 1.", s.id[i], mean),
            "divide them by their mean");
        finding.quantity = "mean of the hour factors";
        finding.value_si = mean;
        finding.limit_si = 1.0;
        finding.unit_si = "1";
      }
      if (s.low[i] > 1.0 || s.high[i] < 1.0) {
        say("shape_range", Grade::halt, "shape " + s.id[i],
            fmt::format("The range {:.3g} to {:.3g} of shape {} does not hold its expected value.",
                        s.low[i], s.high[i], s.id[i]),
            "give a low multiplier up to 1 and a high one from 1");
      }
    }
  }

  void customers() {
    const Customers& c = n_.customers;
    Group no_load, no_reason;
    for (std::size_t i = 0; i < c.size(); ++i) {
      station("customer " + c.id[i], c.pipe[i], c.station[i]);
      if (!known(c.base[i]) || !std::isfinite(c.per_k[i]) || c.shape[i] == none)
        no_load.add("customer " + c.id[i]);
      if (c.must_not_lose[i] != 0 && c.why_not[i].empty()) no_reason.add("customer " + c.id[i]);
    }
    unknown("unknown_load", no_load, "The load of a customer is not known",
            "enter it, or a shape to estimate it by");
    if (!no_reason.ids.empty()) {
      say("unknown_reason", Grade::warn, no_reason.all(),
          "The map does not say why these must not lose gas: " + no_reason.few(),
          "enter the reason");
    }
  }

  void features() {
    const Features& f = n_.features;
    for (std::size_t i = 0; i < f.size(); ++i) {
      station("feature " + f.id[i], f.pipe[i], std::max(f.begin[i], f.end[i]));
      if (f.begin[i] > f.end[i]) {
        say("station_beyond", Grade::halt, "feature " + f.id[i] + ", " + pipe(f.pipe[i]),
            fmt::format("Feature {} begins after it ends.", f.id[i]), "correct its stations");
      }
    }
  }

  void assumed() {
    const auto count = std::ranges::count(n_.notes.assumed, std::uint8_t{1});
    if (count == 0) return;
    auto& finding =
        say("assumed_on_import", Grade::info, n_.name,
            fmt::format("{} values of this network were assumed on import.", count),
            "read them in the import report; each travels into the answers that it touches");
    finding.quantity = "assumed values";
    finding.value_si = static_cast<double>(count);
    finding.unit_si = "1";
  }

  const Network& n_;
  units::System system_;
  const CheckLimits& limits_;
  Findings findings_;
};

}  // namespace

Findings check(const Network& network, units::System system, const CheckLimits& limits) {
  return Checker(network, system, limits).run();
}

}  // namespace bellhole::network
