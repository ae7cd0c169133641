#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <span>
#include <string>
#include <vector>

#include "network/bore.hpp"
#include "network/points.hpp"
#include "network/roughness.hpp"
#include "network/steady.hpp"

namespace bellhole::network {
namespace {

/// A pressure within this of its limit is at the limit (steady.cpp).
constexpr double at_limit_pa = 1.0;

template <class Kind>
bool known(Quantity<Kind> value) {
  return std::isfinite(value.si());
}

/// "M-1, M-2, M-3 and 12 more": all of them go into `about`.
struct Named {
  std::vector<std::string> ids;

  void add(const std::string& id) { ids.push_back(id); }
  [[nodiscard]] bool empty() const { return ids.empty(); }
  [[nodiscard]] std::string all() const { return fmt::format("{}", fmt::join(ids, ", ")); }
  [[nodiscard]] std::string few() const {
    constexpr std::size_t shown = 5;
    if (ids.size() <= shown) return all();
    return fmt::format("{} and {} more", fmt::join(std::span(ids).first(shown), ", "),
                       ids.size() - shown);
  }
};

class Teller {
 public:
  Teller(const Model& model, const Scenario& scenario, const SteadyState& state,
         units::System system)
      : network_(model.network()),
        conditions_(model.conditions()),
        scenario_(scenario),
        state_(state),
        system_(system) {}

  Findings tell() {
    shortfall();
    out();
    tiers();
    regulators();
    contend();
    sources();
    valves();
    loads();
    bores();
    roughness();
    heights();
    return std::move(findings_);
  }

 private:
  Finding& say(std::string_view rule, Grade grade, std::string about, std::string says,
               std::string action) {
    Finding finding;
    finding.rule = fmt::format("network.{}", rule);
    finding.grade = grade;
    finding.about = std::move(about);
    finding.says = std::move(says);
    finding.action = std::move(action);
    finding.source = "steady state of the network as mapped";
    finding.evidence = Evidence::derived;
    return findings_.emplace_back(std::move(finding));
  }
  template <class Kind>
  void measure(Finding& finding, std::string quantity, Quantity<Kind> value, Quantity<Kind> limit) {
    finding.quantity = std::move(quantity);
    if (known(value)) finding.value_si = value.si();
    if (known(limit)) finding.limit_si = limit.si();
    finding.unit_si = std::string(Kind::symbol);
  }
  void count(Finding& finding, std::string quantity, std::size_t number) {
    finding.quantity = std::move(quantity);
    finding.value_si = static_cast<double>(number);
    finding.unit_si = "1";
  }
  template <class Kind>
  std::string print(Quantity<Kind> value, units::Toward toward = units::Toward::nearest) const {
    return units::print(value, system_, toward);
  }
  const std::string& customer(Index c) const { return network_.customers.id[at(c)]; }

  void shortfall() {
    if (state_.customers_short.empty()) return;
    Named who, must_not_lose;
    double wanted = 0.0, delivered = 0.0;
    for (Index c : state_.customers_short) {
      who.add(customer(c));
      if (network_.customers.must_not_lose[at(c)] != 0) must_not_lose.add(customer(c));
      wanted += state_.wanted[at(c)].si();
      delivered += state_.delivered[at(c)].si();
    }
    std::string says = fmt::format(
        "The network cannot carry this load: {} of {} customers fall short ({}); they get {} of "
        "{}.",
        state_.customers_short.size(), network_.customers.size(), who.few(),
        print(StdFlow::from_si(delivered)), print(StdFlow::from_si(wanted)));
    if (!must_not_lose.empty()) says += " Must not lose: " + must_not_lose.all() + ".";
    auto& finding =
        say("cannot_carry", Grade::halt, who.all(), std::move(says),
            "wait for warmer weather, feed from another side, or count these customers as lost");
    measure(finding, "delivered against wanted", StdFlow::from_si(delivered),
            StdFlow::from_si(wanted));
  }

  void out() {
    if (state_.customers_out.empty()) return;
    Named who, must_not_lose;
    for (Index c : state_.customers_out) {
      who.add(customer(c));
      if (network_.customers.must_not_lose[at(c)] != 0) must_not_lose.add(customer(c));
    }
    std::string says =
        fmt::format("No source reaches {} of {} customers: {}.", state_.customers_out.size(),
                    network_.customers.size(), who.few());
    if (!must_not_lose.empty()) says += " Must not lose: " + must_not_lose.all() + ".";
    auto& finding = say("customers_out", must_not_lose.empty() ? Grade::warn : Grade::halt,
                        who.all(), std::move(says),
                        "they are without gas until their main is fed again and they are relit");
    count(finding, "customers without gas", state_.customers_out.size());
  }

