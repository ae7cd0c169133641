// Which fields each kind of element has in a mapping, and how the two odd values are read.
#pragma once

#include <string>
#include <string_view>

#include "findings/trouble.hpp"

namespace bellhole::maps {

/// "mains", "nodes", "valves", "regulators", "taps", "sources", "customers", "features",
/// "fixed_points", "backdrop", "notes".
bool is_kind(std::string_view kind);
std::string kind_list();

/// Whether elements of `kind` have the field ("station" of "valves").
bool is_field(std::string_view kind, std::string_view field);
std::string field_list(std::string_view kind);

/// Whether a pipe code may give the field.
bool is_code_field(std::string_view field);
std::string code_field_list();

/// "1.2 scfh/degF" in std m3/s per kelvin. Errors: those of units::parse, wrong_dimension.
Result<double> parse_slope(std::string_view text, std::string_view where);

}  // namespace bellhole::maps
