// The question "repressurise" as a document. The layout is schema/repressurise.reply.schema.json.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "plan/repressurise.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// Everything of an answer but what identifies it, findings and assumptions.
nlohmann::json repressurise_json(const network::Network& network, const plan::Part& part,
                                 const plan::Refill& refill, units::System system);

}  // namespace bellhole::wire
