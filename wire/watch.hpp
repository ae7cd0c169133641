// The question "watch" as documents. The layouts are schema/watch.request.schema.json and
// schema/watch.reply.schema.json.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "linepack/watch.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// Errors: those of the units, closed.hpp and text_table.hpp; contradiction where two keys say the
/// same thing differently, or readings mix units.
Result<linepack::WatchQuestion> read_watch(const Object& request, units::System system);

/// Everything of an answer but findings and assumptions.
nlohmann::json watch_json(const linepack::Watched& watched, const linepack::WatchQuestion& question,
                          const procedure::Profile& profile, units::System system);

}  // namespace bellhole::wire
