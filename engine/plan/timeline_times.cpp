// How long each step of a job takes.
#include <algorithm>
#include <array>
#include <cmath>

#include "plan/main_facts.hpp"
#include "plan/timeline_work.hpp"
#include "plan/times.hpp"
#include "procedure/judge.hpp"
#include "restore/join.hpp"
#include "squeeze/pace.hpp"

namespace bellhole::plan {
namespace {

using Seconds = std::optional<double>;

Seconds known(double seconds) { return std::isfinite(seconds) ? Seconds(seconds) : std::nullopt; }

Seconds greater(Seconds a, Seconds b) {
  if (!a || !b) return a ? a : b;
  return std::max(*a, *b);
}

class Timer {
 public:
  Timer(const TimelineQuestion& question, const restore::Relight& relight)
      : q_(question), relight_(relight), costs_(question.profile, question.system) {}

  StepTimes all() {
    for (const Step& step : q_.steps) {
      const std::optional<Band> takes = band_of(step);
      if (!takes && step.kind != StepKind::relight) out_.unset.insert(to_string(step.kind));
      out_.takes.push_back(takes.value_or(Band{}));
      out_.known.push_back(takes.has_value());
    }
    append(out_.findings, costs_.findings());
    append(out_.findings, std::move(band_findings_));
    return std::move(out_);
  }

 private:
  const TimelineShutoff* shutoff_of(const Step& step) const {
    const auto found = std::ranges::find(q_.shutoffs, step.about, &TimelineShutoff::letter);
    return found == q_.shutoffs.end() ? nullptr : &*found;
  }

  procedure::Case case_of(const Step& step) const {
    const TimelineShutoff* shutoff = shutoff_of(step);
    network::Index pipe = shutoff != nullptr ? shutoff->place.pipe : network::none;
    if (pipe == network::none && !q_.part.empty()) pipe = q_.part.front().pipe;
    procedure::Case in;
    if (pipe != network::none) in = case_of_dig(q_.network, pipe, case_of_main(q_.network, pipe));
    in[procedure::Listed::work] = q_.kind == Kind::planned ? "planned" : "emergency";
    in[procedure::Listed::step] = std::string(to_string(step.kind));
    return in;
  }

  Seconds row(std::string_view rule, const Step& step) const {
    return q_.profile.ruling(rule, case_of(step)).number();
  }

  std::optional<Band> band_of(const Step& step) {
    if (step.kind == StepKind::relight && relight_.all) return relight_.all;
    if (step.kind == StepKind::meters_shut && relight_.shutting) return relight_.shutting;
    const Seconds middle = seconds_of(step);
    if (!middle) return std::nullopt;
    const double least = share("steps.time_short", step), most = share("steps.time_long", step);
    return Band{Duration::from_si(*middle * std::min(least, 1.0)), Duration::from_si(*middle),
                Duration::from_si(*middle * std::max(most, 1.0))};
  }

  /// Of the band; not set is said once.
  double share(std::string_view rule, const Step& step) {
    const auto ruling = q_.profile.ruling(rule, case_of(step));
    if (const auto value = ruling.number()) return *value;
    const bool said = std::ranges::any_of(
        band_findings_, [&](const Finding& finding) { return finding.rule == rule; });
    if (!said)
      band_findings_.push_back(procedure::not_set(
          ruling, {std::string(ruling.rule->asks), {}, "profile " + q_.profile.id(), "", ""},
          q_.system));
    return 1.0;
  }

