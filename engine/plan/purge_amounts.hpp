// Speeds, times, mixing and pressures of the legs of a purge, and what its way gives to say.
// Internal to plan/.
#pragma once

#include "plan/purge_graph.hpp"
#include "plan/purge_path.hpp"

namespace bellhole::plan {

Volume volume_of(Length bore, Length length);

/// Fills in every leg from its runs, and adds what the profile leaves open.
void find_amounts(const PurgePathQuestion& question, PurgePath& path);

/// The network with the flow of a leg drawn at a place that has gas: pressure there and who falls
/// short only then. `before` is the state without.
Result<bool> hold_of(const PurgePathQuestion& question, const network::Scenario& shut,
                     const network::SteadyState& before, network::Index pipe, Length station,
                     PurgeLeg& leg);

/// A main that has gas at both its ends, and the vent between.
struct PurgeLoop {
  std::string main, vent;
};

/// Adds the findings and what is taken for granted. REQUIRES: all amounts are in.
void say_way(const PurgePathQuestion& question, const PurgeGraph& graph,
             const std::vector<PurgeLoop>& loops, PurgePath& path);

}  // namespace bellhole::plan
