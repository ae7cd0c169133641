#include "plan/front.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <utility>

#include "plan/schedule.hpp"
#include "plan/shutoffs.hpp"
#include "plan/stages.hpp"

namespace bellhole::plan {
namespace {

using isolate::Cost;
using network::Index;

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

/// Most that all costs of one enumeration may come to.
constexpr Cost most_cost = isolate::forbidden / 4;

/// A cut with its time and the customers that it really puts out.
struct Point {
  isolate::Cut cut;
  double time_s = 0.0;
  Cost customers = 0;
  std::vector<CustomerOut> out;

  [[nodiscard]] bool beats(double time, Cost who) const {
    return time_s <= time && customers <= who;
  }
};

class Searcher {
 public:
  Searcher(const Question& question, const Places& places, const network::SteadyState& before,
           Watch& watch, const FrontLimits& limits)
      : question_(question), places_(places), before_(before), watch_(watch), limits_(limits) {
    const auto& must = question.model.network().customers.must_not_lose;
    const auto one_must = static_cast<Cost>(must.size()) + 1;
    for (const auto m : must) each_.push_back(1 + (m != 0 ? one_must : 0));
    lost_.resize(places.graph.vertices(), 0);
    for (std::size_t c = 0; c < each_.size(); ++c)
      lost_[at(places.part_of_customer[c])] += each_[c];
    for (const Place& place : places.places) {
      if (std::isfinite(place.time_s)) all_times_ += floor_s(place);
    }
    for (const Cost cost : each_) all_customers_ += cost;
  }

  Result<bool> search() {
    BELLHOLE_TRY(some, fewest());
    if (!some) return false;
    BELLHOLE_TRY(fast, fastest());
    BELLHOLE_TRY(rest, between());
    static_cast<void>(fast);
    static_cast<void>(rest);
    return true;
  }

  /// The points that no other beats, the fastest first.
  [[nodiscard]] std::vector<const Point*> staircase() const {
    std::vector<const Point*> sorted;
    for (const auto& [shut, point] : points_) sorted.push_back(&point);
    std::ranges::stable_sort(sorted, {},
                             [](const Point* p) { return std::pair(p->time_s, p->customers); });
    std::vector<const Point*> front;
    for (const Point* point : sorted) {
      if (front.empty() || point->customers < front.back()->customers) front.push_back(point);
    }
    return front;
  }

  [[nodiscard]] const FrontProof& proof() const { return proof_; }
  [[nodiscard]] double time_of(const std::vector<std::size_t>& places) const {
    return Crews(question_.crews).give(times_of(places)).si();
  }
  [[nodiscard]] std::vector<double> times_of(const std::vector<std::size_t>& places) const {
    std::vector<double> times;
    for (const std::size_t i : places) times.push_back(places_.places[i].time_s);
    return times;
  }

 private:
  static Cost floor_s(const Place& place) { return static_cast<Cost>(std::floor(place.time_s)); }
  [[nodiscard]] double crews() const { return static_cast<double>(question_.crews); }

  /// Weights of one enumeration: a S + b L, places slower than `slowest` left out.
  struct Weights {
    Cost time = 1, customers = 1;
    double slowest = 0.0;
    bool slowest_too = true;  ///< those that take exactly as long are still used
  };

  [[nodiscard]] isolate::Query query(const Weights& weights) const {
    isolate::Query query;
    query.work = places_.work;
    query.limit = limits_.cuts;
    const std::size_t edges = places_.graph.edges();
    for (std::size_t i = 0; i < places_.places.size(); ++i) {
      const Place& place = places_.places[i];
      const bool usable =
          std::isfinite(place.time_s) && (place.time_s < weights.slowest ||
                                          (weights.slowest_too && place.time_s == weights.slowest));
      const Cost cost = usable ? weights.time * floor_s(place) : isolate::forbidden;
      if (i < edges)
        query.edges.push_back({static_cast<isolate::EdgeIndex>(i), cost});
      else
        query.supplies.push_back({static_cast<std::int32_t>(i - edges), cost});
    }
    for (std::size_t v = 0; v < lost_.size(); ++v)
      query.vertices.push_back({static_cast<isolate::Vertex>(v), weights.customers * lost_[v]});
    return query;
  }

  /// Weights that keep the sum of all costs in bounds.
  [[nodiscard]] Weights bounded(Cost time, Cost customers, double slowest) const {
    const auto sum = [&] {
      return static_cast<double>(time) * static_cast<double>(all_times_) +
             static_cast<double>(customers) * static_cast<double>(all_customers_);
    };
    while (sum() > static_cast<double>(most_cost) && (time > 1 || customers > 1)) {
      time = std::max<Cost>(1, time / 2);
      customers = std::max<Cost>(1, customers / 2);
    }
    return {time, customers, slowest, true};
  }

