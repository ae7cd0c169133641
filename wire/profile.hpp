// Profile documents: "bellhole.profile", version 1. The layout is schema/profile.schema.json and is
// explained in docs/handbook/profiles.md.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "findings/trouble.hpp"
#include "procedure/profile.hpp"

namespace bellhole::wire {

/// Reads a profile and, where it says "extends", lays it over that built-in one. `name` is the
/// file's, for trouble. Errors: too_large, unreadable_document, unknown_profile (extends), and
/// those of procedure::compose; each names profile and row.
Result<procedure::Profile> read_profile(std::string_view bytes, std::string_view name);

/// What a crew is reminded of at every squeeze, whatever the tool.
struct Prompt {
  std::string says, source;
  Evidence evidence = Evidence::common_practice;
};

/// The prompts of a profile document under "prompts"; where it has none, those of the profile that
/// it extends. Errors: as read_profile.
Result<std::vector<Prompt>> read_prompts(std::string_view bytes, std::string_view name);
nlohmann::json prompts_json(const std::vector<Prompt>& prompts);

/// A profile that ships inside Bellhole: "us" or "metric". Errors: unknown_profile.
Result<procedure::Profile> built_in_profile(std::string_view id);

/// The bytes of a built-in profile document; empty for an unknown id.
std::string_view built_in_profile_bytes(std::string_view id);

}  // namespace bellhole::wire
