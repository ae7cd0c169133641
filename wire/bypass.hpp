// Bypasses as a reply document: schema/bypass.reply.schema.json.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "plan/bypass.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// needed, says, without, bypasses.
Json bypass_reply(const plan::BypassQuestion& question, const plan::Bypasses& answer);

}  // namespace bellhole::wire
