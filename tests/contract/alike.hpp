// When two replies are alike. The same rule stands in alike.mjs for the WebAssembly engine.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

namespace bellhole::contract {

/// Numbers agree to this part of the larger of the two …
inline constexpr double relative = 1e-9;
/// … or to this about zero, in SI.
inline constexpr double about_zero = 1e-12;

/// Every place where `got` is not what was `wanted`: "close.shortest_s: wanted 225.8, got 220.1".
std::vector<std::string> differences(const nlohmann::json& wanted, const nlohmann::json& got);

}  // namespace bellhole::contract
