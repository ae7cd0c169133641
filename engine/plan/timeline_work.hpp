// What the files of the timeline share. Internal to plan/: include timeline.hpp.
#pragma once

#include <set>

#include "plan/timeline.hpp"

namespace bellhole::plan {

/// How long each step takes, and what was not set.
struct StepTimes {
  std::vector<Band> takes;  ///< in the order of the steps
  std::vector<bool> known;
  std::set<std::string_view> unset;  ///< kinds
  Findings findings;
  std::vector<std::string> assumed;
};

StepTimes times_of(const TimelineQuestion& question, const restore::Relight& relight);

/// Meters of those out, to be visited. Errors: those of restore::relight.
Result<restore::Relight> relight_of(const TimelineQuestion& question);

/// The steps that each step waits for.
std::vector<std::vector<std::size_t>> waits_of(const TimelineQuestion& question);

/// Whether a step of this kind takes a crew.
bool takes_crew(StepKind kind);

/// Bars, how long it lasts, when the gas is stopped; the rest is left empty.
Course scheduled(const TimelineQuestion& question, const StepTimes& times);

/// Who is out from when to when; empty where no time can be told.
std::vector<Outage> outages_of(const TimelineQuestion& question, const Course& course,
                               const restore::Relight& relight);

/// The question as it would be with a bypass that keeps everybody on who is not on the part.
TimelineQuestion with_bypass(const TimelineQuestion& question);
bool makes_bypass(const TimelineQuestion& question);

GasLost gas_lost(const TimelineQuestion& question, Timeline& out);

/// Rules timeline.unset, timeline.relight, squeeze.hold, notify.customer_hours, notify.customers,
/// notify.must_not_lose, notify.authority.
Findings timeline_findings(const TimelineQuestion& question, const Timeline& out,
                           const StepTimes& times);

}  // namespace bellhole::plan
