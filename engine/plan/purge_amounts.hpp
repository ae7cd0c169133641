// Speeds, times, mixing and pressures of the legs of a purge. Internal to plan/.
#pragma once

#include "plan/purge_path.hpp"

namespace bellhole::plan {

Volume volume_of(Length bore, Length length);

/// Fills in every leg from its runs, and adds what the profile leaves open.
void find_amounts(const PurgePathQuestion& question, PurgePath& path);

/// The network with the flow of a leg drawn beside its feeding end, on the side that has gas
/// (`live`: +1 toward the main's `to`): pressure there and who falls short only then. `before` is
/// the state without.
Result<bool> hold_of(const PurgePathQuestion& question, const network::Scenario& shut,
                     const network::SteadyState& before, const PartEnd& end, int live,
                     PurgeLeg& leg);

}  // namespace bellhole::plan
