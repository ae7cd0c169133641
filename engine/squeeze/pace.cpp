#include "squeeze/pace.hpp"

#include <algorithm>
#include <cmath>

namespace bellhole::squeeze {
namespace {

/// A mark at the end of a stretch is reached before the wait that follows.
constexpr double hair_m = 1e-12;

/// How many stretches of `step` cover `travel`; a remainder of the last bits is not another
/// stretch.
int count_of(Length travel, Length step) {
  constexpr double hair = 1e-9;
  return std::max(1, static_cast<int>(std::ceil(travel / step - hair)));
}

/// When the bars have travelled `distance` at the earliest, the waits before it included.
Duration reached(const Timetable& table, Length distance) {
  Length done;
  for (const Stretch& stretch : table.stretches) {
    const Length here =
        stretch.from > stretch.to ? stretch.from - stretch.to : stretch.to - stretch.from;
    if (distance.si() <= (done + here).si() + hair_m)
      return stretch.starts + (distance - done) / table.speed;
    done = done + here;
  }
  return table.with_waits;
}

}  // namespace

Timetable timetable(const PaceQuestion& question) {
  Timetable table;
  const bool closing = question.to < question.from;
  const auto gap_at = [&](Length travelled) {
    return closing ? question.from - travelled : question.from + travelled;
  };
  table.travel = closing ? question.from - question.to : question.to - question.from;
  table.speed = question.speed;
  table.moving = table.travel / question.speed;

  const Length step = question.step && question.step->si() > 0.0 ? *question.step : table.travel;
  const int stretches = step.si() > 0.0 ? count_of(table.travel, step) : 0;
  const Duration pause = question.pause.value_or(Duration());
  Duration clock;
  for (int i = 0; i < stretches; ++i) {
    const bool last = i + 1 == stretches;
    const Length begin = step * static_cast<double>(i);
    const Length end = last ? table.travel : step * static_cast<double>(i + 1);
    Stretch stretch{.from = gap_at(begin), .to = last ? question.to : gap_at(end), .starts = clock};
    stretch.ends = clock + (end - begin) / question.speed;
    stretch.wait = last ? Duration() : pause;
    clock = stretch.ends + stretch.wait;
    table.stretches.push_back(stretch);
  }
  table.with_waits = clock;

  const int marks = table.travel.si() > 0.0 ? count_of(table.travel, question.mark_every) : 0;
  for (int i = 0; i <= marks; ++i) {
    const Length travelled =
        i == marks ? table.travel : question.mark_every * static_cast<double>(i);
    Mark mark{.gap = i == marks ? question.to : gap_at(travelled),
              .travelled = travelled,
              .at = i == marks ? table.with_waits : reached(table, travelled),
              .count = std::nullopt};
    if (question.per_count) mark.count = travelled / *question.per_count;
    table.marks.push_back(mark);
  }
  if (question.per_count) table.per_count = *question.per_count / question.speed;
  return table;
}

}  // namespace bellhole::squeeze
