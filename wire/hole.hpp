// The holes and the kit of a plan as documents: `hole` in schema/plan.reply.schema.json.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "plan/plan.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

Json hole_json(const network::Network& network, const plan::ShutoffPlan& plan);

}  // namespace bellhole::wire
