// The whole job on a clock: from the first dig to the last customer back, with crews, hold points,
// a band, who is out from when to when, and what one crew more or a bypass would save.
//
// Times of steps. Digging, setting and closing as plan/times.hpp has them; opening at the profile's
// pace; a purge by its way, leg after leg (plan/purge_path.hpp); cooling
// of a joint; shutting meters and relighting by visits (restore/relight.hpp); everything else is
// the profile's steps.time for its kind. A step without a time counts as nothing and is named: an
// undecided finding. steps.time_short and steps.time_long give the ends of the band.
//
// Which step waits for which:
//   - a step waits for those under its `after`, and for the step before it at the same shut-off;
//   - a hold point of the job (not of one shut-off) waits for every step before it, and every step
//     after it waits for it;
//   - openings follow one another; closings too, with their watches, in planned work. In an
//     emergency each shut-off closes as soon as its crew is ready.
// Steps of work on the main take a crew; reports, posts, readings and watches do not; meters have
// technicians of their own. The steps are given out in the order of the list, each to a crew that
// is free when it could begin, else to the one that is free first. Such a list can take longer with
// more crews than with fewer (Graham 1969); then fewer are taken, so that one more crew never makes
// the job longer.
//
// Out. Where meters are shut before the gas, every customer is out from when that begins; else from
// when the first closing begins that leaves him short. He is back at his place in the relight's
// order; the share that nobody opens to is back at the end.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "findings/finding.hpp"
#include "network/steady.hpp"
#include "plan/places.hpp"
#include "plan/step.hpp"
#include "procedure/profile.hpp"
#include "restore/relight.hpp"

namespace bellhole::plan {

using restore::Band;

struct TimelineShutoff {
  std::string letter;
  Place place;  ///< kind, element, pipe, station, squeezes
};

struct CustomerLost {
  restore::Meter meter;
  std::size_t closing = 0;  ///< in the order of closing, the first that leaves him short
};

struct TimelineQuestion {
  const network::Network& network;
  const network::Conditions& conditions;
  const procedure::Profile& profile;
  Kind kind = Kind::planned;
  std::int64_t crews = 1;
  std::vector<TimelineShutoff> shutoffs;
  std::vector<Step> steps;
  std::vector<Piece> part;          ///< that loses its gas
  std::optional<Volume> volume;     ///< of it
  std::optional<StdVolume> held;    ///< by it, beyond 0 gauge
  std::optional<Duration> purging;  ///< PurgePath::time_planned; missing: not known
  std::vector<CustomerLost> out;
  std::optional<std::int64_t> technicians;
  std::optional<restore::Rate> rate;
  std::optional<double> revisits;
  std::optional<std::string> authority;
  units::System system = units::System::us;
};

/// When one step is, since the order.
struct Bar {
  Band begins, ends;
  bool known = true;                     ///< false: no time is set for it
  std::int64_t crew = 0;                 ///< from 1; 0: takes none
  bool critical = false;                 ///< the job is as long as it is because of this one
  std::optional<std::size_t> waits_for;  ///< the step that it began after, last of all
};

struct Hours {
  double shortest = 0.0, expected = 0.0, longest = 0.0;
};

struct Outage {
  std::size_t customer = 0;  ///< index into TimelineQuestion::out
  Duration lost, back;       ///< expected, since the order
  Band lasts;                ///< longest: where nobody opens at the first visit
};

/// One way to do the job.
struct Course {
  std::vector<Bar> bars;         ///< in the order of the steps
  Band lasts;                    ///< until the last step ends
  std::optional<Band> stopped;   ///< until the last closing is done
  bool stopped_known = true;     ///< false: a step up to it has no time set, so it is longer
  std::optional<Band> restored;  ///< until everybody is back; nobody out: missing
  std::optional<Hours> customer_hours;
  std::optional<std::int64_t> crew_s;  ///< work of crews and technicians, rounded up
};

struct Saving {
  std::string by;           ///< "a second crew", "a bypass"
  Duration lasts, stopped;  ///< by how much shorter, expected
  std::optional<double> customer_hours;
  std::size_t customers = 0;  ///< who would not be out
  std::string says;
};

/// Gas that goes to the air: what the part held, and what the purge takes.
struct GasLost {
  std::optional<StdVolume> vented, purged;
  std::optional<double> methane_kg, co2e_kg;
};

struct Timeline {
  Course course;
  std::vector<Outage> outages;  ///< in the order of the relight
  std::optional<restore::Relight> relight;
  std::vector<Saving> savings;
  GasLost gas;
  Findings findings;
  std::vector<std::string> assumed;
};

/// Errors: missing_value (no steps), out_of_range (crews below 1), those of restore::relight.
Result<Timeline> timeline(const TimelineQuestion& question);

/// Methane in a volume of gas, of which it is a share by volume (ideal gas at the base).
double methane_kg(StdVolume gas, double share, const gas::Base& base);

/// The course alone, for comparing plans. Errors: as timeline().
Result<Course> course_of(const TimelineQuestion& question);

/// One plan of several, with the course that it takes.
struct PlanCourse {
  std::int64_t rank = 0;  ///< as the plan was ranked
  std::int64_t must_not_lose = 0;
  std::size_t customers = 0;
  Course course;
  std::optional<std::int64_t> real_rank;  ///< by the times of the steps; missing: not to be told
};

/// Ranks by must-not-lose customers, then by the work of crews and technicians, then as before. The
/// order of `plans` stays. Rule timeline.reranked: where the two orders differ, or where no order
/// can be told.
Findings rank_by_times(std::vector<PlanCourse>& plans);

}  // namespace bellhole::plan
