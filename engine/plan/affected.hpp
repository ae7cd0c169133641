// Who is short of gas at any moment of a plan: the states between its closings and openings, each
// settled, at the high load.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "findings/watch.hpp"
#include "network/steady.hpp"

namespace bellhole::plan {

struct Affected {
  network::Index customer = network::none;
  std::size_t stage = 0;  ///< the first state in which it is short or out, index into the stages
  bool out = false;       ///< cut off from every source there; else connected and short
};

/// Customers who are short or out in any of the stages, ascending; those short in `before` already
/// are among them only where they are out. The stages' load is taken as high. Customers without
/// load (Scenario::without_load) are not told. Errors: cancelled, those of Model::solve.
Result<std::vector<Affected>> affected(const network::Model& model, const network::Scenario& before,
                                       std::span<const network::Scenario> stages, Watch& watch);

}  // namespace bellhole::plan
