#include "squeeze/recording.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "squeeze/recording_work.hpp"

namespace bellhole::squeeze {
namespace {

/// Bars farther apart than this many diameters hold no pipe between them. Not a limit: it catches a
/// gap typed in the wrong unit.
constexpr double widest_diameters = 1.5;

Result<bool> check(const Recording& recording, Length od) {
  const auto& points = recording.points;
  if (points.size() < 2) {
    return trouble(Code::missing_value, points.empty() ? "recording" : points.front().where, "",
                   "a pace needs two points at least: time and gap");
  }
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (i > 0 && !(points[i].at > points[i - 1].at)) {
      return trouble(
          Code::contradiction, points[i].where,
          fmt::format("{:g} s after the first point", (points[i].at - points.front().at).si()),
          "each point must be later than the one before it: put them in order");
    }
    if (!(points[i].gap.si() >= 0.0) || points[i].gap.si() > widest_diameters * od.si()) {
      return trouble(
          Code::out_of_range, points[i].where, fmt::format("gap {:g} m", points[i].gap.si()),
          fmt::format("the pipe is {:g} m outside: correct the gap or its unit", od.si()));
    }
  }
  return true;
}

Moved moved(const Recording& recording, Length from, Length to) {
  constexpr double hair_m = 1e-9;
  const double by = (to - from).si();
  const double still = std::max(recording.still_within.si(), hair_m);
  if (std::abs(by) <= still) return Moved::still;
  return by < 0.0 ? Moved::closing : Moved::opening;
}

void set_stretches(const Recording& recording, Judged& judged) {
  const auto& points = recording.points;
  for (std::size_t i = 1; i < points.size(); ++i) {
    const RecordedPoint &a = points[i - 1], &b = points[i];
    RecordedStretch stretch{.moved = moved(recording, a.gap, b.gap),
                            .from = a.at - points.front().at,
                            .to = b.at - points.front().at,
                            .from_gap = a.gap,
                            .to_gap = b.gap};
    auto& done = judged.stretches;
    if (stretch.moved == Moved::still && !done.empty() && done.back().moved == Moved::still) {
      done.back().to = stretch.to;
      done.back().to_gap = stretch.to_gap;
      continue;
    }
    if (stretch.moved != Moved::still) {
      const double by = std::abs((b.gap - a.gap).si());
      stretch.pace = Length::from_si(by) / (b.at - a.at);
    }
    done.push_back(stretch);
  }
}

/// From the first movement towards the least gap to the least gap, and from the first movement away
/// from it to the last.
void set_phases(Judged& judged) {
  const auto& all = judged.stretches;
  std::size_t least = 0;  // number of stretches before the least gap is reached
  Length gap = all.front().from_gap;
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (all[i].to_gap < gap) {
      gap = all[i].to_gap;
      least = i + 1;
    }
  }
  judged.least_gap = gap;
  const auto phase = [&](std::size_t begin, std::size_t end, Moved which) -> std::optional<Phase> {
    while (begin < end && all[begin].moved != which) ++begin;
    while (end > begin && all[end - 1].moved != which) --end;
    if (begin == end) return std::nullopt;
    Phase made{.began = all[begin].from, .took = all[end - 1].to - all[begin].from};
    const Length from = all[begin].from_gap, to = all[end - 1].to_gap;
    made.travel = from > to ? from - to : to - from;
    return made;
  };
  judged.closing = phase(0, least, Moved::closing);
  judged.opening = phase(least, all.size(), Moved::opening);
  const Duration reached = least == 0 ? all.front().from : all[least - 1].to;
  judged.squeezed = (judged.opening ? judged.opening->began : all.back().to) - reached;
}

}  // namespace

Result<Judged> judge(const Recording& recording, const Sheet& sheet, units::System units) {
  BELLHOLE_TRY(good, check(recording, sheet.pipe.size.od));
  static_cast<void>(good);
  Judged judged;
  set_stretches(recording, judged);
  set_phases(judged);
  for (const RecordedPoint& point : recording.points) {
    if (point.pump) judged.most_pump = std::max(point.pump, judged.most_pump);
  }
  const RecordingWork work{recording, sheet, units, judged};
  judge_paces(work);
  judge_waits(work);
  judge_shut(work);
  say_not_known(work);
  return judged;
}

}  // namespace bellhole::squeeze
