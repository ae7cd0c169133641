// The question "watch" as documents. The layouts are schema/watch.request.schema.json and
// schema/watch.reply.schema.json.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string_view>

#include "linepack/watch.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// Errors: those of the units, closed.hpp and text_table.hpp; contradiction where two keys say the
/// same thing differently, or readings mix units.
Result<linepack::WatchQuestion> read_watch(const Object& request, units::System system);

/// The word of a question in documents: "fed_elsewhere".
std::string_view asks_word(linepack::Asks asks);

/// Everything of an answer but findings and assumptions.
nlohmann::json watch_json(const linepack::Watched& watched, const linepack::WatchQuestion& question,
                          const procedure::Profile& profile, units::System system);

}  // namespace bellhole::wire
