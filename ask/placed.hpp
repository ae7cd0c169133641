// Shut-offs that a request places by hand.
#pragma once

#include <vector>

#include "ask/questions.hpp"
#include "plan/places.hpp"

namespace bellhole::ask {

/// The texts under "shut_offs", each "MEANS PIPE@STATION", then what is known of it as key=value:
/// "plug M-12@41m cost=4h time=90min pressure_most=60psig". MEANS is plug, bag, cap or other.
/// Errors: unreadable_value; those of place_on_pipe; contradiction for one that lies in the work,
/// on a valve or where another already is.
Result<std::vector<plan::HandPlaced>> placed_of(const Question& question,
                                                const network::Network& network,
                                                const plan::Work& work);

}  // namespace bellhole::ask
