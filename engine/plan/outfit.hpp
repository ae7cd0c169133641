// The squeeze sheets of a plan: every squeeze assessed on the pipe as the map has it, with the tool
// of the company's that finds the least against it and is free for it.
#pragma once

#include <optional>

#include "plan/plan.hpp"
#include "squeeze/sheet.hpp"

namespace bellhole::plan {

/// The main at a shut-off as the map has it. A grade in no table stays unknown, which never passes.
squeeze::Found found_on_map(const network::Network& network, const Shutoff& shutoff,
                            const pipe::Size& size);

/// Half-width of the widest tool; nothing where none records one.
std::optional<Length> widest_half_width(const squeeze::Kit& kit);

/// Fills the sheets of the plan's squeezes, its kit and its holes, and adds what they find.
void outfit(const Question& question, const Places& places, const isolate::Cut& cut,
            ShutoffPlan& plan);

}  // namespace bellhole::plan
