// The state, the audit and the hand-over of a job as reply documents. Layouts:
// schema/job-state.reply.schema.json and its sisters.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string_view>

#include "job/audit.hpp"
#include "job/handover.hpp"
#include "wire/event.hpp"

namespace bellhole::wire {

/// A log document: lines of events of one job, in any order, repeated or not. Errors: the first
/// line that cannot be read; missing_value without any event; contradiction where lines belong to
/// several jobs.
Result<job::Log> read_log(std::string_view bytes, std::string_view name);

Json state_json(const job::Log& log, const job::State& state);
Json audit_json(const job::Audit& audit);
Json handover_json(const job::Handover& handover);

/// What check_file needs of the lines of a file.
std::vector<job::LogLine> log_lines(const std::vector<Line>& lines);
/// The first fault in a file, as it stands in a reply, and all of them.
Json faults_json(const std::vector<job::ChainFault>& faults);
/// Findings of the same.
Findings faults_found(const std::vector<job::ChainFault>& faults, std::string_view name);

/// "device sequence hash": one head a text.
Result<std::vector<job::Head>> read_heads(const std::vector<std::string>& texts,
                                          std::string_view where);
Json heads_json(const std::vector<job::Head>& heads);

}  // namespace bellhole::wire
