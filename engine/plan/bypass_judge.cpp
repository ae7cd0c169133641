#include "plan/bypass_judge.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "procedure/judge.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using network::Network;
using network::none;
using network::Ternary;
using units::Toward;

std::size_t at(Index i) { return static_cast<std::size_t>(i); }

template <class Kind>
bool known(Quantity<Kind> value) {
  return std::isfinite(value.si());
}

/// A pressure within this of its limit is at the limit (network/steady.cpp).
constexpr double at_limit_pa = 1.0;

class Judge {
 public:
  Judge(const BypassQuestion& question, const Tried& tried, BypassFound& bypass)
      : question_(question), tried_(tried), network_(tried.network), bypass_(bypass) {}

  void all() {
    lowest();
    highest();
    work();
    robbed();
    still_out();
    tiers();
    above_maop();
    if (bypass_.kind == BypassKind::pipe) rated();
    if (bypass_.kind == BypassKind::valve) valve();
    speed();
    sensing();
    stations();
    supply();
    if (bypass_.lowest && !known(bypass_.lowest->limit)) {
      say("least_pressure", Grade::undecided, bypass_.lowest->place,
          fmt::format("With {}, {} would have {}; no least pressure is set for it: decide.",
                      bypass_.element, bypass_.lowest->place,
                      print(bypass_.lowest->pressure, Toward::down)),
          "say which pressure this customer needs at the main");
    }
    bypass_.why = why();
  }

 private:
  template <class Kind>
  std::string print(Quantity<Kind> value, Toward toward = Toward::nearest) const {
    return units::print(value, question_.system, toward);
  }
  Finding& say(std::string_view rule, Grade grade, std::string about, std::string says,
               std::string action) {
    Finding finding;
    finding.rule = fmt::format("bypass.{}", rule);
    finding.grade = grade;
    finding.says = std::move(says);
    finding.action = std::move(action);
    finding.about = std::move(about);
    finding.source = "steady state of the network with the bypass in it";
    finding.evidence = Evidence::derived;
    return bypass_.findings.emplace_back(std::move(finding));
  }
  template <class Kind>
  static void measure(Finding& finding, std::string quantity, Quantity<Kind> value,
                      std::optional<Quantity<Kind>> limit) {
    finding.quantity = std::move(quantity);
    if (known(value)) finding.value_si = value.si();
    if (limit && known(*limit)) finding.limit_si = limit->si();
    finding.unit_si = std::string(Kind::symbol);
  }

  void lowest() {
    for (const Index c : bypass_.kept) {
      const Held held{"customer " + network_.customers.id[at(c)],
                      tried_.high.customer_pressure[at(c)], tried_.high.customer_least[at(c)]};
      // Without a limit it goes before those that have one: nobody can say that it holds.
      const auto key = [](const Held& h) {
        return known(h.limit) ? std::pair(1, h.pressure.si() - h.limit.si())
                              : std::pair(0, h.pressure.si());
      };
      if (!bypass_.lowest || key(held) < key(*bypass_.lowest)) bypass_.lowest = held;
    }
  }

  void highest() {
    const auto over = [](const Held& h) { return h.pressure.si() - h.limit.si(); };
    for (const network::TierState& tier : tried_.low.tiers) {
      if (!tier.highest) continue;
      const network::Extreme& most = *tier.highest;
      const Held held{most.node != none ? "node " + network_.nodes.id[at(most.node)]
                                        : "customer " + network_.customers.id[at(most.customer)],
                      most.pressure, most.limit};
      if (!bypass_.highest || !known(bypass_.highest->limit) ||
          (known(held.limit) && over(held) > over(*bypass_.highest)))
        bypass_.highest = held;
    }
  }

  void work() {
    for (const Index node : tried_.work) {
      if (!known(tried_.high.node_pressure[at(node)])) continue;
      say("feeds_work", Grade::halt, bypass_.element,
          fmt::format("{} brings gas back to the place of work ({}).", bypass_.element,
                      network_.nodes.id[at(node)]),
          "join it on the other side of the shut places, or shut one more");
      return;
    }
  }

  void robbed() {
    if (bypass_.newly_out.empty()) return;
    say("robs", Grade::halt, named(network_, bypass_.newly_out),
        fmt::format("{} takes gas from customers who would have had enough without it: {}.",
                    bypass_.element, named(network_, bypass_.newly_out)),
        "take a smaller size, another place, or feed it from another main");
  }

  void still_out() {
    if (bypass_.out.empty()) return;
    auto& finding =
        say("still_out", bypass_.must_out.empty() ? Grade::warn : Grade::halt,
            named(network_, bypass_.out),
            fmt::format("With {}, {} customers are still out or short at the high load: {}.{}",
                        bypass_.element, bypass_.out.size(), named(network_, bypass_.out),
                        bypass_.must_out.empty()
                            ? std::string()
                            : " Must not lose: " + named(network_, bypass_.must_out) + "."),
            "count them as out: shut off each meter, relight each");
    finding.quantity = "customers out or short";
    finding.value_si = static_cast<double>(bypass_.out.size());
    finding.unit_si = "1";
  }

