// Whether the bars came onto the stops, what the pump did, how long the pipe was held, and what the
// points leave open.
#include <fmt/format.h>

#include "squeeze/recording_work.hpp"

namespace bellhole::squeeze {
namespace {

/// A pump read at its limit but for the last bits of a conversion is at it.
constexpr double hair = 1e-6;

bool at_limit(const RecordingWork& work, const RecordedPoint& point) {
  const auto limit = work.sheet.tool ? work.sheet.tool->pump_limit : std::nullopt;
  return limit && point.pump && point.pump->si() >= limit->si() * (1.0 - hair);
}

bool short_of(const RecordingWork& work, Length gap) {
  return work.sheet.gap && gap > *work.sheet.gap + work.recording.read_to;
}

/// The wait at the pump's limit before it is pumped again.
void judge_relaxation(const RecordingWork& work) {
  constexpr std::string_view rule = "squeeze.relaxation_wait";
  const auto wait = work.limit<kinds::Duration>(rule);
  const auto& points = work.recording.points;
  if (!wait) return;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (!at_limit(work, points[i]) || !short_of(work, points[i].gap)) continue;
    std::size_t next = i + 1;
    while (next < points.size() && !(points[next].gap < points[i].gap - work.recording.read_to))
      ++next;
    if (next == points.size()) return;
    const Duration waited = points[next].at - points[i].at;
    if (waited >= *wait) return;
    work.breach({.rule = std::string(rule),
                 .says = fmt::format("at the pump's limit with a gap of {}, the bars went on after "
                                     "{:.1f} s; at least {}",
                                     work.print(points[i].gap), waited.si(),
                                     units::print(*wait, work.units)),
                 .from = points[i].at - points.front().at,
                 .to = points[next].at - points.front().at,
                 .from_gap = points[i].gap,
                 .to_gap = points[next].gap,
                 .value_si = waited.si(),
                 .limit_si = wait->si(),
                 .unit_si = "s"},
                "wait at the pump's limit", "record it as it was; the engineer decides");
    return;
  }
}

void judge_hold(const RecordingWork& work) {
  const auto most = work.sheet.hold_most;
  const Judged& judged = work.judged;
  if (!most || judged.squeezed <= *most) return;
  const Duration began = judged.closing ? judged.closing->began + judged.closing->took : Duration();
  work.breach({.rule = "squeeze.hold",
               .says = fmt::format("held squeezed for {}; at most {}",
                                   units::print(judged.squeezed, work.units),
                                   units::print(*most, work.units)),
               .from = began,
               .to = began + judged.squeezed,
               .from_gap = judged.least_gap,
               .to_gap = judged.least_gap,
               .value_si = judged.squeezed.si(),
               .limit_si = most->si(),
               .unit_si = "s"},
              "time squeezed",
              "record it as it was; the engineer decides what becomes of the pipe");
}

}  // namespace

void judge_shut(const RecordingWork& work) {
  Judged& judged = work.judged;
  for (const RecordedPoint& point : work.recording.points)
    judged.at_the_limit = judged.at_the_limit || at_limit(work, point);
  if (work.sheet.gap) judged.on_the_stops = !short_of(work, judged.least_gap);
  if (judged.on_the_stops == false) {
    work.add(
        "recording.not_shut", Grade::halt,
        fmt::format("not shut: {}the least gap recorded is {}, and the stops keep {}",
                    judged.at_the_limit ? "the pump reached its limit, " : "",
                    work.print(judged.least_gap), work.print(*work.sheet.gap)),
        "do not cut; wait, pump up again, and if the stops are still not reached find out why");
  } else if (work.sheet.gap && judged.least_gap < *work.sheet.gap - work.recording.read_to) {
    work.add("recording.below_stop", Grade::warn,
             fmt::format("the least gap recorded is {}, and the stops keep {}: squeezed further "
                         "than the stop allows, or another stop was in the tool",
                         work.print(judged.least_gap), work.print(*work.sheet.gap)),
             "look at the stop that was used; the engineer decides what becomes of the pipe");
  }
  judge_relaxation(work);
  judge_hold(work);
}

void say_not_known(const RecordingWork& work) {
  Judged& judged = work.judged;
  auto& list = judged.not_known;
  list.emplace_back(
      "what happened between two points: a mean pace within the limit may hide a faster one");
  const Length od = work.sheet.pipe.size.od;
  const Length first = work.recording.points.front().gap, last = work.recording.points.back().gap;
  if (judged.closing && first < od - work.recording.read_to) {
    list.push_back(
        fmt::format("how it was closed down to {}, where the recording begins", work.print(first)));
  }
  if (judged.opening && last < od - work.recording.read_to)
    list.push_back(
        fmt::format("how it was opened from {}, where the recording ends", work.print(last)));
  if (!judged.opening) list.emplace_back("how it was opened: the recording ends before");
  if (!judged.closing) list.emplace_back("how it was closed: the recording begins after");
  if (!judged.most_pump) {
    list.emplace_back("what the pump did: no pump pressure was recorded");
  } else if (!work.sheet.tool || !work.sheet.tool->pump_limit) {
    list.emplace_back("whether the pump was at its limit: no record of the tool gives it");
  }
}

}  // namespace bellhole::squeeze
