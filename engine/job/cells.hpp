// What an event says something of, so that two that say different things of the same can be found.
// Internal to job/.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "job/state.hpp"

namespace bellhole::job {

struct Cell {
  std::string about;  ///< "step squeeze-A", "pipe at A"
  std::string says;
};
/// Nothing for facts that stand beside each other: readings, notes, photographs.
std::optional<Cell> cell_of(const AnyFact& fact);

/// Cells in which events that did not know of each other say different things, and that no later
/// event, which knew them, settles. `counts` gives the fact that counts for an event, or null.
std::vector<Conflict> conflicts_in(const Log& log,
                                   const std::function<const Fact*(const Event&)>& counts);

}  // namespace bellhole::job
