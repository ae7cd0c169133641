// The question "timeline" as documents. docs: schema/timeline.request.schema.json, .reply.
#pragma once

#include <vector>

#include "plan/timeline.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// Everything of an answer but what identifies it, findings and assumptions.
Json timeline_json(const plan::TimelineQuestion& question, const plan::Timeline& timeline,
                   const std::vector<plan::PlanCourse>& plans, units::System system);

}  // namespace bellhole::wire
