// Valves, regulators, load shapes, customers and features.
#include <algorithm>
#include <cstdint>

#include "network/checker.hpp"

namespace bellhole::network::checks {
namespace {

class EquipmentChecker : Checker {
 public:
  using Checker::Checker;
  void run() {
    valves();
    regulators();
    shapes();
    customers();
    features();
    assumed();
  }

 private:
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
};

}  // namespace

void check_equipment(const Network& network, units::System system, const CheckLimits& limits,
                     Findings& findings) {
  EquipmentChecker(network, system, limits, findings).run();
}

}  // namespace bellhole::network::checks
