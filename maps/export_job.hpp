// What a job left in the ground as a map: what was laid and marked, each squeeze, from a reply of
// job-state alone. Degrees of WGS 84, as the devices gave them.
#pragma once

#include <string_view>

#include "maps/export_plan.hpp"

namespace bellhole::maps {

/// WGS 84, longitude first: what devices give.
inline constexpr std::string_view degrees = "EPSG:4326";

/// Reads a reply to the question "job-state"; tables laid and act. Errors: those of
/// wire::parse_json, unreadable_document when it is no such reply.
Result<PlanMap> job_tables(std::string_view bytes, std::string_view name);

/// A reply that can be a map: plan or job-state.
Result<PlanMap> reply_tables(std::string_view bytes, std::string_view name);

}  // namespace bellhole::maps
