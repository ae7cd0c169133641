// The parts of a record on paper. Internal to sheets/.
#pragma once

#include "sheets/flow.hpp"
#include "sheets/parts.hpp"
#include "sheets/reply.hpp"

namespace bellhole::sheets {

/// What the parts read: state and audit, and the units of the paper.
struct RecordPart {
  Flow& flow;
  Reply state, audit, handover;
  units::System system;
};

/// "10:41:07 P-7", or only the clock; dates are in the timeline.
std::string stamp_words(const Reply& said);
/// The local date and clock of a moment as written.
std::string moment_words(const std::string& moment);

void set_record_head(const RecordPart& part, const std::string& title);
/// The worst grade with its sign, and how many findings there are of each.
void set_found(const RecordPart& part);
void set_deviations(const RecordPart& part);
void set_plan(const RecordPart& part);
void set_steps(const RecordPart& part);
void set_squeezes(const RecordPart& part, bool alone);
void set_readings(const RecordPart& part);
void set_people(const RecordPart& part);
void set_tests(const RecordPart& part);
void set_purges(const RecordPart& part);
void set_outage(const RecordPart& part);
void set_laid(const RecordPart& part);
void set_chain(const RecordPart& part);
void set_handover(const RecordPart& part);

}  // namespace bellhole::sheets
