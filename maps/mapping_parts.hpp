// What the readers of a mapping's parts share. Internal to maps/mapping*.cpp.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>

#include "maps/mapping.hpp"
#include "wire/json.hpp"

namespace bellhole::maps::mapping {

/// Trouble bad_mapping.
std::unexpected<Trouble> bad(std::string where, std::string value, std::string fix);

/// A scalar as the text that the readers of fields understand; true and false are yes and no.
std::optional<std::string> scalar(const wire::Json& json);

/// Reads `layers`; the tiers are known already.
Result<bool> read_layers(const wire::Object& document, Mapping& mapping);

}  // namespace bellhole::maps::mapping
