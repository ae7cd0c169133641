// The question "purge" of a plan as a document: the legs and services of its way. The layout is
// schema/purge.reply.schema.json.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "plan/purge_path.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// legs, services, volume, says and cautions.
nlohmann::json purge_path_json(const network::Network& network, const plan::Part& part,
                               const plan::PurgePath& path);

}  // namespace bellhole::wire
