// What the files of the relight share.
#pragma once

#include "restore/relight.hpp"

namespace bellhole::restore {

/// Fills both sides of the list of shut meters and its counts.
void compare_sets(const RelightQuestion& question, Relight& out);

/// Fills visits and streets: order, rounds and places.
void order_visits(const RelightQuestion& question, Relight& out);

/// Rules relight.set, relight.walked, relight.held, relight.sector, relight.early, relight.first,
/// relight.reset, relight.left_shut, relight.technicians.
Findings relight_findings(const RelightQuestion& question, const Relight& out,
                          units::System system);

}  // namespace bellhole::restore
