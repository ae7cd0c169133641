// The question "pressure-test" as documents. The layouts are
// schema/pressure-test.request.schema.json and schema/pressure-test.reply.schema.json.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "restore/pressure_test.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// Errors: those of the units, squeeze.hpp and closed.hpp; missing_value without a size or the
/// operating pressure; contradiction where two keys say the same thing differently.
Result<restore::TestQuestion> read_pressure_test(const Object& request, units::System system);

/// Everything of an answer but findings and assumptions.
nlohmann::json pressure_test_json(const restore::Tested& tested,
                                  const restore::TestQuestion& question,
                                  const procedure::Profile& profile, units::System system);

}  // namespace bellhole::wire