  std::string place(const Extreme& extreme) const {
    return extreme.node != none ? "node " + network_.nodes.id[at(extreme.node)]
                                : "customer " + customer(extreme.customer);
  }

  void tiers() {
    for (std::size_t t = 0; t < state_.tiers.size(); ++t) {
      if (state_.tiers[t].lowest) lowest(network_.tiers.id[t], *state_.tiers[t].lowest);
      if (state_.tiers[t].highest) highest(network_.tiers.id[t], *state_.tiers[t].highest);
    }
  }

  void lowest(const std::string& tier, const Extreme& extreme) {
    if (!known(extreme.limit)) {
      auto& finding = say("least_pressure", Grade::undecided, place(extreme),
                          fmt::format("Tier {}: lowest {} at {}; no limit set: decide.", tier,
                                      print(extreme.pressure, units::Toward::down), place(extreme)),
                          "the engineer enters the least pressure at the main");
      return measure(finding, "lowest pressure", extreme.pressure, extreme.limit);
    }
    if (extreme.pressure.si() >= extreme.limit.si() - at_limit_pa) return;
    auto& finding =
        say("least_pressure", extreme.customer != none ? Grade::halt : Grade::warn, place(extreme),
            fmt::format("Tier {}: {} at {}, less than the least {}.", tier,
                        print(extreme.pressure, units::Toward::down), place(extreme),
                        print(extreme.limit, units::Toward::up)),
            "feed this part better or draw less from it");
    measure(finding, "lowest pressure", extreme.pressure, extreme.limit);
  }

  void highest(const std::string& tier, const Extreme& extreme) {
    if (!known(extreme.limit)) {
      auto& finding = say("maop", Grade::undecided, place(extreme),
                          fmt::format("Tier {}: highest {} at {}; no limit set: decide.", tier,
                                      print(extreme.pressure, units::Toward::up), place(extreme)),
                          "the engineer enters the tier's MAOP");
      return measure(finding, "highest pressure", extreme.pressure, extreme.limit);
    }
    if (extreme.pressure.si() <= extreme.limit.si() + at_limit_pa) return;
    auto& finding = say("maop", Grade::halt, place(extreme),
                        fmt::format("Tier {}: {} at {}, more than its MAOP {}.", tier,
                                    print(extreme.pressure, units::Toward::up), place(extreme),
                                    print(extreme.limit, units::Toward::down)),
                        "do not let it come to this: find the regulator or tie that lets it in");
    measure(finding, "highest pressure", extreme.pressure, extreme.limit);
  }

  void regulators() {
    const auto& table = network_.regulators;
    Named unsure, no_capacity;
    for (std::size_t r = 0; r < table.size(); ++r) {
      const RegulatorState& now = state_.regulators[r];
      if (now.mode == RegulatorMode::out || now.mode == RegulatorMode::shut) continue;
      const bool remote = table.sensing[r] == Sensing::remote;
      if (table.sensing[r] == Sensing::unknown || (remote && table.tap_pipe[r] == none))
        unsure.add(table.id[r]);
      if (now.sensing_parted) parted(r, now);
      if (now.mode == RegulatorMode::wide_open && !now.sensing_parted) wide_open(r, now);
      if (now.mode == RegulatorMode::reverse) reverse(r, now);
      if (now.flow.si() > 0.0) capacity(r, now, no_capacity);
      lock_up(r);
    }
    if (!unsure.empty()) {
      auto& finding = say("sensing_unknown", Grade::undecided, unsure.all(),
                          fmt::format("Where these regulators feel their pressure is not known; "
                                      "taken at their own outlet: {}.",
                                      unsure.few()),
                          "find the sensing line and map its tap");
      count(finding, "regulators", unsure.ids.size());
    }
    if (!no_capacity.empty()) {
      auto& finding =
          say("capacity_unknown", Grade::undecided, no_capacity.all(),
              fmt::format("No capacity is recorded; taken to pass whatever is drawn: {}.",
                          no_capacity.few()),
              "enter the capacity at the design inlet pressure");
      count(finding, "stations", no_capacity.ids.size());
    }
  }

  void contend() {
    if (state_.held_to_own_outlets) {
      say("regulators_contend", Grade::undecided, "regulators",
          "No state was found in which all regulators hold what they feel: some feel what another "
          "one feeds. Solved with "
          "each holding its own outlet.",
          "look at their sensing points and set points together; they may hunt");
    } else if (state_.regulators_give > 0.0) {
      auto& finding = say("regulators_contend", Grade::warn, "regulators",
                          "Regulators act on each other through next to no main; solved with "
                          "outlets that may differ a little "
                          "from their set points.",
                          "look at their set points together; they may hunt");
      finding.quantity = "share of the absolute pressure";
      finding.value_si = state_.regulators_give;
      finding.unit_si = "1";
    }
  }

