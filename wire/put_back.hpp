// What a plan's way back takes, in its document: "putting_back", and the lines that belong to its
// steps.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "plan/put_back.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// Adds "putting_back" to one plan of a reply, and "numbers" to each of its steps.
void put_back_into(Json& plan, const network::Network& network, const plan::PutBack& back);

}  // namespace bellhole::wire
