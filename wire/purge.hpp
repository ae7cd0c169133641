// The question "purge" as documents. The layouts are schema/purge.request.schema.json and
// schema/purge.reply.schema.json.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "restore/purge.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// Errors: those of the units and closed.hpp; missing_value without bore or length;
/// unreadable_value for a reading that is not in % gas or % LEL.
Result<restore::PurgeQuestion> read_purge(const Object& request, units::System system);

/// "stack_bore", "stack_height", "stack_loss": a vent stack, or nothing. Errors: missing_value
/// where one of the first two is missing; out_of_range for a loss below nought.
Result<std::optional<restore::PurgeStack>> read_stack(const Object& request);
nlohmann::json stack_json(const std::optional<restore::PurgeStack>& stack);

/// Everything of an answer but findings and assumptions.
nlohmann::json purge_json(const restore::Purged& purged, const restore::PurgeQuestion& question,
                          const procedure::Profile& profile, units::System system);

}  // namespace bellhole::wire
