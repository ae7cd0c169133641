// What a plan leans on that somebody should look at: repairs and assumptions of the import on the
// elements that it touches, and closed valves that keep gas out of the part.
#pragma once

#include "findings/finding.hpp"
#include "plan/evaluate.hpp"
#include "plan/work.hpp"

namespace bellhole::plan {

/// One finding for each rule of the import that touched a main, valve or customer of the plan:
/// those on the part, those shut, those worked on. Open questions about which mains are joined are
/// undecided, assumed values a warning, the rest a remark.
Findings import_notes(const network::Network& network, const Places& places,
                      const isolate::Cut& cut, const Work& work);

/// Valves recorded closed with the part on one side and gas on the other: the plan relies on them
/// and nobody shuts them that day. Rule plan.closed_valve: a warning, undecided where nothing says
/// that they hold.
Findings closed_valves(const network::Network& network, const Places& places,
                       const isolate::Cut& cut);

}  // namespace bellhole::plan
