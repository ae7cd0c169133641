// When each step of a rehearsed plan is, and what moves with it.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "plan/evaluate.hpp"
#include "plan/rehearse.hpp"
#include "plan/schedule.hpp"

namespace bellhole::plan {
namespace {

/// What moves without a time of its own moves in this, so that no law jumps.
constexpr double at_once_s = 0.5;

bool moves(StepKind kind) { return kind == StepKind::shut || kind == StepKind::open; }

/// Getting a shut-off ready: its time lies in that from the order until it is shut.
bool gets_ready(StepKind kind) {
  static constexpr std::array ready{StepKind::dig, StepKind::identify, StepKind::prepare_tool,
                                    StepKind::ground_wet, StepKind::set_tool};
  return std::ranges::find(ready, kind) != ready.end();
}

std::optional<Duration> row(const Script& script, const procedure::Profile& profile,
                            std::string_view rule, std::string_view step = {}) {
  procedure::Case in;
  in[procedure::Listed::work] = script.kind == Kind::planned ? "planned" : "emergency";
  if (!step.empty()) in[procedure::Listed::step] = std::string(step);
  return profile.ruling(rule, in).as<kinds::Duration>();
}

std::optional<Duration> end_of(const std::vector<network::Travel>& travel) {
  if (travel.empty()) return std::nullopt;
  return travel.back().at;
}

/// How long the movement of a step takes; nothing where neither sheet nor profile says so.
std::optional<Duration> movement(const Script& script, const procedure::Profile& profile,
                                 const Step& step, const ScriptShutoff& shutoff) {
  switch (shutoff.place.kind) {
    case ShutKind::squeeze:
      return end_of(step.kind == StepKind::open ? shutoff.opening : shutoff.closing);
    case ShutKind::valve:
      return row(script, profile, "plan.time_turn_valve");
    case ShutKind::regulator_outlet:
    case ShutKind::source_outlet:
      return row(script, profile, "plan.time_turn_outlet");
    case ShutKind::placed:
      return std::nullopt;
  }
  return std::nullopt;
}

std::optional<Duration> time_of(const Script& script, const procedure::Profile& profile,
                                const Takes& takes, const Step& step,
                                const std::optional<std::size_t>& shutoff) {
  for (const std::string_view name : {std::string_view(step.id), to_string(step.kind)})
    if (const auto said = takes.find(name); said != takes.end()) return said->second;
  if (shutoff && (moves(step.kind) || step.kind == StepKind::second_squeeze))
    return movement(script, profile, step, script.shutoffs[*shutoff]);
  const auto set = row(script, profile, "steps.time", to_string(step.kind));
  const auto watch = step.watch ? step.watch->least : std::nullopt;
  return set && watch ? std::max(*set, *watch) : set ? set : watch;
}

/// The steps between the first closing and the last opening, both left out.
std::pair<std::size_t, std::size_t> while_shut(const Clock& clock) {
  if (clock.closing.empty()) return {0, 0};
  const std::size_t end = clock.opening.empty() ? clock.steps.size() : clock.opening.back();
  return {clock.closing.front(), end};
}

/// Along a timetable from when it begins. A step without a timetable takes its step's time.
std::vector<network::Travel> moved(const std::vector<network::Travel>& pace, bool opens,
                                   const TimedStep& step) {
  std::vector<network::Travel> travel = pace;
  if (travel.empty())
    travel = {{Duration{}, opens ? 0.0 : 1.0}, {step.ends - step.begins, opens ? 1.0 : 0.0}};
  // A time said for the step stretches its timetable.
  const double stretch = (step.ends - step.begins).si() / travel.back().at.si();
  for (network::Travel& point : travel) point.at = step.begins + point.at * stretch;
  return travel;
}

void follow_on(std::vector<network::Travel>& travel, const std::vector<network::Travel>& more) {
  for (const network::Travel& point : more)
    if (travel.empty() || point.at > travel.back().at) travel.push_back(point);
}

network::Mover mover_of(const ScriptShutoff& shutoff) {
  network::Mover mover;
  if (shutoff.place.kind == ShutKind::valve)
    mover.valve = shutoff.place.element;
  else
    mover.place = {shutoff.place.pipe, shutoff.place.station};
  return mover;
}

bool is_outlet(ShutKind kind) {
  return kind == ShutKind::regulator_outlet || kind == ShutKind::source_outlet;
}

network::SwitchKind switch_of(ShutKind kind) {
  return kind == ShutKind::source_outlet ? network::SwitchKind::source
                                         : network::SwitchKind::regulator;
}

/// Customers whom the plan puts out draw nothing once their meters are shut.
void shut_meters(const Script& script, const Clock& clock, Movements& made) {
  const auto step = std::ranges::find(script.steps, StepKind::meters_shut, &Step::kind);
  if (step == script.steps.end()) return;
  const Duration at = clock.steps[static_cast<std::size_t>(step - script.steps.begin())].ends;
  for (const network::Index customer : script.out)
    made.switches.push_back({at, network::SwitchKind::meter, customer, true});
}

/// A list that a person changed may move a shut-off twice; the first time counts.
bool moved_before(const Script& script, const std::vector<std::size_t>& steps,
                  std::size_t shutoff) {
  return std::ranges::any_of(
      steps, [&](std::size_t i) { return shutoff_of(script, script.steps[i]) == shutoff; });
}

}  // namespace

std::optional<std::size_t> shutoff_of(const Script& script, const Step& step) {
  const auto found = std::ranges::find(script.shutoffs, step.about, &ScriptShutoff::letter);
  if (step.about.empty() || found == script.shutoffs.end()) return std::nullopt;
  return static_cast<std::size_t>(found - script.shutoffs.begin());
}

Clock clock_of(const Script& script, const procedure::Profile& profile, const Takes& takes) {
  Clock clock;
  Crews crews(std::max<std::int64_t>(script.crews, 1));
  Duration now;
  for (std::size_t i = 0; i < script.steps.size(); ++i) {
    const Step& step = script.steps[i];
    const auto shutoff = shutoff_of(script, step);
    const auto set = time_of(script, profile, takes, step, shutoff);
    Duration lasts = set.value_or(Duration{});
    bool known = set.has_value();
    if (shutoff && moves(step.kind)) lasts = std::max(lasts, Duration::from_si(at_once_s));
    if (shutoff && step.kind == StepKind::shut) {
      const double alone = script.shutoffs[*shutoff].place.time_s;
      if (std::isfinite(alone))
        now = std::max(now, crews.give({alone}) - lasts);
      else
        clock.not_ready.push_back(i);
      if (!moved_before(script, clock.closing, *shutoff)) clock.closing.push_back(i);
    }
    if (shutoff && step.kind == StepKind::open && !moved_before(script, clock.opening, *shutoff))
      clock.opening.push_back(i);
    if (shutoff && gets_ready(step.kind)) known = true;
    clock.steps.push_back({now, now + lasts, known});
    now = now + lasts;
  }
  const auto [from, to] = while_shut(clock);
  for (std::size_t i = from; i < to; ++i)
    if (!clock.steps[i].known) clock.without_time.push_back(i);
  return clock;
}

Movements movements(const Script& script, const Clock& clock, std::size_t closings, bool opened) {
  Movements made;
  const auto at_step = [&](const std::vector<std::size_t>& steps, std::size_t shutoff) {
    const auto found = std::ranges::find_if(
        steps, [&](std::size_t i) { return shutoff_of(script, script.steps[i]) == shutoff; });
    return found == steps.end() ? nullptr : &clock.steps[*found];
  };
  for (std::size_t k = 0; k < std::min(closings, clock.closing.size()); ++k) {
    const std::size_t i = *shutoff_of(script, script.steps[clock.closing[k]]);
    const ScriptShutoff& shutoff = script.shutoffs[i];
    const TimedStep& shuts = clock.steps[clock.closing[k]];
    const TimedStep* opens = opened ? at_step(clock.opening, i) : nullptr;
    if (is_outlet(shutoff.place.kind)) {
      made.switches.push_back(
          {shuts.begins, switch_of(shutoff.place.kind), shutoff.place.element, true});
      if (opens != nullptr)
        made.switches.push_back(
            {opens->begins, switch_of(shutoff.place.kind), shutoff.place.element, false});
      continue;
    }
    network::Mover mover = mover_of(shutoff);
    follow_on(mover.travel, moved(shutoff.closing, false, shuts));
    if (opens != nullptr) follow_on(mover.travel, moved(shutoff.opening, true, *opens));
    made.movers.push_back(std::move(mover));
  }
  shut_meters(script, clock, made);
  return made;
}

Movements movements_from_first(const Script& script, const Clock& clock) {
  Movements made = movements(script, clock, clock.closing.size(), false);
  if (clock.closing.empty()) return made;
  const Duration first = clock.steps[clock.closing.front()].begins;
  for (network::Mover& mover : made.movers)
    for (network::Travel& point : mover.travel) point.at = point.at - first;
  std::erase_if(made.switches, [](const network::Switch& change) {
    return change.kind == network::SwitchKind::meter;
  });
  for (network::Switch& change : made.switches) change.at = change.at - first;
  return made;
}

double hour_of(Duration at, double begins_hour) {
  constexpr double hour_s = 3600.0, day_h = 24.0;
  return std::fmod(begins_hour + at.si() / hour_s, day_h);
}

network::Scenario shut_after(const Script& script, const Clock& clock, network::Scenario begins,
                             std::size_t closings) {
  for (std::size_t k = 0; k < std::min(closings, clock.closing.size()); ++k) {
    shut(begins, script.shutoffs[*shutoff_of(script, script.steps[clock.closing[k]])].place);
  }
  return begins;
}

std::vector<network::Travel> travel_of(const std::vector<squeeze::Stretch>& pace, Length od,
                                       Length wall) {
  const double met = 2.0 * wall.si(), room = od.si() - met;
  std::vector<network::Travel> travel;
  const auto stands = [&](Duration moment, double gap) {
    const double clear = std::clamp((gap - met) / room, 0.0, 1.0);
    if (travel.empty() || moment > travel.back().at) travel.push_back({moment, clear});
  };
  for (const squeeze::Stretch& stretch : pace) {
    const double from = stretch.from.si(), to = stretch.to.si();
    stands(stretch.starts, from);
    // Where the walls meet, or part, on the way.
    if ((from - met) * (to - met) < 0.0)
      stands(stretch.starts + (stretch.ends - stretch.starts) * ((met - from) / (to - from)), met);
    stands(stretch.ends, to);
  }
  return travel;
}

std::string clock_words(Duration at, double begins_hour) {
  constexpr double day_min = 1440.0;
  const double minutes = std::floor(begins_hour * 60.0 + at.si() / 60.0 + 1e-6);
  const double days = std::floor(minutes / day_min);
  const auto of_day = static_cast<int>(minutes - days * day_min);
  return fmt::format("{:02}:{:02}{}", of_day / 60, of_day % 60,
                     days > 0 ? fmt::format(" +{:.0f} d", days) : "");
}

}  // namespace bellhole::plan
