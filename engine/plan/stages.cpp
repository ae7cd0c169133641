#include "plan/stages.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

#include "plan/stage_state.hpp"
#include "plan/undo.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using network::Network;

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

}  // namespace

struct Stages::Solved {
  StageState state;
  bool all_loads = false;  ///< else only the high one is solved
};

struct Stages::Inside {
  Outset& outset;
  const Question& question;
  const ShutoffPlan& plan;
  std::map<std::vector<std::size_t>, Solved> states;  ///< with something shut
  std::map<std::vector<std::size_t>, std::optional<Fraction>> gas_left = {};

  [[nodiscard]] const Network& network() const { return question.model.network(); }

  [[nodiscard]] network::Scenario scenario(const std::vector<std::size_t>& shut_now) const {
    network::Scenario scenario = question.conditions;
    for (const std::size_t i : shut_now) shut(scenario, plan.shutoffs[i].place);
    if (question.kind != Kind::planned || shut_now.empty()) return scenario;
    scenario.without_load.resize(network().customers.size(), 0);
    for (const CustomerOut& out : plan.out) {
      if (out.cause != OutCause::short_of) scenario.without_load[at(out.customer)] = 1;
    }
    return scenario;
  }

  [[nodiscard]] GaugePressure pressure(const GaugePoint& point, const StageState& state,
                                       const network::SteadyState& load) const {
    if (point.customer != network::none) return load.customer_pressure[at(point.customer)];
    if (point.node != network::none) return load.node_pressure[at(point.node)];
    if (point.pipe != network::none) {
      return pressure_at(network(), state.regions, load, point.pipe, point.station, point.toward);
    }
    return GaugePressure::from_si(std::nan(""));
  }
};

Stages::Stages(Outset& outset, const ShutoffPlan& plan)
    : inside_(new Inside{outset, outset.question(), plan, {}}) {}
Stages::~Stages() = default;

Result<const StageState*> Stages::solved(std::vector<std::size_t> shut_now, bool all_loads) {
  if (shut_now.empty()) return inside_->outset.state();
  std::ranges::sort(shut_now);
  const network::Model& model = inside_->question.model;
  auto known = inside_->states.find(shut_now);
  if (known == inside_->states.end()) {
    const network::Scenario scenario = inside_->scenario(shut_now);
    network::Scenario high = scenario;
    high.load = network::LoadCase::high;
    BELLHOLE_TRY(state, model.solve(high));
    Solved solved{{scenario, {}, std::move(state), {}, Regions(inside_->network(), scenario)}};
    known = inside_->states.emplace(std::move(shut_now), std::move(solved)).first;
  }
  Solved& solved = known->second;
  if (all_loads && !solved.all_loads) {
    network::Scenario with = solved.state.scenario;
    with.load = network::LoadCase::expected;
    BELLHOLE_TRY(expected, model.solve(with));
    with.load = network::LoadCase::low;
    BELLHOLE_TRY(low, model.solve(with));
    solved.state.expected = std::move(expected);
    solved.state.low = std::move(low);
    solved.all_loads = true;
  }
  return &solved.state;
}

Result<const StageState*> Stages::previous(const StageAsk& ask) {
  std::vector<std::size_t> shut_now = ask.shut;
  if (ask.moved && ask.opening) shut_now.push_back(*ask.moved);
  if (ask.moved && !ask.opening) std::erase(shut_now, *ask.moved);
  return solved(std::move(shut_now), false);
}

Result<std::optional<Fraction>> Stages::gas_left(std::vector<std::size_t> shut_now) {
  std::ranges::sort(shut_now);
  const auto known = inside_->gas_left.find(shut_now);
  if (known != inside_->gas_left.end()) return known->second;
  std::optional<Fraction> share;
  BELLHOLE_TRY(before, inside_->outset.to_open_end());
  if (before && before->si() > 0.0) {
    BELLHOLE_TRY(now, inside_->outset.to_open_end(inside_->scenario(shut_now)));
    if (now) share = Fraction::from_si(std::min(1.0, now->si() / before->si()));
  }
  inside_->gas_left.emplace(std::move(shut_now), share);
  return share;
}

Result<std::vector<StageNumbers>> Stages::numbers(std::span<const GaugePoint> points,
                                                  std::span<const StageAsk> asks, Watch& watch) {
  BELLHOLE_TRY(first, solved({}, true));
  std::vector<StageNumbers> list;
  for (const StageAsk& ask : asks) {
    for (const std::size_t i : ask.shut) {
      if (i < inside_->plan.shutoffs.size()) continue;
      return trouble(Code::out_of_range, "shut-off", std::to_string(i),
                     fmt::format("the plan has {}", inside_->plan.shutoffs.size()));
    }
    if (!watch.tick(static_cast<double>(list.size()) / static_cast<double>(asks.size())))
      return trouble(Code::cancelled, "stages", "", "asked to stop");
    BELLHOLE_TRY(now, solved(ask.shut, true));
    const StageState& state = *now;
    StageNumbers numbers;
    for (const GaugePoint& point : points) {
      numbers.expect.push_back(inside_->pressure(point, state, state.expected));
      numbers.at_high_load.push_back(inside_->pressure(point, state, state.high));
      numbers.at_low_load.push_back(inside_->pressure(point, state, state.low));
    }
    if (ask.moved) {
      BELLHOLE_TRY(left, gas_left(ask.shut));
      numbers.gas_left = left;
    }
    BELLHOLE_TRY(before, previous(ask));
    const StageView view{inside_->question, inside_->plan, *first, state, ask};
    numbers.findings = station_findings(view, numbers.watch);
    append(numbers.findings, rest_findings(view, numbers.watch));
    BELLHOLE_TRY(way, way_back(view, *before));
    numbers.undo = way.undo;
    numbers.time_left = way.time_left;
    numbers.point_of_no_return = way.no_return;
    append(numbers.findings, std::move(way.findings));
    list.push_back(std::move(numbers));
  }
  return list;
}

