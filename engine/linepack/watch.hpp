// How long a gauge on a closed length of main must be watched before a needle that stands still
// means anything, and what may then be concluded.
//
// A closed length full of gas holds a needle with nothing behind it: it falls by draw x base
// pressure / volume, and until that fall is larger than what the gauge can show, a steady needle
// says nothing. One of three questions is asked, and the answer names it:
//
//   fed_elsewhere    Customers draw from a part that was shut off on one side. A steady gauge means
//                    that gas comes in, once the part would have had to fall visibly without.
//   shut_off_tight   A vented section between shut-offs, vent shut, services shut. A steady gauge
//                    means that no more than a stated flow passes the shut-offs.
//   all_meters_shut  A sector that holds pressure with everything shut. A steady gauge means that
//                    nothing draws more than a stated flow.
//
// The flow that must show is the least one: the low draw; for shut_off_tight the let-by that must
// be seen less what services may still draw, since they hide it. The high draw rules the time left.
// Barometer and temperature can hide a fall (or a rise); what they can fake is added to what the
// needle must move:
//
//   t = (steps x step + faked) / (rate at the least flow - rate of what is faked)
//
//   faked: barometer change + p T'/T for a change T' of the gas's temperature (p absolute).
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "findings/finding.hpp"
#include "findings/trouble.hpp"
#include "linepack/drain.hpp"
#include "linepack/readings.hpp"
#include "procedure/profile.hpp"
#include "units/print.hpp"

namespace bellhole::linepack {

enum class Asks { fed_elsewhere, shut_off_tight, all_meters_shut };

/// The question in words: "is this part fed from elsewhere?"
std::string_view words(Asks asks);

struct Gauge {
  PressureDifference step;  ///< smallest division that is read
  int steps = 2;            ///< divisions that the needle must move before it counts as moved
  bool steps_given = false;
  std::optional<std::pair<GaugePressure, GaugePressure>> range;  ///< of the dial
};

/// What can move the needle besides gas. Amounts over the whole watch, and rates; missing: not
/// given, counted as none and said.
struct Drift {
  std::optional<PressureDifference> barometer;
  std::optional<PressureRate> barometer_rate;
  std::optional<TemperatureDifference> temperature;
  std::optional<double> temperature_k_per_s;
};

struct WatchQuestion {
  Asks asks = Asks::fed_elsewhere;
  Closed closed;
  GaugePressure pressure;
  /// What customers draw; for all_meters_shut what one thing left open would draw; for
  /// shut_off_tight what services on the section may still draw.
  std::optional<Draw> draw;
  std::optional<StdFlow> let_by;  ///< shut_off_tight: what must be seen; missing: the profile's
  Gauge gauge;
  Drift drift;
  std::optional<GaugePressure> floor;
  std::optional<Duration> within;  ///< how long there is to watch
  std::vector<Reading> readings;   ///< in order; may be empty
};

/// What the needle should do by a time, if nothing comes in (out, for shut_off_tight).
struct Expected {
  Duration at;
  GaugePressure at_low, at_high;  ///< at the least and at the most flow
};

/// A time and the smallest flow that this gauge shows in it, or the step that it needs.
struct Shows {
  Duration in;
  StdFlow flow;
};
struct Finer {
  PressureDifference step;
  Duration watch;
};

struct Band {
  PressureRate low, high;
};

/// Missing values cannot be told; a finding says why.
struct Watched {
  std::optional<StdFlow> least;  ///< flow that must show
  std::optional<StdFlow> most;   ///< flow that may move the needle at the most
  std::optional<Band> fall;      ///< at the low and at the high draw
  std::optional<Band> rise;      ///< shut_off_tight: at the let-by less the draw
  PressureDifference must_move;  ///< steps x step + faked over the watch
  PressureDifference faked;      ///< by barometer and temperature over the watch
  std::optional<Duration> watch;
  std::optional<Drained> left;  ///< where a floor is given
  std::vector<Expected> expect;
  std::vector<Shows> shows;
  std::vector<Finer> finer;
  std::optional<PressureDifference> step_needed;  ///< to be through `within`
  std::optional<Judged> judged;                   ///< of the readings
  std::string says;
  std::vector<std::string> not_concluded;  ///< what may not be concluded, whatever the needle does
  Findings findings;
  std::vector<std::string> assumed;
};

/// Errors: out_of_range (volume, draw, step, a step above the pressure that could only fall),
/// contradiction (readings out of order, a pressure beyond the dial or apart from the first
/// reading), missing_value (a draw where the question needs one).
Result<Watched> watch(const WatchQuestion& question, const procedure::Profile& profile,
                      units::System system);

}  // namespace bellhole::linepack
