#include "plan/bypass.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <tuple>

#include "gas/fittings.hpp"
#include "network/added.hpp"
#include "plan/bypass_judge.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using network::Model;
using network::Network;
using network::none;
using network::SteadyState;
using network::WithAdded;

std::size_t at(Index i) { return static_cast<std::size_t>(i); }

/// What a valve passes below this is none: far under what any appliance draws.
constexpr double no_flow_kg_per_s = 1e-7;
/// Fittings as a length of pipe hang on the flow; settled when the length moves by less.
constexpr double settled_share = 1e-4;
constexpr int rounds_most = 12;

std::vector<Index> less(const std::vector<Index>& all, const std::vector<Index>& without) {
  std::vector<Index> left;
  std::ranges::set_difference(all, without, std::back_inserter(left));
  return left;
}

network::Scenario at_load(network::Scenario scenario, network::LoadCase load) {
  scenario.load = load;
  return scenario;
}

class Search {
 public:
  Search(const BypassQuestion& question, Watch& watch)
      : question_(question),
        watch_(watch),
        base_(question.network, question.shut),
        gas_(gas::flowing(question.conditions.gas, question.conditions.ground)),
        base_density_(gas::base_density(
            question.conditions.gas,
            {question.network.base_pressure, question.network.base_temperature})) {}

  Result<Bypasses> run() {
    BELLHOLE_TRY(placed, place());
    static_cast<void>(placed);
    BELLHOLE_TRY(shut, without());
    static_cast<void>(shut);
    if (!answer_.needed()) return std::move(answer_);
    BELLHOLE_TRY(valves, try_valves());
    static_cast<void>(valves);
    for (const BypassSize& size : question_.sizes) {
      if (!question_.between) break;
      BELLHOLE_TRY(one, try_pipe(size));
      static_cast<void>(one);
    }
    for (const PortableSupply& supply : question_.supplies) {
      BELLHOLE_TRY(one, try_supply(supply));
      static_cast<void>(one);
    }
    std::ranges::stable_sort(answer_.bypasses, {}, [](const BypassFound& b) {
      const bool halted = std::ranges::any_of(b.findings, [](const Finding& f) {
        return f.grade == Grade::halt && f.rule != "bypass.still_out";
      });
      return std::tuple(halted, b.must_out.size(), b.out.size(), b.kind,
                        b.bore.value_or(Length()).si());
    });
    conclude();
    return std::move(answer_);
  }

 private:
  /// Makes the nodes at the places that the question names.
  Result<bool> place() {
    for (const OnMain& work : question_.work) {
      BELLHOLE_TRY(node, base_.node_at(work.pipe, work.station, "work"));
      work_.push_back(node);
    }
    if (question_.between) {
      const auto& [from, to] = *question_.between;
      BELLHOLE_TRY(from_node, base_.node_at(from.pipe, from.station, "from"));
      BELLHOLE_TRY(to_node, base_.node_at(to.pipe, to.station, "to"));
      from_ = from_node;
      to_ = to_node;
      if (from_ == to_)
        return trouble(Code::contradiction, "to", "", "name two places that are apart");
    }
    return true;
  }

  /// The network as it is, and with the places shut and nothing laid.
  Result<bool> without() {
    BELLHOLE_TRY(open_model, Model::prepare(question_.network, question_.conditions));
    BELLHOLE_TRY(open, open_model.solve(at_load(question_.open, network::LoadCase::high)));
    BELLHOLE_TRY(model, Model::prepare(base_.network(), question_.conditions));
    BELLHOLE_TRY(shut, model.solve(at_load(base_.shut(), network::LoadCase::high)));
    base_model_ = model;
    base_high_ = shut;
    before_ = without_enough(open);
    answer_.out = less(without_enough(shut), before_);
    answer_.must_out = must(answer_.out);
    for (const Index node : work_) {
      if (!std::isfinite(shut.node_pressure[at(node)].si())) continue;
      say("work_not_shut", Grade::halt, base_.network().nodes.id[at(node)],
          fmt::format("The place of work {} still has gas with these places shut.",
                      base_.network().nodes.id[at(node)]),
          "shut it off first: ask `plan` where");
      break;
    }
    if (work_.empty() && answer_.needed()) {
      say("work_not_named", Grade::undecided, "work",
          "The place of work is not named: whether a bypass brings gas back to it is not known.",
          "name it as PIPE@STATION or PIPE@FROM:TO");
    }
    return true;
  }

