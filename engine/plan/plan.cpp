#include "plan/plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <string_view>
#include <tuple>

#include "plan/costs.hpp"
#include "plan/doubts.hpp"
#include "plan/front.hpp"
#include "plan/outfit.hpp"
#include "plan/outset.hpp"
#include "plan/shutoffs.hpp"
#include "plan/stages.hpp"
#include "plan/steps.hpp"
#include "plan/words.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using network::Network;

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

/// Of all tiers, the extreme nearest to its limit as a share of it; without any limit, the lowest
/// (highest).
std::optional<Pressure> nearest_to_limit(const network::SteadyState& state, bool lowest) {
  std::optional<Pressure> best;
  double best_share = 0.0;
  for (std::size_t tier = 0; tier < state.tiers.size(); ++tier) {
    const auto& extreme = lowest ? state.tiers[tier].lowest : state.tiers[tier].highest;
    if (!extreme) continue;
    const bool limited = std::isfinite(extreme->limit.si()) && extreme->limit.si() > 0.0;
    // Smaller is nearer: pressure over least, or MAOP over pressure. Unlimited tiers come after
    // limited ones.
    const double share = !limited ? 1e9 + extreme->pressure.si() * (lowest ? 1.0 : -1.0)
                         : lowest ? extreme->pressure.si() / extreme->limit.si()
                                  : extreme->limit.si() / std::max(extreme->pressure.si(), 1e-9);
    if (best && share >= best_share) continue;
    best_share = share;
    best = Pressure{*extreme, static_cast<Index>(tier)};
  }
  return best;
}

/// Findings of a plan that the network has anyway are the answer's, not the plan's; who is out or
/// short is in the plan's own list, and stages.hpp speaks of stations and of MAOP.
Findings only_new(Findings now, const Findings& before) {
  static constexpr std::array said_elsewhere{std::string_view("network.customers_out"),
                                             std::string_view("network.cannot_carry"),
                                             std::string_view("network.sensing_parted"),
                                             std::string_view("network.reverse_flow"),
                                             std::string_view("network.regulator_wide_open"),
                                             std::string_view("network.over_capacity"),
                                             std::string_view("network.maop")};
  std::set<std::pair<std::string, std::string>> known;
  for (const Finding& finding : before) known.emplace(finding.rule, finding.about);
  std::erase_if(now, [&](const Finding& finding) {
    return known.contains({finding.rule, finding.about}) ||
           std::ranges::find(said_elsewhere, finding.rule) != said_elsewhere.end();
  });
  return now;
}

Finding customers_finding(const Network& network, const ShutoffPlan& plan) {
  std::string names;
  for (const CustomerOut& out : plan.out) {
    if (network.customers.must_not_lose[at(out.customer)] == 0) continue;
    const std::string& why = network.customers.why_not[at(out.customer)];
    names += (names.empty() ? "" : ", ") + network.customers.id[at(out.customer)] +
             (why.empty() ? "" : " (" + why + ")");
  }
  return {
      .rule = "plan.must_not_lose",
      .grade = Grade::halt,
      .says = fmt::format("{} of those who must not lose gas would: {}", plan.must_not_lose, names),
      .quantity = "customers who must not lose gas",
      .value_si = static_cast<double>(plan.must_not_lose),
      .limit_si = 0.0,
      .unit_si = "1",
      .source = "network as imported",
      .evidence = Evidence::derived,
      .action =
          "keep them on by another feed, or agree with each of them and with gas control before "
          "anything is shut",
      .about = "customers"};
}

Finding short_finding(const ShutoffPlan& plan, std::int64_t count) {
  return {
      .rule = "plan.short",
      .grade = Grade::warn,
      .says = fmt::format(
          "{} customers outside the part would fall under their least pressure; they count as out",
          count),
      .quantity = "customers who fall short",
      .value_si = static_cast<double>(count),
      .limit_si = 0.0,
      .unit_si = "1",
      .source = "steady solution at the high load",
      .evidence = Evidence::derived,
      .action =
          plan.limit_temperature && plan.limit_temperature->holds_down_to
              ? "wait for weather above the limit temperature, or keep them on by another feed"
              : "keep them on by another feed, or shut them off by hand and relight them",
      .about = "customers"};
}

std::int64_t count_of(const ShutoffPlan& plan, OutCause cause) {
  return std::ranges::count(plan.out, cause, &CustomerOut::cause);
}

class Planner {
 public:
  Planner(const Question& question, Watch& watch)
      : question_(question), network_(question.model.network()), watch_(watch) {}

