// Where and when a rehearsed plan goes wrong.
#include <algorithm>
#include <cmath>
#include <optional>

#include "plan/rehearse_parts.hpp"

namespace bellhole::plan {
namespace {

using network::Index;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

/// A step is right to 1e-4 of the pressure that a place began with (Course::tolerance), a course to
/// a few of them; less is no reading.
constexpr double method_share = 3e-4, method_pa = 1.0;

double slack(double began_pa) { return method_pa + method_share * std::abs(began_pa); }

/// From when to when the part is not followed: vented down, purged and filled again through the
/// first shut-off, until that one stands open.
struct Span {
  Duration begins, ends;
  [[nodiscard]] bool holds(Duration moment) const { return moment >= begins && moment < ends; }
};
std::optional<Span> vented(const Script& script, const Clock& clock) {
  for (std::size_t i = 0; i < script.steps.size(); ++i) {
    if (script.steps[i].kind != StepKind::vent_down && script.steps[i].kind != StepKind::cut)
      continue;
    const Duration ends = clock.opening.empty() ? Duration::from_si(HUGE_VAL)
                                                : clock.steps[clock.opening.front()].ends;
    return Span{clock.steps[i].begins, ends};
  }
  return std::nullopt;
}

/// Whether a gauge reads the part: its side of a shut-off, or a step expects nothing there.
bool reads_the_part(const Script& script, const GaugePoint& point) {
  if (point.kind == PointKind::part_side) return true;
  return std::ranges::any_of(script.steps, [&](const Step& step) {
    return std::ranges::any_of(step.gauges, [&](const Gauge& gauge) {
      return gauge.point == point.id && gauge.expect == GaugePressure();
    });
  });
}

/// The limits of a gauge from a moment on: a step keeps those of the last step that named it.
struct LimitsFrom {
  Duration at;
  std::optional<GaugePressure> low, high;
};
std::vector<LimitsFrom> limits_of(const Script& script, const Clock& clock,
                                  const GaugePoint& point) {
  std::vector<LimitsFrom> limits;
  for (std::size_t i = 0; i < script.steps.size(); ++i) {
    const auto& gauges = script.steps[i].gauges;
    const auto gauge = std::ranges::find(gauges, point.id, &Gauge::point);
    if (gauge != gauges.end()) limits.push_back({clock.steps[i].begins, gauge->low, gauge->high});
  }
  return limits;
}

class Watching {
 public:
  Watching(const RehearseQuestion& question, const Rehearsal& made, const Courses& courses)
      : question_(question),
        script_(question.script),
        network_(question.model.network()),
        made_(made),
        courses_(courses) {}

  Result<std::vector<Wrong>> go() {
    BELLHOLE_TRY(customers, look_at_customers());
    static_cast<void>(customers);
    look_at_tiers();
    for (std::size_t i = 0; i < script_.points.size(); ++i) look_at_gauge(i);
    std::ranges::stable_sort(wrong_, {}, &Wrong::at);
    for (Wrong& wrong : wrong_) wrong.step = step_at(wrong.at);
    return std::move(wrong_);
  }

 private:
  /// The step in hand: the last that has begun.
  std::optional<std::size_t> step_at(Duration moment) const {
    std::optional<std::size_t> step;
    for (std::size_t i = 0; i < made_.clock.steps.size(); ++i)
      if (made_.clock.steps[i].begins <= moment) step = i;
    return step;
  }

  std::size_t shut_at(Duration moment) const {
    const auto& closing = made_.clock.closing;
    return static_cast<std::size_t>(std::ranges::count_if(
        closing, [&](std::size_t step) { return made_.clock.steps[step].begins <= moment; }));
  }

  /// Cut off, in a main that holds next to nothing: no countdown from the closing on.
  Result<bool> at_once(Wrong& wrong) {
    const auto low =
        question_.profile.ruling("linepack.low_pressure", {}).as<kinds::GaugePressure>();
    const std::size_t shut = shut_at(wrong.at);
    if (!low || shut == 0 || !(wrong.limit <= *low)) return false;
    while (reached_.size() <= shut) {
      BELLHOLE_TRY(reached, question_.model.reached(shut_after(script_, made_.clock,
                                                               question_.begins, reached_.size())));
      reached_.push_back(std::move(reached));
    }
    wrong.at_once = reached_[shut][at(wrong.customer)] == 0;
    if (wrong.at_once) wrong.at = made_.clock.steps[made_.clock.closing[shut - 1]].begins;
    return true;
  }