  Result<bool> try_valves() {
    const auto& valves = base_.network().valves;
    for (std::size_t v = 0; v < valves.size(); ++v) {
      const auto index = static_cast<Index>(v);
      if (valves.position[v] != network::Position::closed) continue;
      if (std::ranges::find(base_.shut().valves, index, &network::ValveSetting::valve) !=
          base_.shut().valves.end())
        continue;
      if (!watch_.tick(static_cast<double>(v) / static_cast<double>(valves.size())))
        return trouble(Code::cancelled, "", "", "ask again");
      network::Scenario with = base_.shut();
      with.valves.push_back({index, network::Position::open});
      BELLHOLE_TRY(high, base_model_->solve(at_load(with, network::LoadCase::high), &*base_high_));
      BELLHOLE_TRY(low, base_model_->solve(at_load(with, network::LoadCase::low), &high));
      const Index pipe = valves.pipe[v];
      BypassFound bypass{.kind = BypassKind::valve, .element = "valve " + valves.id[v]};
      const Index from = base_.network().pipes.from[at(pipe)],
                  to = base_.network().pipes.to[at(pipe)];
      flow_through(bypass, high, valve_flow(high, v), base_.network().pipes.bore[at(pipe)], from,
                   to);
      finish(bypass, {.network = base_.network(),
                      .map_pipe = map_pipes(base_),
                      .high = high,
                      .low = low,
                      .from = from,
                      .to = to,
                      .valve = index,
                      .rated = {},
                      .work = work_});
    }
    return true;
  }

  /// What passes a valve: at the main's beginning less what is drawn before it.
  [[nodiscard]] MassFlow valve_flow(const SteadyState& state, std::size_t valve) const {
    const Network& network = base_.network();
    const Index pipe = network.valves.pipe[valve];
    double flow = state.pipes[at(pipe)].at_from.si();
    for (std::size_t c = 0; c < network.customers.size(); ++c) {
      if (network.customers.pipe[c] == pipe &&
          network.customers.station[c] <= network.valves.station[valve])
        flow -= state.delivered[c].si() * base_density_.si();
    }
    return MassFlow::from_si(flow);
  }

  Result<bool> try_pipe(const BypassSize& size) {
    const gas::FittedPipe fitted{question_.length, size.bore, question_.roughness,
                                 question_.loss.value_or(gas::usual_loss(size.bore))};
    BELLHOLE_TRY(high, settle(size, fitted, network::LoadCase::high));
    BELLHOLE_TRY(low, settle(size, fitted, network::LoadCase::low));
    BypassFound bypass{.kind = BypassKind::pipe,
                       .element = size.name,
                       .bore = size.bore,
                       .length = question_.length,
                       .loss = fitted.loss};
    flow_through(bypass, high.state, high.state.pipes.back().at_from, size.bore, from_, to_);
    finish(bypass, {.network = high.with.network(),
                    .map_pipe = map_pipes(high.with),
                    .high = high.state,
                    .low = low.state,
                    .from = from_,
                    .to = to_,
                    .valve = none,
                    .rated = size.rated,
                    .work = work_});
    return true;
  }

  struct Settled {
    WithAdded with;
    SteadyState state;
  };
  /// The network with the pipe, its fittings as a length that belongs to the flow through it.
  Result<Settled> settle(const BypassSize& size, const gas::FittedPipe& fitted,
                         network::LoadCase load) const {
    // Begun at a flow that is well turbulent: 10 m/s of gas at the air's pressure.
    MassFlow flow = MassFlow::from_si(10.0 * 0.785 * size.bore.si() * size.bore.si());
    double more = gas::length_of_fittings(fitted, gas_, flow).si();
    for (int round = 0;; ++round) {
      if (!watch_.tick(0.0)) return trouble(Code::cancelled, "", "", "ask again");
      WithAdded with = base_;
      with.lay("bypass " + size.name, from_, to_, Length::from_si(fitted.length.si() + more),
               size.bore, question_.roughness);
      BELLHOLE_TRY(model, Model::prepare(with.network(), question_.conditions));
      BELLHOLE_TRY(state, model.solve(at_load(with.shut(), load)));
      flow = state.pipes.back().at_from;
      const double next = gas::length_of_fittings(fitted, gas_, flow).si();
      const double whole = fitted.length.si() + next;
      if (std::fabs(next - more) <= settled_share * whole || round == rounds_most)
        return Settled{std::move(with), std::move(state)};
      more = next;
    }
  }

  Result<bool> try_supply(const PortableSupply& supply) {
    WithAdded with = base_;
    with.supply(supply.name, supply.node, supply.pressure, supply.capacity);
    BELLHOLE_TRY(model, Model::prepare(with.network(), question_.conditions));
    BELLHOLE_TRY(high, model.solve(at_load(with.shut(), network::LoadCase::high)));
    BELLHOLE_TRY(low, model.solve(at_load(with.shut(), network::LoadCase::low), &high));
    BypassFound bypass{.kind = BypassKind::supply, .element = "supply " + supply.name};
    bypass.flow = StdFlow::from_si(high.sources.back().flow.si() / base_density_.si());
    finish(bypass, {.network = with.network(),
                    .map_pipe = map_pipes(with),
                    .high = high,
                    .low = low,
                    .from = supply.node,
                    .to = supply.node,
                    .valve = none,
                    .rated = {},
                    .work = work_});
    return true;
  }

