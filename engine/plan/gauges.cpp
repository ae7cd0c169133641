#include "plan/gauges.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "procedure/judge.hpp"

namespace bellhole::plan {
namespace {

using network::Index;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

std::optional<GaugePressure> known(GaugePressure pressure) {
  if (!std::isfinite(pressure.si())) return std::nullopt;
  return pressure;
}

std::optional<GaugePressure> higher(std::optional<GaugePressure> a,
                                    std::optional<GaugePressure> b) {
  if (!a || !b) return a ? a : b;
  return std::max(*a, *b);
}

std::optional<GaugePressure> lower(std::optional<GaugePressure> a, std::optional<GaugePressure> b) {
  if (!a || !b) return a ? a : b;
  return std::min(*a, *b);
}

procedure::Case case_of(const network::Network& network, const Question& question, Index tier) {
  procedure::Case in;
  if (tier != network::none) in[procedure::Listed::tier] = network.tiers.id[at(tier)];
  in[procedure::Listed::work] = question.kind == Kind::planned ? "planned" : "emergency";
  return in;
}

}  // namespace

Gauges::Gauges(const Question& question, const ShutoffPlan& plan, const StepList& list,
               const std::vector<StageNumbers>& numbers)
    : question_(question),
      network_(question.model.network()),
      plan_(plan),
      list_(list),
      numbers_(numbers) {
  for (const GaugePoint& point : list_.points) limits_.push_back(limits_of(point));
}

Gauges::Limits Gauges::limits_of(const GaugePoint& point) const {
  Limits limits;
  if (point.tier != network::none) {
    limits.low = known(network_.tiers.least[at(point.tier)]);
    limits.high = known(network_.tiers.maop[at(point.tier)]);
  }
  const auto out = [&](Index c) {
    return std::ranges::find(plan_.out, c, &CustomerOut::customer) != plan_.out.end();
  };
  if (point.kind == PointKind::live_side || point.kind == PointKind::part_side) {
    for (std::size_t c = 0; c < network_.customers.size(); ++c) {
      if (network_.customers.pipe[c] != point.pipe || out(static_cast<Index>(c))) continue;
      limits.low =
          higher(limits.low, known(network::least_of_customer(network_, static_cast<Index>(c))));
    }
  }
  if (point.kind == PointKind::low_point && point.customer != network::none) {
    limits.low = higher(limits.low, known(network::least_of_customer(network_, point.customer)));
    // Who falls short counts as out, is shut off by hand and has no least pressure to keep.
    if (out(point.customer)) limits.low = GaugePressure();
  }
  if (point.kind == PointKind::regulator_inlet)
    limits.low = higher(limits.low, known(network_.regulators.least_inlet[at(point.regulator)]));
  if (point.kind == PointKind::regulator_outlet)
    limits.high = lower(limits.high, known(network_.regulators.relief[at(point.regulator)]));
  return limits;
}

bool Gauges::empties(std::size_t point) const {
  if (list_.points[point].kind == PointKind::part_side) return true;
  const std::size_t all_shut = list_.closing.size();
  return all_shut < numbers_.size() && point < numbers_[all_shut].expect.size() &&
         !std::isfinite(numbers_[all_shut].expect[point].si());
}

void Gauges::expect(Gauge& gauge, std::size_t point, std::size_t stage, PartState part) const {
  if (empties(point) && part == PartState::vented) {
    gauge.expect = gauge.expect_least = gauge.expect_most = GaugePressure();
    return;
  }
  // Before the first shut-off is opened the part already stands at the pressure of its feed.
  const std::size_t first_open = list_.closing.size() + 1;
  if (empties(point) && part == PartState::filled && stage < first_open) stage = first_open;
  if (stage >= numbers_.size() || (empties(point) && part == PartState::purging)) return;
  const auto of = [&](const std::vector<GaugePressure>& pressures) {
    return point < pressures.size() ? known(pressures[point]) : std::nullopt;
  };
  gauge.expect = of(numbers_[stage].expect);
  // Mostly the high load has the least pressure; next to a station that feeds backwards it may not.
  const auto high = of(numbers_[stage].at_high_load), low = of(numbers_[stage].at_low_load);
  gauge.expect_least = lower(lower(high, low), gauge.expect);
  gauge.expect_most = higher(higher(high, low), gauge.expect);
}

std::optional<GaugePressure> Gauges::row(std::string_view rule, Index tier) const {
  return question_.profile.ruling(rule, case_of(network_, question_, tier))
      .as<kinds::GaugePressure>();
}

Gauge Gauges::gauge(std::size_t point, std::size_t stage, PartState part) const {
  const GaugePoint& place = list_.points[point];
  Gauge gauge;
  gauge.point = place.id;
  gauge.at = place.at;
  gauge.post = place.post;
  gauge.low = limits_[point].low;
  gauge.high = limits_[point].high;
  expect(gauge, point, stage, part);
  const bool emptied = empties(point) && part != PartState::live && part != PartState::filled;
  if (emptied) gauge.low = GaugePressure();
  const bool vented = emptied && part == PartState::vented;
  if (vented) gauge.high = row("steps.vented_most", place.tier);
  gauge.range = row(vented ? "steps.vented_gauge_range" : "steps.gauge_range", place.tier);
  return gauge;
}

Findings Gauges::not_set() const {
  Findings findings;
  for (std::size_t i = 0; i < list_.points.size(); ++i) {
    const auto& [low, high] = limits_[i];
    if (low && high) continue;
    const std::string missing = !low && !high ? "lowest and highest" : !low ? "lowest" : "highest";
    findings.push_back({.rule = "steps.gauge_limits",
                        .grade = Grade::undecided,
                        .says = fmt::format("gauge at {}: no limit set for the {} reading: decide",
                                            list_.points[i].at, missing),
                        .quantity = "limits of a gauge",
                        .source = "network as imported, procedure",
                        .evidence = Evidence::derived,
                        .action = "the engineer writes the limit on the sheet before anyone is "
                                  "posted at this gauge",
                        .about = list_.points[i].at});
  }
  std::set<Index> tiers, part_tiers;
  for (const GaugePoint& point : list_.points) {
    tiers.insert(point.tier);
    if (point.kind == PointKind::part_side) part_tiers.insert(point.tier);
  }
  const auto ask = [&](std::string_view rule, Index tier, std::string quantity,
                       std::string action) {
    const procedure::Ruling ruling =
        question_.profile.ruling(rule, case_of(network_, question_, tier));
    const std::string about =
        tier == network::none ? "mains of no tier" : "tier " + network_.tiers.id[at(tier)];
    if (!ruling.number())
      findings.push_back(procedure::not_set(
          ruling, {.quantity = std::move(quantity), .about = about, .action = std::move(action)},
          question_.system));
  };
  for (const Index tier : tiers)
    ask("steps.gauge_range", tier, "range of a gauge", "choose gauges that show the limits well");
  for (const Index tier : part_tiers) {
    ask("steps.vented_gauge_range", tier, "range of a gauge on the vented part",
        "choose a gauge fine enough to see let-by");
    ask("steps.vented_most", tier, "pressure in the vented part",
        "decide at which reading nobody cuts, and everybody leaves the hole");
  }
  return findings;
}

}  // namespace bellhole::plan