  void parted(std::size_t r, const RegulatorState& now) {
    const auto& table = network_.regulators;
    const std::string what =
        known(now.sensed)
            ? fmt::format("feels {} in another part of the network", print(now.sensed))
            : "feels a main without gas";
    auto& finding =
        say("sensing_parted", Grade::halt, "regulator " + table.id[r],
            fmt::format(
                "Regulator {} no longer feels what it feeds: it {}{}.", table.id[r], what,
                now.mode == RegulatorMode::wide_open ? " and runs wide open" : " and stands shut"),
            "move the sensing line to a live main it feeds, or take the regulator out of service, "
            "before shutting");
    measure(finding, "outlet pressure against set point", now.outlet, table.set_point[r]);
  }

  void wide_open(std::size_t r, const RegulatorState& now) {
    const auto& table = network_.regulators;
    auto& finding =
        say("regulator_wide_open", Grade::warn, "regulator " + table.id[r],
            fmt::format(
                "Regulator {} is wide open and does not hold its set point {}: {} where it feels.",
                table.id[r], print(table.set_point[r]), print(now.sensed, units::Toward::down)),
            "its inlet is too low or its capacity too small for this load");
    measure(finding, "sensed pressure against set point", now.sensed, table.set_point[r]);
  }

  void reverse(std::size_t r, const RegulatorState& now) {
    const auto& table = network_.regulators;
    const bool sure = table.blocks_reverse[r] == Ternary::no;
    const bool drawn = -now.flow.si() > 1e-6 * std::abs(state_.into_network.si());
    auto& finding =
        say("reverse_flow", sure ? Grade::warn : Grade::undecided, "regulator " + table.id[r],
            fmt::format("Regulator {} {} backwards, from its outlet to its inlet{}.", table.id[r],
                        drawn ? "passes " + print(MassFlow::from_si(-now.flow.si()))
                              : "keeps its inlet side under gas, though nothing is drawn there,",
                        sure ? "" : "; whether it can is not recorded"),
            "do not lean on this feed, and do not take its inlet side for dead");
    measure(finding, "reverse flow", MassFlow::from_si(-now.flow.si()),
            MassFlow::from_si(std::nan("")));
  }

  void capacity(std::size_t r, const RegulatorState& now, Named& no_capacity) {
    const auto& table = network_.regulators;
    if (!known(table.capacity[r])) return no_capacity.add("regulator " + table.id[r]);
    const StdFlow flow = standard(now.flow);
    if (flow.si() <= table.capacity[r].si() * (1.0 + 1e-6)) return;
    auto& finding = say("over_capacity", Grade::warn, "regulator " + table.id[r],
                        fmt::format("Regulator {} passes {}, more than its recorded capacity {}; "
                                    "its inlet stands above the design inlet.",
                                    table.id[r], print(flow), print(table.capacity[r])),
                        "ask for its capacity at this inlet pressure");
    measure(finding, "flow against capacity", flow, table.capacity[r]);
  }

  void lock_up(std::size_t r) {
    const auto& table = network_.regulators;
    const Index tier = network_.nodes.tier[at(table.outlet[r])];
    if (tier == none || std::isnan(table.lock_up[r])) return;
    const GaugePressure locked =
        GaugePressure::from_si(table.set_point[r].si() * (1.0 + table.lock_up[r]));
    const GaugePressure maop = network_.tiers.maop[at(tier)];
    if (!known(maop) || locked.si() <= maop.si() + at_limit_pa) return;
    auto& finding = say(
        "lock_up", Grade::warn, "regulator " + table.id[r],
        fmt::format("Regulator {} locks up at {}, more than the MAOP {} behind it.", table.id[r],
                    print(locked, units::Toward::up), print(maop, units::Toward::down)),
        "watch the pressure behind it whenever little gas is drawn");
    measure(finding, "lock-up pressure", locked, maop);
  }