  Seconds seconds_of(const Step& step) {
    const TimelineShutoff* shutoff = shutoff_of(step);
    const Seconds set = row("steps.time", step);
    switch (step.kind) {
      case StepKind::identify:
      case StepKind::prepare_tool:
      case StepKind::ground_wet:
        // Part of plan.time_dig and plan.time_set, unless the company counts it apart.
        return set ? set : Seconds(0.0);
      case StepKind::dig:
      case StepKind::set_tool:
      case StepKind::shut:
      case StepKind::second_squeeze:
      case StepKind::open: {
        const Seconds own = shutoff != nullptr ? at_shutoff(step, shutoff->place) : Seconds();
        return own ? own : set;
      }
      case StepKind::purge:
        return greater(set, q_.purging ? Seconds(q_.purging->si()) : Seconds());
      case StepKind::join:
      case StepKind::tie_in:
        return greater(set, cooling());
      case StepKind::hold_watch:
      case StepKind::let_by_watch:
        return greater(
            set, step.watch && step.watch->least ? Seconds(step.watch->least->si()) : Seconds());
      case StepKind::test:
        return set ? set : row("test.duration_least", step);
      default:
        return set;
    }
  }

  Seconds at_shutoff(const Step& step, const Place& place) {
    switch (place.kind) {
      case ShutKind::squeeze:
        return at_squeeze(step, place);
      case ShutKind::valve:
        return known(
            costs_.time_s(step.kind == StepKind::open ? "plan.time_turn_valve" : "plan.time_valve",
                          case_of(step)));
      case ShutKind::regulator_outlet:
      case ShutKind::source_outlet:
        return known(costs_.time_s(
            step.kind == StepKind::open ? "plan.time_turn_outlet" : "plan.time_station_outlet",
            case_of(step)));
      case ShutKind::placed:
        // From the order until it holds, its hole among it.
        if (step.kind == StepKind::dig) return 0.0;
        if (step.kind == StepKind::shut)
          return known(costs_.time_s("plan.time_placed", case_of(step)));
    }
    return std::nullopt;
  }

  Seconds at_squeeze(const Step& step, const Place& place) {
    if (step.kind == StepKind::open) return opening(step, place);
    const SqueezeTimes times =
        squeeze_times(q_.network, q_.profile, place.pipe, case_of(step), costs_);
    switch (step.kind) {
      case StepKind::dig:
        return known(times.locate + times.dig);
      case StepKind::set_tool:
        return known(times.set);
      case StepKind::second_squeeze:
        return known(times.set + times.close);
      default:
        return known(times.close);
    }
  }

  Seconds opening(const Step& step, const Place& place) {
    const procedure::Case in = case_of(step);
    const Length od = facts_of_main(q_.network, place.pipe).od;
    const double speed = costs_.value("squeeze.opening_speed", in);
    if (!(speed > 0.0) || !(od > Length())) return std::nullopt;
    const auto table = squeeze::timetable(
        {.from = Length(),
         .to = od,
         .speed = Speed::from_si(speed),
         .step = q_.profile.ruling("squeeze.opening_step", in).as<kinds::Length>(),
         .pause = q_.profile.ruling("squeeze.opening_pause", in).as<kinds::Duration>(),
         .mark_every = od,
         .per_count = std::nullopt});
    return table.with_waits.si() * (place.squeezes == Squeezes::one ? 1.0 : 2.0);
  }

  /// Of a butt fusion of the main at the work.
  Seconds cooling() const {
    if (q_.part.empty()) return std::nullopt;
    const auto pipe = q_.part.front().pipe;
    const auto p = static_cast<std::size_t>(pipe);
    const MainFacts facts = facts_of_main(q_.network, pipe);
    if (!facts.size || !std::isfinite(q_.network.pipes.ratio[p])) return std::nullopt;
    restore::JoinQuestion ask;
    ask.pipe.size = *facts.size;
    ask.pipe.ratio = q_.network.pipes.ratio[p];
    const auto joined = restore::join(ask, q_.profile, q_.system);
    if (!joined || !joined->cooling) return std::nullopt;
    return joined->cooling->si();
  }

  const TimelineQuestion& q_;
  const restore::Relight& relight_;
  Costs costs_;
  Findings band_findings_;
  StepTimes out_;
};

}  // namespace

StepTimes times_of(const TimelineQuestion& question, const restore::Relight& relight) {
  return Timer(question, relight).all();
}

}  // namespace bellhole::plan
