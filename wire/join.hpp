// The question "join" as documents. The layouts are schema/join.request.schema.json and
// schema/join.reply.schema.json.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "restore/join.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// Errors: those of read_pipe; unreadable_value for a kind that is none.
Result<restore::JoinQuestion> read_join(const Object& request);

/// Everything of an answer but findings and assumptions.
nlohmann::json join_json(const restore::Joined& joined, const restore::JoinQuestion& question,
                         const procedure::Profile& profile, units::System system);

}  // namespace bellhole::wire