  void flow_through(BypassFound& bypass, const SteadyState& state, MassFlow flow, Length bore,
                    Index from, Index to) const {
    if (!(std::fabs(flow.si()) > no_flow_kg_per_s)) flow = MassFlow();
    bypass.flow = StdFlow::from_si(flow.si() / base_density_.si());
    const double low =
        std::fmin(state.node_pressure[at(from)].si(), state.node_pressure[at(to)].si());
    if (!std::isfinite(low)) return;
    bypass.speed =
        gas::speed_in(bore, gas_, absolute(GaugePressure::from_si(low), barometer()), flow);
  }

  /// Of the place; where the map gives none, of standard air at its altitude.
  [[nodiscard]] AbsolutePressure barometer() const {
    if (question_.network.barometer.si() > 0.0) return question_.network.barometer;
    const double altitude = question_.network.datum_altitude.si();
    return gas::barometer_higher(gas::metric_base.pressure,
                                 std::isfinite(altitude) ? altitude : 0.0,
                                 gas::metric_base.temperature);
  }

  static std::vector<Index> map_pipes(const WithAdded& with) {
    std::vector<Index> list;
    for (std::size_t p = 0; p < with.network().pipes.size(); ++p)
      list.push_back(with.of_map(static_cast<Index>(p)));
    return list;
  }

  [[nodiscard]] std::vector<Index> must(const std::vector<Index>& customers) const {
    std::vector<Index> list;
    for (const Index c : customers)
      if (question_.network.customers.must_not_lose[at(c)] != 0) list.push_back(c);
    return list;
  }

  void finish(BypassFound& bypass, const Tried& tried) {
    const std::vector<Index> after = without_enough(tried.high);
    bypass.kept = less(answer_.out, after);
    bypass.out = less(after, before_);
    bypass.newly_out = less(bypass.out, answer_.out);
    bypass.must_out = must(bypass.out);
    if (const auto one = question_.profile.ruling("plan.cost_customer", {}).number())
      bypass.saves = Duration::from_si(*one * static_cast<double>(bypass.kept.size()));
    judge_bypass(question_, tried, bypass);
    answer_.bypasses.push_back(std::move(bypass));
  }

  void conclude() {
    if (answer_.helped()) {
      append(answer_.findings, answer_.bypasses.front().findings);
      return;
    }
    say("none_helps", answer_.must_out.empty() ? Grade::warn : Grade::halt,
        named(question_.network, answer_.out),
        answer_.bypasses.empty()
            ? fmt::format("{} customers are out or short and there is nothing to try: no closed "
                          "valve on the map, no size, no supply given.",
                          answer_.out.size())
            : std::string("Nothing that was tried can keep anybody on as it stands."),
        "name other places, sizes or supplies, or count these customers as out");
    if (answer_.bypasses.empty()) return;
    for (const Finding& finding : answer_.bypasses.front().findings)
      if (finding.grade == Grade::halt) answer_.findings.push_back(finding);
  }

  void say(std::string_view rule, Grade grade, std::string about, std::string says,
           std::string action) {
    Finding finding;
    finding.rule = fmt::format("bypass.{}", rule);
    finding.grade = grade;
    finding.says = std::move(says);
    finding.action = std::move(action);
    finding.about = std::move(about);
    finding.source = "steady state of the network with the places shut";
    finding.evidence = Evidence::derived;
    answer_.findings.push_back(std::move(finding));
  }

  const BypassQuestion& question_;
  Watch& watch_;
  WithAdded base_;
  gas::Flowing gas_;
  Density base_density_;
  std::vector<Index> work_;
  Index from_ = none, to_ = none;
  std::optional<Model> base_model_;
  std::optional<SteadyState> base_high_;
  std::vector<Index> before_;  ///< out or short with nothing shut
  Bypasses answer_;
};

}  // namespace

bool Bypasses::helped() const {
  if (bypasses.empty() || bypasses.front().kept.empty()) return false;
  return std::ranges::none_of(bypasses.front().findings, [](const Finding& f) {
    return f.grade == Grade::halt && f.rule != "bypass.still_out";
  });
}

Result<Bypasses> bypasses_of(const BypassQuestion& question, Watch& watch) {
  return Search(question, watch).run();
}

}  // namespace bellhole::plan
