// What is wrong with the chain of a log: which event was edited, removed, moved, written twice; and
// which clocks cannot be right. These are facts about the record; what they mean for the work is
// the audit's to say.
#pragma once

#include <string>
#include <vector>

#include "findings/finding.hpp"
#include "job/log.hpp"
#include "procedure/profile.hpp"

namespace bellhole::job {

enum class Broken : std::uint8_t {
  edited,   ///< its bytes are not those that were sealed
  unread,   ///< no event can be read from the line
  removed,  ///< an event that another one names is not there
  moved,    ///< it does not stand where it was written
  doubled,  ///< the same event stands twice
  forked,   ///< two events claim the same place on the same device
  strange,  ///< it belongs to another job
};

struct ChainFault {
  Broken how = Broken::edited;
  std::size_t line = 0;  ///< of the file; 0: none
  std::string says;      ///< names the event by device and number
  Hash event;            ///< empty where only its place is known
};

/// A line of a log file: its event, or why there is none.
struct LogLine {
  std::size_t number = 0;
  std::optional<Event> event;
  std::string why_not;
};

/// Holds a log file against its own chains and, where `heads` are given (from a paper, from a
/// store), against how far each device had come. Answers the faults, those of the file's first
/// lines first. A file is in the order of Log; without `heads` it cannot be told whether events are
/// missing at its end.
std::vector<ChainFault> check_file(const std::vector<LogLine>& lines,
                                   const std::vector<Head>& heads);

/// The same for a log without an order of lines: edited, removed (or not yet arrived), forked.
std::vector<ChainFault> check_log(const Log& log);

/// Clocks that cannot be right, held against the profile's job.clock_error: a wall clock that was
/// set while the device ran (wall against monotonic within one boot), a device that entered an
/// event before one that it had seen, a thing that happened after it was entered. The greatest of
/// each kind a device; without a limit the greatest of all, once.
struct ClockFault {
  Finding finding;
  Hash event;
};
std::vector<ClockFault> check_clocks(const Log& log, const procedure::Profile& profile,
                                     units::System system);

}  // namespace bellhole::job
