// A plan rehearsed: its steps on a clock, with the day's air, through the network in time.
//
// The steps are those of a plan on paper (wire/rehearse.hpp reads it). Each gets a begin and an end
// (the clock); shut-offs close and open at the pace of their squeeze sheets; network/transient.hpp
// follows low, expected and high draw. What comes out: what each posted gauge should read at every
// moment, where and when something goes wrong, and until when each closing can still be undone.
//
// The clock. One step after the other. A shut-off closes no sooner than its crew is ready: what the
// plan says from the order until it is shut, shared out over the crews in the order of closing. A
// step's time is what the question says of it; else that of its movement; else the profile's
// steps.time for its kind, or the watch that it is a hold point for where that is longer. A step
// that has none counts as nothing and is listed: an undecided finding.
//
// What goes wrong. A customer who is to stay on and is under the least pressure for a moment; a
// tier over its MAOP anywhere; a gauge outside the limits of its step. Each once, where it begins.
// Customers whom the plan puts out are counted, not listed.
//
// Undoing. After each closing, as if nobody went on: the high draw in full, until somebody who is
// to stay on falls short. Undoing must begin before that, by the time that it takes.
//
// An opening blows from the first step until the first shut-off opens again, by when it is mended.
// How much it passes is known between two ends: the high and the expected draw meet the one that
// passes most, which leaves the least pressure, the low draw the one that passes least.
//
// Not in it: a bypass, gas that relit customers draw, and the part itself from venting until the
// first shut-off stands open.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "findings/watch.hpp"
#include "network/transient.hpp"
#include "plan/places.hpp"
#include "plan/step.hpp"
#include "procedure/profile.hpp"
#include "squeeze/pace.hpp"
#include "units/print.hpp"

