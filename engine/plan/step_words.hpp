// Words of steps: what stands for the names in braces of an order's texts.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "plan/plan.hpp"
#include "plan/step.hpp"

namespace bellhole::plan {

/// A name of an order's texts and what stands for it.
using Values = std::vector<std::pair<std::string_view, std::string>>;

/// Names that hold for the whole job; `bypass` is why one is made or not.
Values job_values(const Question& question, const ShutoffPlan& plan, const StepList& list,
                  const std::string& bypass);

/// Names of one shut-off; `tool` may be null. `left` says how much gas still comes.
Values shutoff_values(const Question& question, const Shutoff& shutoff, const squeeze::Tool* tool,
                      const std::string& left);

Values post_values(const Post& post);

/// "Still about 45 % of the gas.", rounded up; after the last closing, that nothing should come.
std::string left_words(const StepList& list, const std::vector<StageNumbers>& numbers,
                       std::size_t stage);

}  // namespace bellhole::plan