  void sources() {
    const auto& table = network_.sources;
    Named no_capacity;
    for (std::size_t s = 0; s < table.size(); ++s) {
      if (state_.sources[s].flow.si() > 0.0 && !known(table.capacity[s]))
        no_capacity.add("source " + table.id[s]);
      if (!state_.sources[s].at_capacity) continue;
      auto& finding =
          say("source_at_capacity", Grade::warn, "source " + table.id[s],
              fmt::format("Source {} gives all it can, {}.", table.id[s], print(table.capacity[s])),
              "more is drawn than it can give: its pressure falls");
      measure(finding, "flow against capacity", standard(state_.sources[s].flow),
              table.capacity[s]);
    }
    if (no_capacity.empty()) return;
    auto& finding = say("source_capacity_unknown", Grade::undecided, no_capacity.all(),
                        fmt::format("No capacity is recorded; taken to give whatever is drawn: {}.",
                                    no_capacity.few()),
                        "enter what the source can give");
    count(finding, "sources", no_capacity.ids.size());
  }

  void valves() {
    Named open, shut;
    for (std::size_t v = 0; v < network_.valves.size(); ++v) {
      Position position = network_.valves.position[v];
      for (const ValveSetting& setting : scenario_.valves) {
        if (at(setting.valve) == v) position = setting.position;
      }
      if (position != Position::unknown) continue;
      (network_.valves.normal[v] == Position::closed ? shut : open).add(network_.valves.id[v]);
    }
    const auto tell = [&](const Named& who, std::string_view taken) {
      if (who.empty()) return;
      auto& finding = say(
          "valve_position_unknown", Grade::undecided, who.all(),
          fmt::format("The position of these valves is not known; taken {}: {}.", taken, who.few()),
          "look at them");
      count(finding, "valves", who.ids.size());
    };
    tell(open, "open");
    tell(shut, "closed, as they are meant to be");
  }

  void loads() {
    Named who;
    for (std::size_t c = 0; c < network_.customers.size(); ++c) {
      const bool whole =
          known(network_.customers.base[c]) && !std::isnan(network_.customers.per_k[c]);
      if (!whole) who.add(network_.customers.id[c]);
    }
    if (who.empty()) return;
    auto& finding = say("load_unknown", Grade::undecided, who.all(),
                        fmt::format("The load of these customers is not fully recorded; what is "
                                    "missing is taken as nought: {}.",
                                    who.few()),
                        "enter base load and load per degree");
    count(finding, "customers", who.ids.size());
  }

  void bores() {
    Named who;
    const std::vector<Bore> found = bores_of(network_.pipes, network_.nodes.size());
    for (std::size_t p = 0; p < found.size(); ++p) {
      if (found[p].assumed) who.add(network_.pipes.id[p]);
    }
    if (who.empty()) return;
    auto& finding = say(
        "bore_unknown", Grade::undecided, who.all(),
        fmt::format("No size is recorded; the smallest bore that meets each of them was taken: {}.",
                    who.few()),
        "expose the pipe or find its record, and enter size and DR");
    count(finding, "mains", who.ids.size());
  }

  void roughness() {
    Named who;
    Roughness last;
    for (std::size_t p = 0; p < network_.pipes.size(); ++p) {
      const Roughness found = roughness_of(network_.pipes, static_cast<Index>(p));
      if (!found.assumed) continue;
      who.add(network_.pipes.id[p]);
      last = found;
    }
    if (who.empty() || conditions_.law != gas::Law::general) return;
    auto& finding = say("roughness_assumed", Grade::info, who.all(),
                        fmt::format("Roughness taken by material: {}.", who.few()),
                        "none needed for plastic in good order");
    count(finding, "mains", who.ids.size());
    finding.source = std::string(last.source);
    finding.evidence = last.evidence;
  }

  void heights() {
    Named who;
    for (std::size_t i = 0; i < network_.nodes.size(); ++i) {
      if (!known(network_.nodes.elevation[i])) who.add(network_.nodes.id[i]);
    }
    if (who.empty()) return;
    auto& finding = say(
        "no_elevation", Grade::info, who.all(),
        fmt::format("No elevation is recorded; taken level with the nearest recorded place: {}.",
                    who.few()),
        "matters at inches of water: about 0.6 inches for each 100 feet");
    count(finding, "nodes", who.ids.size());
  }

  [[nodiscard]] StdFlow standard(MassFlow flow) const {
    return StdFlow::from_si(
        flow.si() /
        gas::base_density(conditions_.gas, {network_.base_pressure, network_.base_temperature})
            .si());
  }

  const Network& network_;
  const Conditions& conditions_;
  const Scenario& scenario_;
  const SteadyState& state_;
  units::System system_;
  Findings findings_;
};

}  // namespace

Findings findings(const Model& model, const Scenario& scenario, const SteadyState& state,
                  units::System system) {
  return Teller(model, scenario, state, system).tell();
}

}  // namespace bellhole::network
