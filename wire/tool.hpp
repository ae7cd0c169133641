// Tool documents: "bellhole.tools", version 1: the company's squeeze tools with their stops, stops
// kept apart from a tool, pumps, and how many of each there are. The layout is
// schema/tools.schema.json.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>
#include <vector>

#include "findings/trouble.hpp"
#include "squeeze/tool.hpp"

namespace bellhole::wire {

using Tools = squeeze::Kit;

/// Errors: too_large, unreadable_document; bad_tool for a value that no tool can have (a ram area
/// of nought, a stop without a gap, fewer owned than stand on the truck) or an id that stands
/// twice; each names the tool, stop or pump.
Result<Tools> read_tools(std::string_view bytes, std::string_view name,
                         std::vector<std::string>* assumed);

/// The tool with this id; the only one where `id` is empty. Errors: bad_tool, listing the ids.
Result<squeeze::Tool> tool_named(const Tools& tools, std::string_view id, std::string_view where);

/// "S-8-11@1.098in". Errors: unreadable_value, bad_tool.
Result<squeeze::Stop> read_stop_text(std::string_view text, std::string_view where);

/// What a reply says of a tool.
nlohmann::json tool_json(const squeeze::Tool& tool);

}  // namespace bellhole::wire
