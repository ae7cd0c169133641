// How fast the bars may go: a timetable in gap, clock, and strokes or turns of the tool.
//
// Times are the shortest that the profile's speeds and pauses allow. Slower is always allowed.
#pragma once

#include <optional>
#include <vector>

#include "units/quantity.hpp"

namespace bellhole::squeeze {

/// One stretch of moving, and the wait after it.
struct Stretch {
  Length from, to;        ///< gap between the bars
  Duration starts, ends;  ///< on a clock that starts with the first movement
  Duration wait;          ///< before the next stretch; nought after the last
};

/// A mark to pass not earlier than `at`.
struct Mark {
  Length gap;
  Length travelled;
  Duration at;
  std::optional<double> count;  ///< pump strokes or screw turns made by then
};

struct Timetable {
  Length travel;
  Speed speed;
  Duration moving;  ///< without the waits
  Duration with_waits;
  std::vector<Stretch> stretches;
  std::vector<Mark> marks;
  std::optional<Duration> per_count;  ///< shortest time for one stroke or turn
};

struct PaceQuestion {
  Length from, to;                  ///< gap at the start and at the end; closing when to < from
  Speed speed;                      ///< REQUIRES: > 0
  std::optional<Length> step;       ///< longest stretch; missing: one stretch
  std::optional<Duration> pause;    ///< between stretches; missing: none
  Length mark_every;                ///< REQUIRES: > 0
  std::optional<Length> per_count;  ///< bar travel of one stroke or turn
};

Timetable timetable(const PaceQuestion& question);

}  // namespace bellhole::squeeze