  /// The least weighted sum that no plan as fast as `time_s` with fewer than `customers` has.
  [[nodiscard]] Cost weighted(const Weights& weights, double time_s, Cost customers) const {
    return static_cast<Cost>(std::ceil(static_cast<double>(weights.time) * crews() * time_s)) +
           weights.customers * customers;
  }

  /// Cuts in rising cost up to `enough()`, which may fall with each of them, or until a new point
  /// ends it. False: a limit was hit.
  template <class Enough, class Wanted>
  Result<bool> enumerate(const Weights& weights, const Enough& enough, const Wanted& wanted) {
    isolate::Scratch scratch;
    BELLHOLE_TRY(cuts, isolate::Cuts::start(places_.graph, query(weights), scratch, watch_));
    for (std::int64_t n = 0;; ++n) {
      const auto cut = cuts.next(enough());
      if (!cut) break;
      ++proof_.examined;
      if (n >= limits_.cuts) return false;
      BELLHOLE_TRY(go_on, look_at(*cut, wanted));
      if (go_on == Looked::limit) return false;
      if (go_on == Looked::stop) return true;
    }
    const auto ended = cuts.proof().ended;
    if (ended == isolate::Ended::cancelled)
      return trouble(Code::cancelled, "front", "", "asked to stop");
    return ended != isolate::Ended::limit;
  }

  enum class Looked : std::uint8_t { go_on, stop, limit };

  /// Solves a cut that may still count. `wanted(time)` says whether it does, by its time;
  /// it answers `stop` where a new point should end the enumeration.
  template <class Wanted>
  Result<Looked> look_at(const isolate::Cut& cut, const Wanted& wanted) {
    const std::vector<std::size_t> shut = places_of(places_, cut);
    if (points_.contains(shut)) return Looked::go_on;
    const double time = time_of(shut);
    Cost lost = 0;
    for (const auto v : cut.lost) lost += lost_[at(v)];
    const bool beaten = std::ranges::any_of(
        points_, [&](const auto& known) { return known.second.beats(time, lost); });
    if (beaten || !wanted(time)) return Looked::go_on;
    if (proof_.solved >= limits_.solves) return Looked::limit;
    if (!watch_.tick(static_cast<double>(proof_.solved) / static_cast<double>(limits_.solves)))
      return trouble(Code::cancelled, "front", "", "asked to stop");
    ++proof_.solved;
    BELLHOLE_TRY(evaluation,
                 evaluate(question_.model, places_, cut, question_.conditions, each_, before_));
    Point point{cut, time, 0, std::move(evaluation.out)};
    for (const CustomerOut& out : point.out) point.customers += each_[at(out.customer)];
    points_.emplace(shut, std::move(point));
    return wanted.ends_with_a_new_one() ? Looked::stop : Looked::go_on;
  }

  struct All {
    bool operator()(double) const { return true; }
    [[nodiscard]] static bool ends_with_a_new_one() { return false; }
  };
  struct FasterThan {
    double time;
    bool operator()(double t) const { return t < time; }
    [[nodiscard]] static bool ends_with_a_new_one() { return true; }
  };

  static constexpr double any_time = std::numeric_limits<double>::infinity();

  /// False: there is no cut at all.
  Result<bool> fewest() {
    const Weights weights = bounded(1, all_times_ + 1, any_time);
    const bool exact = weights.time == 1 && weights.customers == all_times_ + 1;
    const auto enough = [&] {
      const auto front = staircase();
      if (front.empty()) return isolate::forbidden;
      return weighted(weights, front.back()->time_s, front.back()->customers);
    };
    BELLHOLE_TRY(whole, enumerate(weights, enough, All{}));
    proof_.complete = proof_.complete && whole && exact;
    return !points_.empty();
  }

  Result<bool> fastest() {
    for (;;) {
      const double best = staircase().front()->time_s;
      const std::size_t before = points_.size();
      const Weights weights{1, 0, best, false};
      const auto enough = [&] { return weighted(weights, best, 0); };
      BELLHOLE_TRY(whole, enumerate(weights, enough, FasterThan{best}));
      proof_.complete = proof_.complete && whole;
      if (points_.size() == before) return true;
    }
  }

  Result<bool> between() {
    const auto ends = staircase();
    if (ends.size() < 2) {
      // One plan is both the fastest and the one with the fewest: nothing lies between.
      return true;
    }
    const double times = crews() * (ends.back()->time_s - ends.front()->time_s);
    const Cost customers = ends.front()->customers - ends.back()->customers;
    Weights weights = bounded(std::max<Cost>(1, customers), std::max<Cost>(1, std::llround(times)),
                              ends.back()->time_s);
    weights.slowest_too = false;  // as slow as the plan with the fewest, it cannot beat that plan
    const auto enough = [&] {
      const auto front = staircase();
      Cost furthest = 0;
      for (std::size_t k = 0; k + 1 < front.size(); ++k) {
        furthest = std::max(furthest, weighted(weights, front[k + 1]->time_s, front[k]->customers));
      }
      return furthest;
    };
    BELLHOLE_TRY(whole, enumerate(weights, enough, All{}));
    proof_.complete = proof_.complete && whole;
    return true;
  }

