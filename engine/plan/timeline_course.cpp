// Which step waits for which, and when each is, with so many crews.
#include <algorithm>
#include <array>
#include <map>
#include <utility>

#include "plan/timeline_work.hpp"

namespace bellhole::plan {
namespace {

bool one_of_kinds(StepKind kind, std::initializer_list<StepKind> kinds) {
  return std::ranges::find(kinds, kind) != kinds.end();
}

bool at_shutoff(const TimelineQuestion& question, const Step& step) {
  return !one_of_kinds(step.kind, {StepKind::post, StepKind::stand_down}) &&
         std::ranges::find(question.shutoffs, step.about, &TimelineShutoff::letter) !=
             question.shutoffs.end();
}

/// Steps of which one follows another, whichever shut-off they are at.
bool in_turn(const TimelineQuestion& question, StepKind kind) {
  if (kind == StepKind::open) return true;
  return question.kind == Kind::planned &&
         one_of_kinds(kind, {StepKind::shut, StepKind::second_squeeze, StepKind::hold_watch});
}

struct Span {
  double begins = 0.0, ends = 0.0;
  std::optional<std::size_t> waits_for;
};

using End = Duration Band::*;

struct Busy {
  double free = 0.0;  ///< from then on
  std::optional<std::size_t> last;
};

/// Of those who are free when the step could begin the one who was busy longest, so that nobody is
/// kept from other work; else the one who is free first.
Busy& next_of(std::vector<Busy>& crews, double begins) {
  Busy* best = nullptr;
  for (Busy& crew : crews)
    if (crew.free <= begins && (best == nullptr || crew.free > best->free)) best = &crew;
  return best != nullptr ? *best : *std::ranges::min_element(crews, {}, &Busy::free);
}

std::vector<Span> spans_of(const TimelineQuestion& question, const StepTimes& times,
                           const std::vector<std::vector<std::size_t>>& waits,
                           std::int64_t with_crews, End end) {
  std::vector<Busy> crews(static_cast<std::size_t>(with_crews));
  std::vector<Span> spans;
  for (std::size_t i = 0; i < question.steps.size(); ++i) {
    Span span;
    for (const std::size_t before : waits[i]) {
      if (span.waits_for && spans[before].ends <= span.begins) continue;
      span.begins = spans[before].ends;
      span.waits_for = before;
    }
    Busy* crew = nullptr;
    if (takes_crew(question.steps[i].kind)) {
      crew = &next_of(crews, span.begins);
      if (crew->free > span.begins) {
        span.begins = crew->free;
        span.waits_for = crew->last;
      }
    }
    span.ends = span.begins + (times.takes[i].*end).si();
    if (crew != nullptr) *crew = {span.ends, i};
    spans.push_back(span);
  }
  return spans;
}

/// Crews by number: whoever was last at the same shut-off, else the one longest without work. Some
/// crew is always free: no more steps run at once than there are crews.
void name_crews(const TimelineQuestion& question, std::vector<Bar>& bars) {
  struct Crew {
    double free = 0.0;
    std::string about;
  };
  std::vector<Crew> crews(static_cast<std::size_t>(question.crews));
  std::vector<std::size_t> order(bars.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::ranges::stable_sort(order, {}, [&](std::size_t i) { return bars[i].begins.expected.si(); });
  for (const std::size_t i : order) {
    if (!takes_crew(question.steps[i].kind)) continue;
    const double begins = bars[i].begins.expected.si();
    const std::string& about = question.steps[i].about;
    auto crew = std::ranges::find_if(crews, [&](const Crew& one) {
      return one.free <= begins && !about.empty() && one.about == about;
    });
    if (crew == crews.end()) crew = std::ranges::min_element(crews, {}, &Crew::free);
    bars[i].crew = crew - crews.begin() + 1;
    *crew = {bars[i].ends.expected.si(), about};
  }
}

void mark_critical(std::vector<Bar>& bars) {
  if (bars.empty()) return;
  auto last = std::ranges::max_element(bars, {}, [](const Bar& bar) { return bar.ends.expected; });
  std::optional<std::size_t> at = static_cast<std::size_t>(last - bars.begin());
  for (; at; at = bars[*at].waits_for) bars[*at].critical = true;
}

}  // namespace

bool takes_crew(StepKind kind) {
  return !one_of_kinds(
      kind, {StepKind::clear_area, StepKind::report, StepKind::readings, StepKind::gauges_on,
             StepKind::meters_shut, StepKind::bypass_none, StepKind::post, StepKind::hold_watch,
             StepKind::let_by_watch, StepKind::relight, StepKind::stand_down, StepKind::as_laid});
}

std::vector<std::vector<std::size_t>> waits_of(const TimelineQuestion& question) {
  std::map<std::string_view, std::size_t> by_id;
  std::map<std::string_view, std::size_t> last_at;  // of each shut-off
  std::optional<std::size_t> hold, turn;
  std::vector<std::vector<std::size_t>> waits;
  for (std::size_t i = 0; i < question.steps.size(); ++i) {
    const Step& step = question.steps[i];
    std::vector<std::size_t> mine;
    for (const std::string& id : step.after)
      if (const auto found = by_id.find(id); found != by_id.end()) mine.push_back(found->second);
    if (hold) mine.push_back(*hold);
    const bool own = at_shutoff(question, step);
    if (own) {
      const auto [last, fresh] = last_at.try_emplace(step.about, i);
      if (!fresh) mine.push_back(std::exchange(last->second, i));
    }
    if (in_turn(question, step.kind)) {
      if (turn) mine.push_back(*turn);
      turn = i;
    }
    if (step.hold_point && !own) {
      for (std::size_t before = hold.value_or(0); before < i; ++before) mine.push_back(before);
      hold = i;
    }
    by_id.emplace(step.id, i);
    waits.push_back(std::move(mine));
  }
  return waits;
}

namespace {

/// With so many crews at work, whether there are more or not.
Course scheduled_with(const TimelineQuestion& question, const StepTimes& times,
                      const std::vector<std::vector<std::size_t>>& waits, std::int64_t crews) {
  Course course;
  course.bars.resize(question.steps.size());
  for (const End end : {&Band::shortest, &Band::expected, &Band::longest}) {
    const std::vector<Span> spans = spans_of(question, times, waits, crews, end);
    for (std::size_t i = 0; i < spans.size(); ++i) {
      Bar& bar = course.bars[i];
      bar.begins.*end = Duration::from_si(spans[i].begins);
      bar.ends.*end = Duration::from_si(spans[i].ends);
      bar.known = times.known[i];
      if (end == &Band::expected) bar.waits_for = spans[i].waits_for;
      course.lasts.*end = std::max(course.lasts.*end, bar.ends.*end);
      if (!one_of_kinds(question.steps[i].kind, {StepKind::shut, StepKind::second_squeeze}))
        continue;
      if (!course.stopped) course.stopped.emplace();
      (*course.stopped).*end = std::max((*course.stopped).*end, bar.ends.*end);
      for (std::size_t before = 0; before <= i; ++before)
        course.stopped_known = course.stopped_known && times.known[before];
    }
  }
  return course;
}

}  // namespace

Course scheduled(const TimelineQuestion& question, const StepTimes& times) {
  const auto waits = waits_of(question);
  Course best = scheduled_with(question, times, waits, 1);
  const auto key = [&](const Course& course) {
    const Duration stopped = course.stopped.value_or(Band{}).expected;
    return question.kind == Kind::emergency ? std::pair(stopped, course.lasts.expected)
                                            : std::pair(course.lasts.expected, stopped);
  };
  // Nobody must send out every crew that there is.
  for (std::int64_t crews = 2; crews <= question.crews; ++crews) {
    Course course = scheduled_with(question, times, waits, crews);
    if (key(course) <= key(best)) best = std::move(course);
  }
  name_crews(question, best.bars);
  mark_critical(best.bars);
  return best;
}

}  // namespace bellhole::plan