  Result<Answer> answer() {
    if (question_.plans < 1 || question_.crews < 1) {
      return trouble(Code::out_of_range, question_.plans < 1 ? "plans" : "crews", "0",
                     "ask for at least one");
    }
    network::Scenario high = question_.conditions;
    high.load = network::LoadCase::high;
    BELLHOLE_TRY(before, question_.model.solve(high));
    answer_.before = std::move(before);
    answer_.findings = network::findings(question_.model, high, answer_.before, question_.system);
    const Findings network_before = answer_.findings;

    BELLHOLE_TRY(places, find_places({network_, question_.profile, question_.work, question_.kind,
                                      question_.today_year, answer_.before, question_.system,
                                      half_width(), question_.placed}));
    answer_.places = std::move(places);
    append(answer_.findings, answer_.places.findings);
    outset_.emplace(question_, answer_.before);
    BELLHOLE_TRY(found,
                 search(question_.model, answer_.places, question_.conditions, customer_costs(),
                        answer_.before, {.plans = question_.plans}, watch_));
    answer_.proof = found.proof;
    if (found.already_off)
      append(answer_.findings, {already_off()});
    else if (found.best.empty())
      append(answer_.findings, {no_plan(found)});
    for (Candidate& candidate : found.best) {
      BELLHOLE_TRY(plan, plan_of(std::move(candidate), network_before));
      answer_.plans.push_back(std::move(plan));
    }
    for (std::size_t i = 0; i < answer_.plans.size(); ++i) {
      ShutoffPlan& plan = answer_.plans[i];
      plan.why = why(plan);
      plan.beats_next = i + 1 < answer_.plans.size() ? beats(plan, answer_.plans[i + 1])
                                                     : beats_rest(plan, answer_.proof);
    }
    if (question_.kind == Kind::emergency && !found.already_off) {
      BELLHOLE_TRY(front, emergency_front());
      answer_.front = std::move(front);
    }
    assume();
    return std::move(answer_);
  }

 private:
  std::optional<Length> half_width() const {
    return question_.kit == nullptr ? std::nullopt : widest_half_width(*question_.kit);
  }

  std::vector<isolate::Cost> customer_costs() {
    Costs costs(question_.profile, question_.system);
    procedure::Case in;
    in[procedure::Listed::work] = question_.kind == Kind::planned ? "planned" : "emergency";
    const isolate::Cost one = costs.crew_s("plan.cost_customer", in);
    std::vector<isolate::Cost> list;
    for (const auto must : network_.customers.must_not_lose)
      list.push_back(one + (must != 0 ? one_must_not_lose : 0));
    return list;
  }

  Finding already_off() const {
    return {.rule = "plan.already_off",
            .grade = Grade::undecided,
            .says =
                "as the map stands, no source reaches the work: nothing needs to be shut, if the "
                "map is right",
            .quantity = "sources that reach the work",
            .value_si = 0.0,
            .unit_si = "1",
            .source = "network as imported, traced",
            .evidence = Evidence::derived,
            .action =
                "do not take this for a shut main: find out at the pipe, with a gauge, whether "
                "there is gas",
            .about = "work"};
  }

  Finding no_plan(const Search& found) const {
    std::string says = "no set of places parts the work from gas";
    if (found.blocked && found.blocked->by == isolate::Blocked::By::supply)
      says += ": nothing that may be shut lies between it and a source";
    if (!found.proof.optimal) says = "no plan was found within the limits of the search";
    return {
        .rule = "plan.none",
        .grade = Grade::halt,
        .says = says,
        .quantity = "plans",
        .value_si = 0.0,
        .unit_si = "1",
        .source = "network as imported, searched",
        .evidence = Evidence::derived,
        .action =
            "look at what was passed over; place a plug, a bag or a cap by hand, or widen the work",
        .about = "work"};
  }

  Result<ShutoffPlan> plan_of(Candidate candidate, const Findings& network_before) {
    ShutoffPlan plan;
    const Evaluation& evaluation = candidate.evaluation;
    plan.out = evaluation.out;
    plan.must_not_lose = evaluation.total / one_must_not_lose;
    plan.cost_crew_s = evaluation.total % one_must_not_lose;
    plan.outcome = evaluation.high_load.outcome;
    BELLHOLE_TRY(shutoffs,
                 shutoffs_of(question_, answer_.places, candidate.cut, answer_.before, watch_));
    plan.shutoffs = std::move(shutoffs);
    plan.time_to_stop = time_to_stop(plan.shutoffs, question_.crews);
    plan.isolated = isolated_by(network_, answer_.places, candidate.cut, answer_.before);
    plan.lowest = nearest_to_limit(evaluation.high_load, true);

    network::Scenario low = evaluation.scenario;
    low.load = network::LoadCase::low;
    BELLHOLE_TRY(low_state, question_.model.solve(low, &evaluation.high_load));
    plan.highest = nearest_to_limit(low_state, false);
    if (question_.limit_temperature) {
      BELLHOLE_TRY(limit, network::limit_temperature(question_.model, evaluation.scenario));
      plan.limit_temperature = limit;
    }

    if (plan.must_not_lose > 0) plan.findings.push_back(customers_finding(network_, plan));
    if (const auto count = count_of(plan, OutCause::short_of); count > 0)
      plan.findings.push_back(short_finding(plan, count));
    outfit(question_, answer_.places, candidate.cut, plan);
    BELLHOLE_TRY(between, states_of(plan));
    append(plan.findings, std::move(between));
    append(plan.findings, closed_valves(network_, answer_.places, candidate.cut));
    append(plan.findings, import_notes(network_, answer_.places, candidate.cut, question_.work));
    append(plan.findings, only_new(network::findings(question_.model, evaluation.scenario,
                                                     evaluation.high_load, question_.system),
                                   network_before));
    return plan;
  }

