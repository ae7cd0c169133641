// A plan on paper laid on a network for a rehearsal, and the rehearsal as a document. docs:
// schema/rehearse.reply.schema.json.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string_view>

#include "plan/rehearse.hpp"
#include "wire/plan_given.hpp"

namespace bellhole::wire {

/// The script of one plan of a document: shut-offs with the pace of their squeeze sheets, gauges
/// where they hang, steps. `bytes` are those that `reply` was read from, `at` is the plan's place
/// in it. Errors: unknown_element (the network has no such main); missing_value (a plan without
/// steps or places of gauges: made by an older version), naming the place.
Result<plan::Script> read_script(std::string_view bytes, std::string_view name,
                                 const PlanReply& reply, std::size_t at,
                                 const network::Network& network);

/// clock, steps, gauges, series, wrong, ways_back, says.
Json rehearsal_reply(const plan::RehearseQuestion& question, const plan::Rehearsal& made);

/// What left through the opening by the last closing and after, and by time; null where nothing
/// blows or nothing is shut. `goes_on`: a source still reaches it.
Json lost_reply(const plan::RehearseQuestion& question, const plan::Rehearsal& made, bool goes_on);

/// conditions: air, its course, hour, procedure.
void put_rehearsal_conditions(Json& reply, const plan::RehearseQuestion& question);

}  // namespace bellhole::wire
