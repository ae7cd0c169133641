#include "plan/step_watch.hpp"

#include <algorithm>
#include <cmath>

#include "gas/gas.hpp"
#include "linepack/watch.hpp"
#include "procedure/judge.hpp"

namespace bellhole::plan {
namespace {

using linepack::Asks;
using network::Index;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

class Watches {
 public:
  Watches(const StepsQuestion& in, StepList& list)
      : in_(in), network_(in.question.model.network()), list_(list) {}

  void add() {
    // A part without room holds nothing to watch.
    if (!(in_.plan.isolated.volume.si() > 0.0)) return;
    bool meters_shut = false;
    Step* hold = nullptr;
    for (Step& step : list_.steps) {
      if (step.kind == StepKind::meters_shut) meters_shut = true;
      const bool all_shut = step.stage == list_.closing.size() && !list_.closing.empty();
      if (step.kind == StepKind::hold_watch && all_shut) hold = &step;
      if (step.kind == StepKind::vent_down || step.kind == StepKind::let_by_watch) {
        if (hold != nullptr) watch(*hold, Asks::fed_elsewhere, meters_shut);
        hold = nullptr;
      }
      if (step.kind == StepKind::let_by_watch) watch(step, Asks::shut_off_tight, meters_shut);
    }
  }

 private:
  Index tier() const {
    const auto part = std::ranges::find(list_.points, PointKind::part_side, &GaugePoint::kind);
    return part == list_.points.end() ? network::none : part->tier;
  }

  /// The smallest division that is read there; not set is said once for each kind of gauge.
  std::optional<PressureDifference> division(Asks asks) {
    procedure::Case in;
    if (tier() != network::none) in[procedure::Listed::tier] = network_.tiers.id[at(tier())];
    const auto ruling = in_.question.profile.ruling(
        asks == Asks::shut_off_tight ? "steps.vented_gauge_step" : "steps.gauge_step", in);
    if (const auto set = ruling.as<kinds::GaugePressure>()) return *set - GaugePressure();
    const std::string part =
        tier() == network::none ? "the part" : "tier " + in[procedure::Listed::tier].value();
    append(list_.findings,
           {procedure::not_set(
               ruling,
               {.quantity = "division of the gauge",
                .about = part,
                .action = "name the gauge: without its division nobody knows how long to watch"},
               in_.question.system)});
    return std::nullopt;
  }

  /// Lowest pressure at the shut-offs before anything was shut: what the part is shut in at.
  std::optional<GaugePressure> pressure(Asks asks) const {
    if (asks == Asks::shut_off_tight) return GaugePressure();
    std::optional<GaugePressure> least;
    for (const Shutoff& shutoff : in_.plan.shutoffs) {
      if (!std::isfinite(shutoff.pressure_now.si())) continue;
      least = least ? std::min(*least, shutoff.pressure_now) : shutoff.pressure_now;
    }
    return least;
  }

  /// Of the customers on the part.
  StdFlow load(network::LoadCase which) const {
    network::Scenario scenario = in_.question.conditions;
    scenario.load = which;
    const auto all = network::loads(network_, scenario);
    StdFlow sum;
    for (const CustomerOut& out : in_.plan.out)
      if (out.cause == OutCause::isolated) sum = sum + all[at(out.customer)];
    return sum;
  }

  linepack::Closed closed() const {
    const network::Conditions& conditions = in_.question.model.conditions();
    return {in_.plan.isolated.volume,
            conditions.ground,
            network_.barometer,
            {network_.base_pressure, network_.base_temperature},
            gas::flowing(conditions.gas, conditions.ground).k_per_pa};
  }

  void watch(Step& step, Asks asks, bool meters_shut) {
    StepWatch made{.asks = asks, .volume = in_.plan.isolated.volume};
    made.pressure = pressure(asks);
    if (!meters_shut) made.draw = {load(network::LoadCase::low), load(network::LoadCase::high)};
    if (asks == Asks::fed_elsewhere && !(made.draw.high.si() > 0.0)) return;
    made.step = division(asks);
    if (made.pressure && made.step) ask(step, made);
    step.watch = std::move(made);
  }

  void ask(Step& step, StepWatch& made) const {
    linepack::WatchQuestion question{.asks = made.asks,
                                     .closed = closed(),
                                     .pressure = *made.pressure,
                                     .draw = made.draw,
                                     .gauge = {.step = *made.step}};
    if (made.asks == Asks::fed_elsewhere && tier() != network::none &&
        std::isfinite(network_.tiers.least[at(tier())].si()))
      question.floor = network_.tiers.least[at(tier())];
    const auto watched = linepack::watch(question, in_.question.profile, in_.question.system);
    if (!watched) {
      step.findings.push_back(cannot(watched.error()));
      return;
    }
    made.least = watched->watch;
    if (watched->left) made.left = watched->left->shortest;
    made.says = watched->says;
    made.not_concluded = watched->not_concluded;
    made.assumed = watched->assumed;
    append(step.findings, watched->findings);
  }

  static Finding cannot(const Trouble& trouble) {
    return {.rule = "steps.watch",
            .grade = Grade::undecided,
            .says = "how long to watch cannot be told: " + trouble.where + " " + trouble.value +
                    "; " + trouble.fix,
            .quantity = "time to watch",
            .source = "docs/theory/time.md",
            .evidence = Evidence::derived,
            .action = "ask the question watch with what is known in the field"};
  }

  const StepsQuestion& in_;
  const network::Network& network_;
  StepList& list_;
};

}  // namespace

void add_watches(const StepsQuestion& in, StepList& list) { Watches(in, list).add(); }

}  // namespace bellhole::plan