namespace {

/// What is looked at when two shut-offs could go next, the better one smaller.
struct Next {
  bool needs_hole = false;
  std::int64_t must_not_lose_short = 0, short_of_gas = 0;
  double gas_left = 0.0;
  double ready_s = 0.0;

  [[nodiscard]] auto key() const {
    return std::tuple(needs_hole, must_not_lose_short, short_of_gas, gas_left, ready_s);
  }
};

/// Shares of gas nearer to each other than this are taken as the same: the steady solution of a
/// town does not know better.
constexpr double same_share = 0.02;

std::string because_of(const std::string& letter, const Next& best, const std::string& other,
                       const Next& next) {
  if (!best.needs_hole && next.needs_hole)
    return fmt::format("{} first: there is nothing to dig for it.", letter);
  if (best.short_of_gas != next.short_of_gas) {
    return fmt::format(
        "{} first: while only {} is shut {} who are to stay on fall short; with {} first it would "
        "be {}.",
        letter, letter,
        best.short_of_gas == 0 ? "none of those" : fmt::format("{} of those", best.short_of_gas),
        other, next.short_of_gas);
  }
  if (best.gas_left != next.gas_left) {
    return fmt::format(
        "{} first: it brings the part more gas. After it still about {:.0f} % of the gas; after {} "
        "first about {:.0f} %.",
        letter, best.gas_left * 100.0, other, next.gas_left * 100.0);
  }
  if (best.ready_s != next.ready_s)
    return fmt::format("{} first: it is ready sooner, and both bring the part as much gas.",
                       letter);
  return fmt::format("{} first: neither order is better by what is known.", letter);
}

}  // namespace

Result<ClosingOrder> Stages::closing_order(Watch& watch) {
  const auto& shutoffs = inside_->plan.shutoffs;
  const std::vector<std::uint8_t> out = planned_out(inside_->question, inside_->plan);
  std::vector<std::pair<Next, std::size_t>> choices;
  for (std::size_t i = 0; i < shutoffs.size(); ++i) {
    if (!watch.tick(static_cast<double>(i) / static_cast<double>(shutoffs.size())))
      return trouble(Code::cancelled, "stages", "", "asked to stop");
    const Place& place = shutoffs[i].place;
    Next next{.needs_hole = place.kind == ShutKind::squeeze || place.kind == ShutKind::placed,
              .ready_s = std::isfinite(place.time_s) ? place.time_s : 0.0};
    BELLHOLE_TRY(now, solved({i}, false));
    for (const Index c : now->high.customers_short) {
      if (out[at(c)] != 0) continue;
      ++next.short_of_gas;
      next.must_not_lose_short += inside_->network().customers.must_not_lose[at(c)] != 0 ? 1 : 0;
    }
    BELLHOLE_TRY(share, gas_left({i}));
    next.gas_left = share ? std::round(share->si() / same_share) * same_share : 0.0;
    choices.emplace_back(next, i);
  }
  std::ranges::stable_sort(choices, {}, [](const auto& choice) { return choice.first.key(); });
  ClosingOrder result;
  for (const auto& [next, i] : choices) {
    result.order.push_back(i);
    BELLHOLE_TRY(share, gas_left(result.order));
    result.gas_left.push_back(share);
  }
  if (choices.size() > 1) {
    result.because = because_of(shutoffs[choices[0].second].letter, choices[0].first,
                                shutoffs[choices[1].second].letter, choices[1].first);
  }
  return result;
}

std::vector<StageAsk> Stages::asks_of(const std::vector<std::size_t>& closing) {
  std::vector<StageAsk> asks{{}};
  std::vector<std::size_t> shut_now;
  for (const std::size_t i : closing) {
    shut_now.push_back(i);
    asks.push_back({.shut = shut_now, .moved = i, .opening = false});
  }
  while (!shut_now.empty()) {
    const std::size_t opened = shut_now.back();
    shut_now.pop_back();
    asks.push_back({.shut = shut_now, .moved = opened, .opening = true});
  }
  return asks;
}

Findings first_of_each(std::span<const StageNumbers> numbers) {
  Findings list;
  for (const StageNumbers& stage : numbers) {
    for (const Finding& finding : stage.findings) {
      const auto same = std::ranges::find_if(list, [&](const Finding& known) {
        return known.rule == finding.rule && known.about == finding.about;
      });
      if (same == list.end())
        list.push_back(finding);
      else if (finding.grade < same->grade)
        *same = finding;
    }
  }
  return list;
}

}  // namespace bellhole::plan
