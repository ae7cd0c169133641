// The audit of a job: every deviation with value, limit, source, time and person. It reads the log
// and the company's profile; paces are judged between the measured points by squeeze/recording and
// nowhere else.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "job/chain.hpp"
#include "job/state.hpp"
#include "squeeze/recording.hpp"

namespace bellhole::job {

struct AuditQuestion {
  const procedure::Profile& profile;
  units::System units = units::System::us;
  Length gap_read_to;  ///< how near a gap is read, where the log does not say
};

struct Deviation {
  Finding finding;
  std::optional<Moment> at;  ///< when it happened; missing: not at one moment
  std::string by;            ///< id of the person; empty: nobody was named
  std::string device;
  Hash event;
};

/// The measured points of one shut-off, judged.
struct JudgedSqueeze {
  std::string letter;
  std::optional<Moment> began;  ///< of the first point
  std::optional<squeeze::Judged> judged;
  std::vector<std::string> assumed;
};

struct Audit {
  std::vector<Deviation> deviations;  ///< worst first, then by time
  std::vector<JudgedSqueeze> squeezes;
  [[nodiscard]] Findings findings() const;
};

/// Audits a log and its state (fold of the same log). Errors: those of squeeze::assess and of
/// squeeze::judge, naming the shut-off.
Result<Audit> audit(const Log& log, const State& state, const AuditQuestion& question);

}  // namespace bellhole::job