  const Question& question_;
  const Places& places_;
  const network::SteadyState& before_;
  Watch& watch_;
  FrontLimits limits_;
  std::vector<Cost> each_;  ///< of each customer, by which plans are compared
  std::vector<Cost> lost_;  ///< of each part
  Cost all_times_ = 0, all_customers_ = 0;
  std::map<std::vector<std::size_t>, Point> points_;
  FrontProof proof_;
};

Finding times_finding(std::size_t unset, std::size_t all) {
  return {
      .rule = "plan.front_times",
      .grade = Grade::undecided,
      .says = unset == all
                  ? "no times are set: minutes until the gas is stopped cannot be held against "
                    "customers out"
                  : fmt::format("of {} places to shut, {} have no time set: plans that use them "
                                "are not held against the others",
                                all, unset),
      .quantity = "places without a time",
      .value_si = static_cast<double>(unset),
      .limit_si = 0.0,
      .unit_si = "1",
      .source = "profile",
      .evidence = Evidence::derived,
      .action = "set the times in the company's profile",
      .about = "front"};
}

Finding limit_finding(const FrontProof& proof) {
  return {.rule = "plan.front_limit",
          .grade = Grade::warn,
          .says = fmt::format("the search for faster plans stopped at its limit after {} cuts: a "
                              "plan that is not listed may be faster or put fewer out",
                              proof.examined),
          .quantity = "cuts looked at",
          .value_si = static_cast<double>(proof.examined),
          .unit_si = "1",
          .source = "search",
          .evidence = Evidence::derived,
          .action = "take what is listed, or narrow the work",
          .about = "front"};
}

std::vector<Index> ids_out(const std::vector<CustomerOut>& out) {
  std::vector<Index> list;
  for (const CustomerOut& customer : out) list.push_back(customer.customer);
  return list;
}

std::vector<std::size_t> without(const std::vector<std::size_t>& all,
                                 const std::vector<std::size_t>& taken) {
  std::vector<std::size_t> rest;
  for (const std::size_t i : all)
    if (std::ranges::find(taken, i) == taken.end()) rest.push_back(i);
  return rest;
}

/// Findings of the state with everything shut: stations, limits, customers.
Result<Findings> state_findings(Outset& outset, const ShutoffPlan& plan, Watch& watch) {
  StageAsk ask;
  for (std::size_t i = 0; i < plan.shutoffs.size(); ++i) ask.shut.push_back(i);
  Stages stages(outset, plan);
  const std::vector asks{ask};
  BELLHOLE_TRY(numbers, stages.numbers({}, asks, watch));
  return std::move(numbers.front().findings);
}

}  // namespace

Result<Front> front_of(Outset& outset, const Places& places, Watch& watch,
                       const FrontLimits& limits) {
  const Question& question = outset.question();
  const network::SteadyState& before = outset.before();
  Front front;
  const auto unset = static_cast<std::size_t>(std::ranges::count_if(
      places.places, [](const Place& place) { return !std::isfinite(place.time_s); }));
  if (unset > 0) front.findings.push_back(times_finding(unset, places.places.size()));
  if (unset == places.places.size()) return front;

  Searcher searcher(question, places, before, watch, limits);
  BELLHOLE_TRY(some, searcher.search());
  front.proof = searcher.proof();
  if (!some) return front;
  if (!front.proof.complete) front.findings.push_back(limit_finding(front.proof));
  const std::vector<const Point*> points = searcher.staircase();
  const Point& tightest = *points.back();
  const auto last = places_of(places, tightest.cut);
  for (const Point* point : points) {
    FrontPlan entry;
    ShutoffPlan& plan = entry.plan;
    BELLHOLE_TRY(shutoffs, shutoffs_of(question, places, point->cut, before, watch));
    plan.shutoffs = std::move(shutoffs);
    plan.out = point->out;
    for (const CustomerOut& out : plan.out) {
      if (question.model.network().customers.must_not_lose[at(out.customer)] != 0)
        ++plan.must_not_lose;
    }
    plan.isolated = isolated_by(question.model.network(), places, point->cut, before);
    const auto shut = places_of(places, point->cut);
    Crews crews(question.crews);
    plan.time_to_stop = crews.give(searcher.times_of(shut));
    BELLHOLE_TRY(findings, state_findings(outset, plan, watch));
    plan.findings = std::move(findings);
    entry.stages.push_back({*plan.time_to_stop, shut, {}, ids_out(point->out)});
    if (point != &tightest) {
      const auto more = without(last, shut);
      entry.stages.push_back(
          {crews.give(searcher.times_of(more)), more, without(shut, last), ids_out(tightest.out)});
    }
    front.plans.push_back(std::move(entry));
  }
  return front;
}

}  // namespace bellhole::plan