  void tiers() {
    const Index a = network_.nodes.tier[at(tried_.from)], b = network_.nodes.tier[at(tried_.to)];
    if (a == none || b == none) {
      say("tiers", Grade::undecided, bypass_.element,
          fmt::format("The map does not say which tier {} joins at both of its ends.",
                      bypass_.element),
          "find out which pressure each side is meant for");
      return;
    }
    if (a == b) return;
    say("tiers", Grade::halt, bypass_.element,
        fmt::format("{} joins the tiers {} and {} without a regulator.", bypass_.element,
                    network_.tiers.id[at(a)], network_.tiers.id[at(b)]),
        "join mains of one tier, or set a regulator with over-pressure protection in it and have "
        "it designed");
  }

  void above_maop() {
    if (!bypass_.highest) return;
    const Held& most = *bypass_.highest;
    for (const Index node : {tried_.from, tried_.to}) {
      const Index tier = network_.nodes.tier[at(node)];
      if (tier == none || known(network_.tiers.maop[at(tier)])) continue;
      say("maop_unknown", Grade::undecided, network_.tiers.id[at(tier)],
          fmt::format("No MAOP is recorded for tier {}, which {} joins: no limit set: decide.",
                      network_.tiers.id[at(tier)], bypass_.element),
          "enter the tier's MAOP");
      break;
    }
    if (!known(most.limit) || most.pressure.si() <= most.limit.si() + at_limit_pa) return;
    auto& finding = say("above_maop", Grade::halt, most.place,
                        fmt::format("With {}, {} reaches {} at the low load, above its MAOP of {}.",
                                    bypass_.element, most.place, print(most.pressure, Toward::up),
                                    print(most.limit, Toward::down)),
                        "lower what feeds it, or leave it out");
    measure(finding, "highest pressure", most.pressure, std::optional(most.limit));
  }

  void rated() {
    double most = std::nan("");
    for (const network::SteadyState* state : {&tried_.low, &tried_.high}) {
      for (const Index node : {tried_.from, tried_.to})
        most = std::fmax(most, state->node_pressure[at(node)].si());
    }
    if (!std::isfinite(most)) return;
    const auto pressure = GaugePressure::from_si(most);
    if (!tried_.rated) {
      auto& finding =
          say("rated", Grade::undecided, bypass_.element,
              fmt::format("{} would see up to {}; nobody said what it is rated for: decide.",
                          bypass_.element, print(pressure, Toward::up)),
              "give its most pressure: \"NAME@BORE@PRESSURE\"");
      measure(finding, "highest pressure in the bypass", pressure, tried_.rated);
      return;
    }
    if (most <= tried_.rated->si() + at_limit_pa) return;
    auto& finding =
        say("rated", Grade::halt, bypass_.element,
            fmt::format("{} would see {}, above the {} that it is rated for.", bypass_.element,
                        print(pressure, Toward::up), print(*tried_.rated, Toward::down)),
            "take one that is rated for it");
    measure(finding, "highest pressure in the bypass", pressure, tried_.rated);
  }

  void valve() {
    const auto& valves = network_.valves;
    const std::size_t v = at(tried_.valve);
    if (valves.operable[v] == Ternary::no || valves.reachable[v] == Ternary::no) {
      say("valve_state", Grade::halt, "valve " + valves.id[v],
          fmt::format("Valve {} is recorded as {}.", valves.id[v],
                      valves.operable[v] == Ternary::no ? "not working" : "not reachable"),
          "another way, or repair and prove it first");
      return;
    }
    if (valves.operable[v] == Ternary::unknown || valves.reachable[v] == Ternary::unknown ||
        !std::isfinite(valves.last_operated_year[v])) {
      say("valve_state", Grade::undecided, "valve " + valves.id[v],
          fmt::format("Nothing says that valve {} turns and is within reach.", valves.id[v]),
          "go there and turn it before the day; it is closed for a reason: find out which");
      return;
    }
    say("valve_state", Grade::info, "valve " + valves.id[v],
        fmt::format("Valve {} is normally closed.", valves.id[v]),
        "find out why it is closed; log its opening and close it again afterwards");
  }

  void speed() {
    if (!bypass_.speed) return;
    append(bypass_.findings,
           procedure::judge(
               question_.profile.ruling("bypass.speed_most", {}),
               {.quantity = "speed of the gas in " + bypass_.element,
                .value_si = bypass_.speed->si(),
                .about = bypass_.element,
                .action = "take a wider one or two side by side: fast gas is loud and carries "
                          "debris",
                .to_know = ""},
               question_.system));
  }

