// How long until a squeeze holds, from the order: find the main, dig, set the tool, close at the
// profile's pace. Rules plan.time_locate, plan.time_dig (by surface and depth), plan.time_set (by
// size), squeeze.closing_speed, squeeze.closing_step, squeeze.closing_pause.
#pragma once

#include "network/columns.hpp"
#include "plan/costs.hpp"
#include "plan/main_facts.hpp"
#include "procedure/profile.hpp"

namespace bellhole::plan {

/// The conditions of rows about digging on a main: those of the main, its surface and its cover.
procedure::Case case_of_dig(const network::Network& network, network::Index pipe,
                            procedure::Case in);

/// The parts of one squeeze, in seconds; nan where the profile leaves one unset, which is a finding
/// of `costs`. Closing as time_of_squeeze().
struct SqueezeTimes {
  double locate = 0.0, dig = 0.0, set = 0.0, close = 0.0;
};
SqueezeTimes squeeze_times(const network::Network& network, const procedure::Profile& profile,
                           network::Index pipe, const procedure::Case& in, Costs& costs);

/// Seconds for `count` squeezes in one hole; nan where the profile leaves a part of it unset, which
/// is a finding of `costs`. Closing is reckoned until the thinnest walls meet; where the ratio is
/// not known, over the whole diameter, which is longer.
double time_of_squeeze(const network::Network& network, const procedure::Profile& profile,
                       network::Index pipe, int count, const procedure::Case& in, Costs& costs);

}  // namespace bellhole::plan
