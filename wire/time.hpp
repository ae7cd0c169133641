// Times until customers fall short, as documents. docs: schema/time-left.reply.schema.json.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>

#include "network/time_left.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// customers, cut_off, first, readings, fit, account, says.
Json time_reply(const network::Model& model, const network::TimeQuestion& question,
                const network::TimeLeft& left, units::System system);

/// until_s, stays_above_k, at_coldest, short_below, says.
Json start_reply(const network::Network& network, const network::StartIf& start,
                 units::System system, std::string_view until);

}  // namespace bellhole::wire
