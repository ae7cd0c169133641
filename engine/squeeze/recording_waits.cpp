// The waits between steps: seen in the points, missing for certain, or not to be told.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "squeeze/recording_work.hpp"

namespace bellhole::squeeze {
namespace {

constexpr double hair = 1e-9;

struct Rules {
  Moved moved;
  std::string_view word, step, pause, speed;
};

/// Movement between two waits that the points show.
struct Run {
  Duration from, to;
  Length from_gap, to_gap;
  [[nodiscard]] Length travel() const {
    return from_gap > to_gap ? from_gap - to_gap : to_gap - from_gap;
  }
};

/// Splits a phase at every stand of `pause` or more.
std::vector<Run> runs(const Judged& judged, const Phase& phase, Duration pause, int& seen) {
  std::vector<Run> found;
  bool open = false;
  const Duration end = phase.began + phase.took;
  for (const RecordedStretch& stretch : judged.stretches) {
    if (stretch.from < phase.began || stretch.to > end) continue;
    const bool waits = stretch.moved == Moved::still &&
                       (stretch.to - stretch.from).si() >= pause.si() * (1.0 - hair);
    if (waits) {
      ++seen;
      open = false;
      continue;
    }
    if (!open) found.push_back({stretch.from, stretch.to, stretch.from_gap, stretch.to_gap});
    open = true;
    found.back().to = stretch.to;
    found.back().to_gap = stretch.to_gap;
  }
  return found;
}

void judge_run(const RecordingWork& work, const Rules& rules, const Run& run, Phase& phase) {
  const Length step = *work.limit<kinds::Length>(rules.step);
  const Duration pause = *work.limit<kinds::Duration>(rules.pause);
  const auto speed = work.limit<kinds::Speed>(rules.speed);
  const int needed = std::max(0, static_cast<int>(std::ceil(run.travel() / step - hair * 1e3)) - 1);
  if (needed == 0) return;
  // Waits that may lie between points: what time is left when the bars go as fast as they may.
  const double spare =
      speed ? (run.to - run.from).si() - (run.travel() / *speed).si() : (run.to - run.from).si();
  const int room = pause.si() > 0.0 ? std::max(0, static_cast<int>(spare / pause.si() + hair)) : 0;
  const int missing = std::max(0, needed - room);
  phase.waits_missing += missing;
  if (missing == 0) {
    work.judged.not_known.push_back(fmt::format(
        "whether the bars waited while {} from {} to {}: no point shows the {} of {} that belong "
        "there",
        rules.word, work.print(run.from_gap), work.print(run.to_gap),
        needed == 1 ? "wait" : fmt::format("{} waits", needed), units::print(pause, work.units)));
    work.add("recording.waits_not_seen", Grade::undecided, work.judged.not_known.back(),
             "ask the crew; take points at the beginning and the end of every wait");
    return;
  }
  Deviation deviation{
      .rule = std::string(rules.pause),
      .says = fmt::format("{} from {} to {} in one go of {:.1f} s: {} of {} {} of {} missing",
                          rules.word, work.print(run.from_gap), work.print(run.to_gap),
                          (run.to - run.from).si(), missing, needed, needed == 1 ? "wait" : "waits",
                          units::print(pause, work.units)),
      .from = run.from,
      .to = run.to,
      .from_gap = run.from_gap,
      .to_gap = run.to_gap,
      .value_si = std::max(0.0, spare / needed),
      .limit_si = pause.si(),
      .unit_si = "s"};
  work.breach(std::move(deviation), "time for each wait, if the bars went as fast as they may",
              "record it as it was; the company's engineer decides what becomes of the pipe");
}

void waits_of(const RecordingWork& work, const Rules& rules, std::optional<Phase>& phase) {
  if (!phase) return;
  const auto step = work.limit<kinds::Length>(rules.step);
  const auto pause = work.limit<kinds::Duration>(rules.pause);
  if (!step || !(step->si() > 0.0) || !pause) return;
  for (const Run& run : runs(work.judged, *phase, *pause, phase->waits_seen))
    judge_run(work, rules, run, *phase);
}

}  // namespace

void judge_waits(const RecordingWork& work) {
  waits_of(work,
           {Moved::closing, "closing", "squeeze.closing_step", "squeeze.closing_pause",
            "squeeze.closing_speed"},
           work.judged.closing);
  waits_of(work,
           {Moved::opening, "opening", "squeeze.opening_step", "squeeze.opening_pause",
            "squeeze.opening_speed"},
           work.judged.opening);
}

}  // namespace bellhole::squeeze
