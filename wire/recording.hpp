// A recording of a squeeze as documents: keys of the question "pace".
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>

#include "squeeze/recording.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// "recording" (a table of text: time, gap, pump pressure) or "points" ("0s 4.5in 200psi"), with
/// "gap_read_to" and "still_within"; nothing where neither is given. Errors: those of
/// text_table.hpp, naming the line; contradiction when both are given.
Result<std::optional<squeeze::Recording>> read_recording(const Object& request,
                                                         units::System units);

/// How near a gap is read where nobody says.
Length gap_read_to(units::System units);

/// Everything of a judgement but its findings.
nlohmann::json recording_json(const squeeze::Judged& judged);

}  // namespace bellhole::wire
