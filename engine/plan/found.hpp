// What a crew found of a main, laid over the map. The map itself is never edited: this is done to
// the copy that one question is answered on.
#pragma once

#include <string>

#include "findings/trouble.hpp"
#include "network/columns.hpp"
#include "squeeze/sheet.hpp"

namespace bellhole::plan {

/// Takes the whole main as found, from end to end, since nobody saw where it changes: size, ratio,
/// bore between the nominal walls (or the measured ones), material, year, lining. What was not
/// found stays as the map has it; a ratio of another size does not stay. Answers the sentence that
/// says all this. Errors: those of walls_by_ratio and walls_measured.
Result<std::string> lay_over(network::Network& network, network::Index pipe,
                             const squeeze::Found& found);

}  // namespace bellhole::plan
