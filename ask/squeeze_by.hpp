// "squeeze" with or without a solver beside it, so that an engine for the phone need not carry one.
#pragma once

#include <vector>

#include "ask/questions.hpp"
#include "flatten/pipe_run.hpp"

namespace bellhole::ask {

/// Computes a closing in three dimensions.
using Compute = Result<std::vector<flatten::Sample>> (*)(const flatten::PipeRun&, Watch&, Lanes&);

/// `compute` null: a request for `full` is refused.
Answer squeeze_by(const Question& question, Compute compute);

}  // namespace bellhole::ask
