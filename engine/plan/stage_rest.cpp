#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "plan/stage_teller.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using network::RegulatorMode;

/// What a state leaves to feed the rest, and the limits that hold everywhere.
class Rest final : public StageTeller {
 public:
  using StageTeller::StageTeller;

  Findings tell() {
    feeds();
    maop();
    short_of_gas();
    return take();
  }

 private:
  [[nodiscard]] StdFlow standard(MassFlow flow) const {
    return StdFlow::from_si(flow.si() /
                            gas::base_density(view_.question.model.conditions().gas,
                                              {network_.base_pressure, network_.base_temperature})
                                .si());
  }

  // What feeds what is left.

  struct Feeds {
    std::vector<std::size_t> regulators;
    std::size_t sources = 0;
    [[nodiscard]] std::size_t count() const { return regulators.size() + sources; }
  };

  /// Everything with gas behind it that may give to a region: what stands shut because the others
  /// hold it up counts too.
  [[nodiscard]] Feeds feeds_of(const StageState& state, std::int32_t region) const {
    Feeds feeds;
    for (std::size_t r = 0; r < regulators_.size(); ++r) {
      const auto& now = state.high.regulators[r];
      const bool may = now.mode == RegulatorMode::controls ||
                       now.mode == RegulatorMode::wide_open || now.mode == RegulatorMode::closed;
      if (may && known(now.inlet) && state.regions.of_node(regulators_.outlet[r]) == region)
        feeds.regulators.push_back(r);
    }
    for (std::size_t s = 0; s < network_.sources.size(); ++s) {
      const bool shut = std::ranges::find(state.scenario.sources_shut, static_cast<Index>(s)) !=
                        state.scenario.sources_shut.end();
      if (!shut && state.regions.of_node(network_.sources.node[s]) == region) ++feeds.sources;
    }
    return feeds;
  }

  void feeds() {
    if (!anything_shut()) return;
    std::set<std::int32_t> looked_at;
    std::set<std::size_t> alone;
    for (std::size_t r = 0; r < regulators_.size(); ++r) {
      if (!known(high(r).inlet) || high(r).mode == RegulatorMode::reverse) continue;
      const auto region = view_.now.regions.of_node(regulators_.outlet[r]);
      if (!looked_at.insert(region).second || !drawn_from(view_.now, region)) continue;
      const Feeds now = feeds_of(view_.now, region);
      const Feeds before =
          feeds_of(view_.first, view_.first.regions.of_node(regulators_.outlet[r]));
      if (now.sources > 0 || now.regulators.empty() || now.count() >= before.count()) continue;
      if (now.regulators.size() > 1) {
        left_sharing(now.regulators);
      } else {
        left_alone(now.regulators.front());
        alone.insert(now.regulators.front());
      }
    }
    for (std::size_t r = 0; r < regulators_.size(); ++r) {
      if (!alone.contains(r) && gives_all(high(r), r) && !gives_all(first(r), r)) at_capacity(r);
    }
  }

  void left_alone(std::size_t r) {
    const StdFlow flow = standard(high(r).flow), capacity = regulators_.capacity[r];
    const bool full = gives_all(high(r), r);
    const auto& system = view_.question.system;
    const Grade grade = full                            ? Grade::warn
                        : !std::isfinite(capacity.si()) ? Grade::undecided
                                                        : Grade::info;
    const std::string share =
        std::isfinite(capacity.si())
            ? fmt::format("{} of the {} that it can give", units::print(flow, system),
                          units::print(capacity, system, units::Toward::down))
            : fmt::format("{}; what it can give is not recorded", units::print(flow, system));
    auto& finding = say_of(
        r, "plan.left_alone", grade,
        fmt::format("{} is left alone to feed what more fed before{}: {}", station(r),
                    full ? ", and gives all it can" : "", share),
        grade == Grade::info ? fmt::format("read its outlet at every step") : post(r, "outlet"));
    measure(finding, "flow against capacity", flow, capacity);
  }

  void left_sharing(const std::vector<std::size_t>& list) {
    std::string names, ids, idle;
    for (const std::size_t r : list) {
      const std::string comma = names.empty() ? "" : ", ";
      names += fmt::format("{}{} set at {}", comma, station(r),
                           print(regulators_.set_point[r], units::Toward::nearest));
      ids += comma + regulators_.id[r];
      if (high(r).mode == RegulatorMode::closed) idle += (idle.empty() ? "" : ", ") + station(r);
    }
    say("plan.left_sharing", idle.empty() ? Grade::info : Grade::warn, "regulators " + ids,
        fmt::format("these are left to share what more fed before: {}{}", names,
                    idle.empty() ? "" : "; " + idle + " stands shut while the others hold it up"),
        "read the outlets of all of them at every step: one may carry everything, and they may "
        "hunt");
  }

  /// Of what the network takes in: less is no flow but what a solution is good for.
  static constexpr double least_flow = 1e-6;

  [[nodiscard]] bool gives_all(const network::RegulatorState& now, std::size_t r) const {
    const StdFlow capacity = regulators_.capacity[r];
    const bool gives = now.flow.si() > least_flow * view_.first.high.into_network.si();
    return (now.mode == RegulatorMode::wide_open && gives && !now.sensing_parted) ||
           (std::isfinite(capacity.si()) && standard(now.flow).si() > capacity.si() * (1.0 + 1e-6));
  }

