// A plan as a map: its shut-offs, the isolated part, the customers out and the mains around, from
// the reply document alone.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "findings/trouble.hpp"
#include "maps/tables.hpp"

namespace bellhole::maps {

struct PlanMap {
  std::string crs;               ///< "EPSG:32630"
  double lon = 0.0, lat = 0.0;   ///< of the work
  std::vector<OutTable> tables;  ///< work, shutoff, isolated, customer_out, main, remark
};

/// Reads a reply to the question "plan". Errors: those of wire::parse_json, unreadable_document
/// when it is no such reply; `name` names the file.
Result<PlanMap> plan_tables(std::string_view bytes, std::string_view name);

}  // namespace bellhole::maps