  /// Regulators that feel a main on which it is connected, or that nobody knows the tap of.
  void sensing() {
    const auto& table = network_.regulators;
    for (std::size_t r = 0; r < table.size(); ++r) {
      const std::string about = "regulator " + table.id[r];
      if (tried_.high.regulators[r].sensing_parted) {
        say("sensing", Grade::halt, about,
            fmt::format("Regulator {} feels a main that nothing joins to its outlet any more.",
                        table.id[r]),
            "move its sensing line or man it; no bypass changes that");
      } else if (table.sensing[r] == network::Sensing::unknown) {
        say("sensing", Grade::undecided, about,
            fmt::format("Where regulator {} feels its pressure is not recorded.", table.id[r]),
            "find its sensing line before the day");
      } else if (table.sensing[r] == network::Sensing::remote && touches(table.tap_pipe[r])) {
        say("sensing", Grade::warn, about,
            fmt::format("Regulator {} feels its pressure on a main that {} joins.", table.id[r],
                        bypass_.element),
            "keep the connection away from its tap, and watch its outlet when the bypass is "
            "opened and closed");
      }
    }
  }

  /// Whether a main of the copy is part of one that ends where the bypass joins.
  bool touches(Index pipe) const {
    if (pipe == none) return false;
    const Index whole = tried_.map_pipe[at(pipe)];
    for (std::size_t p = 0; p < network_.pipes.size(); ++p) {
      if (tried_.map_pipe[p] != whole) continue;
      for (const Index end : {network_.pipes.from[p], network_.pipes.to[p]})
        if (end == tried_.from || end == tried_.to) return true;
    }
    return false;
  }

  void stations() {
    for (std::size_t r = 0; r < network_.regulators.size(); ++r) {
      if (tried_.high.regulators[r].mode != network::RegulatorMode::reverse) continue;
      say("reverse", Grade::undecided, "regulator " + network_.regulators.id[r],
          fmt::format("With {}, gas would run backwards through regulator {} unless something "
                      "there stops it.",
                      bypass_.element, network_.regulators.id[r]),
          "find out whether it blocks, or shut its outlet");
    }
  }

  void supply() {
    if (bypass_.kind != BypassKind::supply) return;
    const auto& state = tried_.high.sources.back();
    if (state.at_capacity) {
      auto& finding = say("supply_capacity", Grade::warn, bypass_.element,
                          fmt::format("{} gives all it can, {}.", bypass_.element,
                                      print(bypass_.flow, Toward::down)),
                          "bring a larger one or a second one");
      measure(finding, "flow of the supply", bypass_.flow, std::optional<StdFlow>());
    }
    say("supply_gas", Grade::undecided, bypass_.element,
        fmt::format("How long {} lasts and whether its gas burns like the gas of the main is not "
                    "known here.",
                    bypass_.element),
        "whoever brings it says so: volume, quality, odour, and who stays with it");
  }

  std::string why() const {
    for (const Finding& finding : bypass_.findings) {
      if (finding.grade == Grade::halt && finding.rule != "bypass.still_out" &&
          finding.rule != "bypass.sensing")
        return finding.says;
    }
    if (bypass_.kept.empty()) {
      return std::fabs(bypass_.flow.si()) > 0.0
                 ? fmt::format("{} keeps nobody on: what it brings is not enough for anybody.",
                               bypass_.element)
                 : fmt::format("{} changes nothing: no gas runs through it.", bypass_.element);
    }
    return fmt::format("{} keeps {} customers on ({}){}.", bypass_.element, bypass_.kept.size(),
                       named(network_, bypass_.kept),
                       bypass_.out.empty() ? std::string()
                                           : fmt::format("; {} are still out", bypass_.out.size()));
  }

  const BypassQuestion& question_;
  const Tried& tried_;
  const Network& network_;
  BypassFound& bypass_;
};

}  // namespace

std::string named(const Network& network, const std::vector<Index>& customers) {
  constexpr std::size_t shown = 5;
  std::string list;
  for (std::size_t i = 0; i < std::min(customers.size(), shown); ++i)
    list += (i == 0 ? "" : ", ") + network.customers.id[at(customers[i])];
  if (customers.size() > shown) list += fmt::format(" and {} more", customers.size() - shown);
  return list;
}

std::vector<Index> without_enough(const network::SteadyState& state) {
  std::vector<Index> list;
  std::ranges::set_union(state.customers_out, state.customers_short, std::back_inserter(list));
  return list;
}

void judge_bypass(const BypassQuestion& question, const Tried& tried, BypassFound& bypass) {
  Judge(question, tried, bypass).all();
}

}  // namespace bellhole::plan
