// What a rehearsal is put together from. Internal to plan/: include rehearse.hpp.
#pragma once

#include <array>
#include <utility>
#include <vector>

#include "plan/rehearse.hpp"

namespace bellhole::plan {

/// The whole plan at the low, the expected and the high draw.
using Courses = std::array<network::Transient, 3>;

/// The samples of a span of time, first and last; the nearest one after it where none lies inside.
std::pair<std::size_t, std::size_t> samples_of(const std::vector<Duration>& times, Duration begins,
                                               Duration ends);

/// Every gauge through time. From when the part is vented down until the first shut-off stands open
/// nothing is read on it: the course does not follow it there.
std::vector<Series> series_of(const RehearseQuestion& question, const Clock& clock,
                              const Courses& courses);

/// Everything that goes wrong, by time. `made` has its clock, times and series.
Result<std::vector<Wrong>> wrong_of(const RehearseQuestion& question, const Rehearsal& made,
                                    const Courses& courses);

/// Rules rehearse.short, rehearse.gauge, rehearse.over_maop, rehearse.no_return, rehearse.time,
/// rehearse.out, rehearse.hunting.
Findings rehearsal_findings(const RehearseQuestion& question, const Rehearsal& made);

}  // namespace bellhole::plan
