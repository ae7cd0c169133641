// How fast the bars went between the points, and how long the whole took.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "squeeze/recording_work.hpp"

namespace bellhole::squeeze {
namespace {

/// A pace over its limit by the last bits of a conversion is the limit.
constexpr double hair = 1e-9;

constexpr std::string_view to_engineer =
    "record it as it was; the company's engineer decides what becomes of the pipe";

std::string clock(Duration time) { return fmt::format("{:.1f} s", time.si()); }

void pace_of(const RecordingWork& work, Moved which, std::string_view rule, std::string_view word) {
  const auto limit = work.limit<kinds::Speed>(rule);
  if (!limit) return;
  RecordedStretch* worst = nullptr;
  for (RecordedStretch& stretch : work.judged.stretches) {
    if (stretch.moved != which || stretch.pace.si() <= limit->si() * (1.0 + hair)) continue;
    stretch.too_fast = true;
    if (worst == nullptr || stretch.pace > worst->pace) worst = &stretch;
  }
  for (const RecordedStretch& stretch : work.judged.stretches) {
    if (!stretch.too_fast || stretch.moved != which) continue;
    const Length travel = stretch.from_gap > stretch.to_gap ? stretch.from_gap - stretch.to_gap
                                                            : stretch.to_gap - stretch.from_gap;
    Deviation deviation{
        .rule = std::string(rule),
        .says = fmt::format("{} from {} to {} took {}, at {}; at most {}, so {} at the least", word,
                            work.print(stretch.from_gap), work.print(stretch.to_gap),
                            clock(stretch.to - stretch.from),
                            units::print(stretch.pace, work.units, units::Toward::up),
                            units::print(*limit, work.units, units::Toward::down),
                            clock(travel / *limit)),
        .from = stretch.from,
        .to = stretch.to,
        .from_gap = stretch.from_gap,
        .to_gap = stretch.to_gap,
        .value_si = stretch.pace.si(),
        .limit_si = limit->si(),
        .unit_si = "m/s"};
    if (&stretch == worst) {
      work.breach(std::move(deviation), fmt::format("fastest {} between two points", word),
                  std::string(to_engineer));
    } else {
      work.list(std::move(deviation));
    }
  }
}

void least_of(const RecordingWork& work, std::optional<Phase>& phase, std::string_view kind) {
  if (!phase) return;
  const auto speed = work.limit<kinds::Speed>(fmt::format("squeeze.{}_speed", kind));
  const auto step = work.limit<kinds::Length>(fmt::format("squeeze.{}_step", kind));
  const auto pause = work.limit<kinds::Duration>(fmt::format("squeeze.{}_pause", kind));
  if (step && step->si() > 0.0 && pause) {
    const double stretches = std::ceil(phase->travel / *step - 1e-9);
    phase->waits_needed = std::max(0, static_cast<int>(stretches) - 1);
  }
  if (!speed || !(speed->si() > 0.0)) return;
  phase->least_moving = phase->travel / *speed;
  phase->least = *phase->least_moving;
  if (pause) phase->least = *phase->least + *pause * static_cast<double>(phase->waits_needed);
}

}  // namespace

void judge_paces(const RecordingWork& work) {
  least_of(work, work.judged.closing, "closing");
  least_of(work, work.judged.opening, "opening");
  pace_of(work, Moved::closing, "squeeze.closing_speed", "closing");
  pace_of(work, Moved::opening, "squeeze.opening_speed", "opening");
}

const procedure::Row* RecordingWork::row(std::string_view rule) const {
  const auto found = std::ranges::find_if(
      sheet.limits, [&](const procedure::Row& row) { return row.rule->id == rule; });
  return found == sheet.limits.end() ? nullptr : &*found;
}

void RecordingWork::breach(Deviation deviation, std::string quantity, std::string action) const {
  const procedure::Row* used = row(deviation.rule);
  Finding finding;
  finding.rule = deviation.rule;
  finding.grade = used != nullptr ? used->grade : Grade::undecided;
  finding.says = deviation.says;
  finding.quantity = std::move(quantity);
  finding.value_si = deviation.value_si;
  finding.limit_si = deviation.limit_si;
  finding.unit_si = deviation.unit_si;
  finding.source = used != nullptr ? used->source : "";
  finding.evidence = used != nullptr ? used->evidence : Evidence::derived;
  finding.action = std::move(action);
  finding.about = "recording";
  judged.findings.push_back(std::move(finding));
  list(std::move(deviation));
}

void RecordingWork::add(std::string rule, Grade grade, std::string says, std::string action) const {
  Finding finding;
  finding.rule = std::move(rule);
  finding.grade = grade;
  finding.says = std::move(says);
  finding.action = std::move(action);
  finding.source = "the recording";
  finding.evidence = Evidence::entered;
  finding.about = "recording";
  judged.findings.push_back(std::move(finding));
}

std::string RecordingWork::print(Length gap) const {
  return units == units::System::us ? units::print_in(gap, "in", 3) : units::print_in(gap, "mm", 2);
}

}  // namespace bellhole::squeeze
