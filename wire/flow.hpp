// Steady states and feeds as reply documents. docs: schema/flow.reply.schema.json,
// schema/feeds.reply.schema.json.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>

#include "network/feeds.hpp"
#include "network/steady.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// outcome, law, nodes, pipes, regulators, sources, short, out, tiers, lowest_pressure,
/// highest_pressure.
Json flow_reply(const network::Model& model, const network::SteadyState& state);

/// limit_temperature_k and limit_temperature_says; null for what cannot be told.
void put_limit(Json& json, const std::optional<network::LimitTemperature>& limit,
               units::System system);

/// sides, fed_sides, sources.
Json feeds_reply(const network::Network& network, const network::Feeds& feeds);

}  // namespace bellhole::wire