  Result<bool> look_at_customers() {
    BELLHOLE_TRY(had_gas, question_.model.reached(question_.begins));
    for (std::size_t c = 0; c < network_.customers.size(); ++c) {
      const auto customer = static_cast<Index>(c);
      if (had_gas[c] == 0 || std::ranges::binary_search(script_.out, customer)) continue;
      std::optional<Wrong> first;
      for (std::size_t draw = 0; draw < courses_.size(); ++draw) {
        const network::Shortfall& fall = courses_[draw].customers[c];
        if (!fall.first_short || (first && first->at <= *fall.first_short)) continue;
        first = {.at = *fall.first_short,
                 .draw = static_cast<network::LoadCase>(draw),
                 .customer = customer,
                 .pressure = fall.lowest,
                 .limit = network::least_of_customer(network_, customer)};
      }
      if (!first) continue;
      BELLHOLE_TRY(told, at_once(*first));
      static_cast<void>(told);
      wrong_.push_back(*first);
    }
    return true;
  }

  void look_at_tiers() {
    for (std::size_t tier = 0; tier < network_.tiers.size(); ++tier) {
      std::optional<Wrong> first;
      for (std::size_t draw = 0; draw < courses_.size(); ++draw) {
        const network::Peak& peak = courses_[draw].tiers[tier];
        if (!peak.first_over || (first && first->at <= *peak.first_over)) continue;
        first = {.kind = WrongKind::over_maop,
                 .at = *peak.first_over,
                 .draw = static_cast<network::LoadCase>(draw),
                 .node = peak.node,
                 .pressure = peak.pressure,
                 .limit = peak.limit};
      }
      if (first) wrong_.push_back(*first);
    }
  }

  void look_at_gauge(std::size_t point) {
    const auto limits = limits_of(script_, made_.clock, script_.points[point]);
    std::optional<Wrong> low, high;
    std::size_t now = 0;
    for (std::size_t t = 0; t < made_.times.size() && !limits.empty(); ++t) {
      const Duration moment = made_.times[t];
      while (now + 1 < limits.size() && limits[now + 1].at <= moment) ++now;
      if (moment < limits[now].at) continue;
      hold(point, t, limits[now].low, WrongKind::gauge_low, low);
      hold(point, t, limits[now].high, WrongKind::gauge_high, high);
    }
    if (low) wrong_.push_back(*low);
    if (high) wrong_.push_back(*high);
  }

  /// One sample against one limit; the first beyond it is kept, with the worst that follows.
  void hold(std::size_t point, std::size_t t, const std::optional<GaugePressure>& limit,
            WrongKind kind, std::optional<Wrong>& first) const {
    if (!limit) return;
    const bool under = kind == WrongKind::gauge_low;
    const Series& series = made_.series[point];
    const std::array began{series.low_draw[0], series.expected[0], series.high_draw[0]};
    const std::array draws{series.low_draw[t], series.expected[t], series.high_draw[t]};
    for (std::size_t draw = 0; draw < draws.size(); ++draw) {
      const double pressure = draws[draw],
                   beyond = under ? limit->si() - pressure : pressure - limit->si();
      if (!(beyond > slack(began[draw]))) continue;
      if (!first)
        first = Wrong{.kind = kind,
                      .at = made_.times[t],
                      .draw = static_cast<network::LoadCase>(draw),
                      .point = point,
                      .pressure = GaugePressure::from_si(pressure),
                      .limit = *limit};
      const bool worse = under ? pressure < first->pressure.si() : pressure > first->pressure.si();
      if (worse && *limit == first->limit) first->pressure = GaugePressure::from_si(pressure);
    }
  }

  const RehearseQuestion& question_;
  const Script& script_;
  const network::Network& network_;
  const Rehearsal& made_;
  const Courses& courses_;
  std::vector<std::vector<char>> reached_;  ///< by the number of closings
  std::vector<Wrong> wrong_;
};

}  // namespace

std::vector<Series> series_of(const RehearseQuestion& question, const Clock& clock,
                              const Courses& courses) {
  const Script& script = question.script;
  const auto span = vented(script, clock);
  std::vector<Series> all;
  for (std::size_t i = 0; i < script.points.size(); ++i) {
    Series series{.point = i};
    const bool empties = span && reads_the_part(script, script.points[i]);
    std::array<std::vector<double>*, 3> draws{&series.low_draw, &series.expected,
                                              &series.high_draw};
    for (std::size_t draw = 0; draw < draws.size(); ++draw) {
      for (std::size_t t = 0; t < courses[draw].sampled.size(); ++t) {
        const bool read = !empties || !span->holds(courses[draw].sampled[t]);
        draws[draw]->push_back(read ? courses[draw].pressures[i][t].si() : std::nan(""));
      }
    }
    all.push_back(std::move(series));
  }
  return all;
}

Result<std::vector<Wrong>> wrong_of(const RehearseQuestion& question, const Rehearsal& made,
                                    const Courses& courses) {
  return Watching(question, made, courses).go();
}

}  // namespace bellhole::plan
