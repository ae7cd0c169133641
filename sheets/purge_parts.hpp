// Legs and services of a purge, on its own sheet and in a run sheet.
#pragma once

#include <string>
#include <vector>

#include "sheets/flow.hpp"
#include "sheets/reply.hpp"
#include "units/print.hpp"

namespace bellhole::sheets {

/// "a rider valve": what a leg is fed through.
std::string feed_words(const std::string& feed);

/// A block a leg with room for its readings.
void set_legs(Flow& flow, const std::vector<Reply>& legs, units::System system);

/// A box a service; nothing where there are none.
void set_services(Flow& flow, const std::vector<Reply>& services);

}  // namespace bellhole::sheets
