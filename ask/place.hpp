// Where a request says that the work is.
#pragma once

#include "ask/questions.hpp"
#include "plan/work.hpp"

namespace bellhole::ask {

/// One of the keys "at" (LON,LAT, with "reach"), "pipe" (ID@STATION or ID@FROM:TO), "node",
/// "polygon". Errors: missing_value and contradiction when not exactly one is given;
/// unreadable_value, out_of_range; those of plan::work_….
Result<plan::Work> work_of(const Question& question, const network::Network& network);

/// A place on a main by its text: "M-12@41m", "M-12@135ft:180ft". Errors as work_of.
Result<plan::Work> place_on_pipe(const network::Network& network, const std::string& text,
                                 std::vector<std::string>& assumed);

/// "us" or "metric" under "units"; missing, us.
Result<units::System> units_of(const Question& question);

}  // namespace bellhole::ask
