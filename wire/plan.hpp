// Plans as a reply document. docs: schema/plan.reply.schema.json.
#pragma once

#include <functional>
#include <nlohmann/json_fwd.hpp>

#include "plan/plan.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// Makes the squeeze sheet of one shut-off; null where it is no squeeze.
using SheetOf = std::function<Json(const plan::Shutoff&)>;

/// work, feeds, before, plans, proof and map of the reply; the question adds what identifies it.
Json plan_reply(const plan::Question& question, const plan::Answer& answer, const SheetOf& sheet);

std::string_view to_string(plan::ShutKind kind);
std::string_view to_string(plan::OutCause cause);
std::string_view to_string(plan::EquipmentKind kind);

}  // namespace bellhole::wire