  /// The front, each plan of it with its place among the ranked ones.
  Result<Front> emergency_front() {
    BELLHOLE_TRY(front, front_of(*outset_, answer_.places, watch_));
    const auto places_shut = [](const ShutoffPlan& plan) {
      std::set<std::tuple<ShutKind, Index, double>> set;
      for (const Shutoff& s : plan.shutoffs)
        set.emplace(s.place.kind, s.place.element, s.place.station.si());
      return set;
    };
    for (FrontPlan& entry : front.plans) {
      for (std::size_t rank = 0; rank < answer_.plans.size() && !entry.rank; ++rank) {
        if (places_shut(answer_.plans[rank]) == places_shut(entry.plan)) entry.rank = rank;
      }
    }
    append(answer_.findings, front.findings);
    return std::move(front);
  }

  /// What the states do that the plan passes through, closing and opening again; with an order,
  /// the steps between them.
  Result<Findings> states_of(ShutoffPlan& plan) {
    Stages stages(*outset_, plan);
    if (question_.order != nullptr) {
      BELLHOLE_TRY(steps,
                   steps_of({question_, answer_.before, plan, *question_.order, question_.bypass},
                            stages, watch_));
      plan.steps = std::move(steps);
      return plan.steps.findings;
    }
    BELLHOLE_TRY(closing, stages.closing_order(watch_));
    BELLHOLE_TRY(numbers, stages.numbers({}, Stages::asks_of(closing.order), watch_));
    return first_of_each(numbers);
  }

  void assume() {
    auto& assumed = answer_.assumed;
    assumed.push_back(
        "a fitting that a squeeze keeps clear of stands at every node, customer and valve of a "
        "main, and a joint or a "
        "cut at both ends of the work; joints that the map does not show are found in the hole");
    assumed.push_back(
        "lowest pressures and who falls short: at the high load; highest pressures: at the low "
        "load");
    assumed.push_back(fmt::format(
        "time to stop the gas: {} working in parallel",
        question_.crews == 1 ? "one crew, nobody" : fmt::format("{} crews", question_.crews)));
    assumed.push_back(question_.kind == Kind::planned
                          ? "customers on the part draw nothing once anything is shut: their "
                            "meters are shut before"
                          : "customers on the part draw until it has lost its gas: nobody has shut "
                            "their meters");
    if (const auto widest = half_width())
      assumed.push_back(
          fmt::format("where clearance runs from the tool's edge: the widest tool, {} to each side",
                      units::print(*widest, question_.system, units::Toward::up)));
    const bool bypassed = std::ranges::any_of(
        answer_.plans, [](const ShutoffPlan& plan) { return plan.steps.bypass; });
    if (bypassed)
      assumed.push_back(
          "pressures in the steps are those without the bypass, which is no pipe of the map");
    if (question_.bypass.value_or(false) && !bypassed && !answer_.plans.empty())
      assumed.push_back(
          "a bypass was asked for, and the order of the steps has none: none is listed");
    const bool undecided = std::ranges::any_of(answer_.plans, [](const ShutoffPlan& plan) {
      return std::ranges::any_of(plan.shutoffs, [](const Shutoff& s) {
        return s.place.kind == ShutKind::squeeze && s.place.squeezes == Squeezes::undecided;
      });
    });
    if (undecided)
      assumed.push_back(
          "where the profile does not say whether one squeeze does, one is counted; two cost as "
          "much again");
  }

  const Question& question_;
  const Network& network_;
  Watch& watch_;
  Answer answer_;
  std::optional<Outset> outset_;  ///< once `before` is solved
};

}  // namespace

Result<Answer> plan(const Question& question, Watch& watch) {
  return Planner(question, watch).answer();
}

}  // namespace bellhole::plan