  void at_capacity(std::size_t r) {
    auto& finding = say_of(
        r, "plan.at_capacity", Grade::warn,
        fmt::format("{} gives all it can, or more than it is recorded to: {}, with {} at its "
                    "outlet and a set point of {}",
                    station(r), units::print(standard(high(r).flow), view_.question.system),
                    print(high(r).outlet, units::Toward::down),
                    print(regulators_.set_point[r], units::Toward::nearest)),
        post(r, "outlet"));
    measure(finding, "flow against capacity", standard(high(r).flow), regulators_.capacity[r]);
  }

  // Limits that hold everywhere.

  void maop() {
    for (std::size_t t = 0; t < network_.tiers.size(); ++t) {
      const GaugePressure limit = network_.tiers.maop[t];
      if (!known(limit)) continue;
      std::size_t count = 0;
      Index worst = network::none;
      double highest = limit.si() + at_limit_pa;
      for (std::size_t n = 0; n < network_.nodes.size(); ++n) {
        if (network_.nodes.tier[n] != static_cast<Index>(t)) continue;
        const double pressure =
            std::fmax(view_.now.low.node_pressure[n].si(), view_.now.high.node_pressure[n].si());
        if (!(pressure > limit.si() + at_limit_pa)) continue;
        ++count;
        if (pressure > highest) {
          highest = pressure;
          worst = static_cast<Index>(n);
        }
      }
      if (worst != network::none)
        over_maop(t, worst, count, GaugePressure::from_si(highest), limit);
    }
  }

  /// The station that lets in what is too much: the one that holds its set point least, of those
  /// that feed the node's region.
  [[nodiscard]] std::optional<std::size_t> lets_in(Index node) const {
    const auto region = view_.now.regions.of_node(node);
    std::optional<std::size_t> worst;
    for (std::size_t r = 0; r < regulators_.size(); ++r) {
      if (view_.now.regions.of_node(regulators_.outlet[r]) != region) continue;
      if (high(r).mode == RegulatorMode::shut || high(r).mode == RegulatorMode::out) continue;
      const auto over = [&](std::size_t i) {
        return worst_outlet(i).si() - regulators_.set_point[i].si();
      };
      if (!worst || over(r) > over(*worst)) worst = r;
    }
    return worst;
  }

  void over_maop(std::size_t tier, Index worst, std::size_t count, GaugePressure pressure,
                 GaugePressure limit) {
    const auto station_in = lets_in(worst);
    const std::string& node = network_.nodes.id[at(worst)];
    const std::string says = fmt::format(
        "tier {} stands at {} at node {}, above its MAOP {}{}{}", network_.tiers.id[tier],
        print(pressure, units::Toward::up), node, print(limit, units::Toward::down),
        count > 1 ? fmt::format("; so do {} more nodes", count - 1) : "",
        station_in ? fmt::format("; {} lets it in", station(*station_in)) : "");
    const std::string action =
        station_in
            ? fmt::format("do not let it come to this; {}", post(*station_in, "outlet"))
            : fmt::format("do not let it come to this; post a person with a gauge at node {}, {}",
                          node, before_words_);
    auto& finding =
        say("plan.over_maop", Grade::halt, "tier " + network_.tiers.id[tier], says, action);
    if (station_in) must_be_watched(*station_in);
    measure(finding, "highest pressure", pressure, limit);
  }

  void short_of_gas() {
    std::vector<Index> who;
    for (const Index c : view_.now.high.customers_short)
      if (out_[at(c)] == 0) who.push_back(c);
    for (const Index c : view_.now.high.customers_out) {
      if (out_[at(c)] == 0 && known(view_.first.high.customer_pressure[at(c)])) who.push_back(c);
    }
    if (who.empty()) return;
    std::ranges::sort(who);
    std::string must, few;
    constexpr std::size_t shown = 5;
    for (std::size_t i = 0; i < who.size(); ++i) {
      const std::string& id = network_.customers.id[at(who[i])];
      if (i < shown) few += (few.empty() ? "" : ", ") + id;
      if (network_.customers.must_not_lose[at(who[i])] != 0)
        must += fmt::format("{}{} ({})", must.empty() ? "" : ", ", id,
                            network_.customers.why_not[at(who[i])]);
    }
    if (who.size() > shown) few += fmt::format(" and {} more", who.size() - shown);
    auto& finding = say(
        "plan.stage_short", Grade::halt, "customers",
        fmt::format("{} who are to stay on fall under their least pressure: {}{}",
                    who.size() == 1 ? "one customer" : fmt::format("{} customers", who.size()), few,
                    must.empty() ? "" : "; must not lose: " + must),
        fmt::format("change the order, feed them otherwise, or count them as out and shut their "
                    "meters {}; post a person with a gauge at the first of them",
                    before_words_));
    finding.quantity = "customers short in this state";
    finding.value_si = static_cast<double>(who.size());
    finding.limit_si = 0.0;
    finding.unit_si = "1";
  }
};

}  // namespace

Findings rest_findings(const StageView& view, std::vector<Index>& watch) {
  return Rest(view, watch).tell();
}

}  // namespace bellhole::plan