namespace bellhole::plan {

/// A shut-off of a plan on paper.
struct ScriptShutoff {
  std::string letter;
  Place place;       ///< kind, element, pipe, station, and from the order until it is shut
  std::string says;  ///< "squeeze main M-12 at 407.9 ft"
  /// From nought, at the pace of its sheet; empty where no sheet says how.
  std::vector<network::Travel> closing, opening;
};

/// How far open a squeeze stands as its bars keep a timetable. `wall` is the thickest that it may
/// be: it shuts first and opens last.
std::vector<network::Travel> travel_of(const std::vector<squeeze::Stretch>& pace, Length od,
                                       Length wall);

/// A plan on paper, laid on a network.
struct Script {
  Kind kind = Kind::planned;
  std::int64_t crews = 1;
  std::vector<ScriptShutoff> shutoffs;
  std::vector<GaugePoint> points;
  std::vector<Step> steps;               ///< `about` of a closing or opening is a letter
  std::vector<network::Index> out;       ///< customers whom the plan puts out, ascending
  std::optional<network::Closure> work;  ///< where the work is; missing: a node or an area
  bool bypass = false;
};

/// Times of steps, by id ("cut", "shut-A") or by kind.
using Takes = std::map<std::string, Duration, std::less<>>;

/// An opening at the work, by what may be known of its edge. A full bore passes the same twice.
struct Blows {
  network::Opening least, most;
};

struct RehearseQuestion {
  const network::Model& model;
  const procedure::Profile& profile;
  const Script& script;
  network::Scenario begins;               ///< air and hour when the first step begins
  std::vector<network::Weather> weather;  ///< the air from then on
  Takes takes;
  Duration looks_ahead;             ///< how long each closing is followed as if nobody went on
  std::optional<Blows> blows = {};  ///< needs Script::work
  units::System system = units::System::us;
};

struct TimedStep {
  Duration begins, ends;
  bool known = true;  ///< false: no time is set for it
};

/// When each step is, in the order of Script::steps, from the beginning of the first.
struct Clock {
  std::vector<TimedStep> steps;
  std::vector<std::size_t> closing, opening;  ///< the steps that move a shut-off, in order
  std::vector<std::size_t> without_time;      ///< steps, from the first closing to the last opening
  std::vector<std::size_t> not_ready;  ///< closings whose shut-off has no time until it is ready
  [[nodiscard]] Duration ends() const { return steps.empty() ? Duration{} : steps.back().ends; }
};

Clock clock_of(const Script& script, const procedure::Profile& profile, const Takes& takes);

/// Index of the shut-off that a step is about; nothing for others.
std::optional<std::size_t> shutoff_of(const Script& script, const Step& step);

/// Everything of a script that moves: the first `closings` closings (by Clock::closing), with the
/// openings or without them.
struct Movements {
  std::vector<network::Mover> movers;
  std::vector<network::Switch> switches;
};
Movements movements(const Script& script, const Clock& clock, std::size_t closings, bool opened);

/// All closings and no opening, on a clock that begins with the first; nobody's meter is shut.
Movements movements_from_first(const Script& script, const Clock& clock);

/// The hour of the day at a moment.
double hour_of(Duration at, double begins_hour);

/// The scenario with the first `closings` shut-offs shut.
network::Scenario shut_after(const Script& script, const Clock& clock, network::Scenario begins,
                             std::size_t closings);

/// One gauge through time, at the draws; nan: nothing is read there (vented, no gas).
struct Series {
  std::size_t point = 0;
  std::vector<double> low_draw, expected, high_draw;  ///< Pa gauge
};

enum class WrongKind : std::uint8_t {
  customer_short,  ///< who is to stay on, under the least pressure
  over_maop,       ///< somewhere in a tier
  gauge_low,       ///< under the low limit of its step
  gauge_high,      ///< over the high limit of its step
};

struct Wrong {
  WrongKind kind = WrongKind::customer_short;
  Duration at;
  std::optional<std::size_t> step;  ///< in hand at that moment
  network::LoadCase draw = network::LoadCase::high;
  network::Index customer = network::none;  ///< of customer_short
  network::Index node = network::none;      ///< of over_maop
  std::optional<std::size_t> point;         ///< of a gauge
  GaugePressure pressure;                   ///< lowest or highest that it comes to
  GaugePressure limit;                      ///< nan: none set
  bool at_once = false;                     ///< low pressure and cut off: no countdown
};

/// What a gauge should show during a step: the ends over low, expected and high draw, and the
/// expected draw at its end. nan where nothing is read.
struct Expected {
  GaugePressure least, most, at_end;
};

/// After a closing, as if nobody went on. Who was short before the first closing began does not
/// count: opening again brings nobody back.
struct WayBackOnClock {
  std::size_t step = 0, shutoff = 0;
  Duration shut;                     ///< it is shut
  std::optional<Duration> undo;      ///< that undoing takes, by the plan
  std::optional<Duration> short_at;  ///< first who is to stay on; missing: not in what was
                                     ///< looked at
  network::Index customer = network::none;
  std::optional<Duration> latest;  ///< undoing must have begun; before `shut`: no way back
  bool no_return = false;
};

/// What has left through the opening by each sample: the least (high draw, the opening that passes
/// least) and the most (low draw, the one that passes most).
struct Lost {
  std::vector<double> least, most;  ///< kg
  std::size_t all_shut = 0;         ///< the sample at which the last shut-off is shut, or after
};

struct Rehearsal {
  Clock clock;
  Duration lasts;                               ///< of the course: some time beyond the last step
  std::vector<Duration> times;                  ///< of the samples
  std::vector<Series> series;                   ///< in the order of Script::points
  std::vector<std::vector<Expected>> expected;  ///< [step][gauge of the step]
  std::vector<Wrong> wrong;                     ///< by time
  std::vector<WayBackOnClock> ways;
  std::size_t out_as_planned = 0;     ///< customers of the plan who fall short
  std::optional<Duration> first_out;  ///< the first of them
  std::optional<Lost> lost;           ///< where something blows and something is shut
  double regulators_give = 0.0;
  Findings findings;
};

/// Errors: those of Model::follow.
Result<Rehearsal> rehearse(const RehearseQuestion& question, Watch& watch);

/// Which samples to keep so that straight lines between them miss no curve by more than `within`
/// (Pa), nor the highest or lowest value of one by more than a hundredth of that; the first and the
/// last too.
std::vector<std::size_t> thinned(const std::vector<Duration>& times,
                                 const std::vector<const std::vector<double>*>& curves,
                                 double within);

/// "14:32" of a moment, from the hour at which the first step begins; with "+1 d" past midnight.
std::string clock_words(Duration at, double begins_hour);

}  // namespace bellhole::plan
