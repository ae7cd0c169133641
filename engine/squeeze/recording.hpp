// A recording of one squeeze (time, gap, pump) held against the pace that its sheet allows.
//
// A pace is judged between measured points and nowhere else: between two points only the mean is
// known, so a mean over the limit is a breach for certain, and a mean under it leaves open what
// happened in between. Nothing is smoothed and nothing is rounded away. What cannot be known from
// the points is said.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "findings/trouble.hpp"
#include "squeeze/sheet.hpp"

namespace bellhole::squeeze {

struct RecordedPoint {
  Duration at;  ///< on any clock
  Length gap;   ///< between the bars
  std::optional<GaugePressure> pump;
  std::string where;  ///< "recording, line 4", for trouble
};

struct Recording {
  std::vector<RecordedPoint> points;  ///< in order
  Length read_to;  ///< how near the gap is read: a bar that is that near its stop is on it
  /// Movements under this are taken for noise of the reading; nought: every difference moves.
  Length still_within;
};

enum class Moved { closing, still, opening };

/// Between two points, or of several in a row that stood still.
struct RecordedStretch {
  Moved moved = Moved::still;
  Duration from, to;  ///< since the first point
  Length from_gap, to_gap;
  Speed pace;  ///< mean; nought while still
  bool too_fast = false;
};

/// What was not kept, for certain.
struct Deviation {
  std::string rule;
  std::string says;
  Duration from, to;
  Length from_gap, to_gap;
  double value_si = 0.0, limit_si = 0.0;
  std::string unit_si;
};

/// Closing or opening as a whole, against the timetable for the travel that was recorded.
struct Phase {
  Duration began, took;
  Length travel;
  std::optional<Duration> least_moving;  ///< missing: no speed is set
  std::optional<Duration> least;         ///< with the waits
  int waits_needed = 0;
  int waits_seen = 0;     ///< long enough, between points that show them
  int waits_missing = 0;  ///< for certain: there was no time for them
};

struct Judged {
  std::vector<RecordedStretch> stretches;
  std::vector<Deviation> deviations;
  std::optional<Phase> closing, opening;
  Length least_gap;
  std::optional<GaugePressure> most_pump;
  std::optional<bool> on_the_stops;  ///< missing: no gap to hold it against
  bool at_the_limit = false;         ///< the pump reached the limit of its record
  Duration squeezed;                 ///< at the least gap, until opening begins or the record ends
  std::vector<std::string> not_known;
  Findings findings;
};

/// Holds a recording against the sheet of the same pipe and tool.
/// Errors, naming the line: missing_value (fewer than two points), contradiction (a point not later
/// than the one before), out_of_range (a gap that no squeeze of this pipe has).
Result<Judged> judge(const Recording& recording, const Sheet& sheet, units::System units);

}  // namespace bellhole::squeeze
