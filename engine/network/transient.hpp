// A network through time, slowly: pressures while shut-offs close and open, stations are shut,
// loads follow the hour and the air, gas leaves through holes, and what is cut off drains.
//
// The same laws as the steady state (steady.hpp), and at every point the gas that half of each
// adjoining length of main holds:
//
//   d/dt (volume x density(p)) = flow in - flow out - draw,
//
// isothermal, friction as if settled at every moment, no inertia: right for seconds and longer,
// since sound crosses a kilometre of main in about 2.3 s. Nothing is held in services, which is on
// the safe side for how long the gas lasts. docs/theory/time.md has the laws, the limits and the
// method.
//
// Model::follow (steady.hpp) runs a course.
//
// Where the steady state takes parts without a source out, here they drain. A regulator holds its
// set point, a source its pressure, to 1e-5 of the absolute pressure.
#pragma once

#include <limits>
#include <memory>
#include <optional>
#include <vector>

#include "findings/watch.hpp"
#include "network/escape.hpp"
#include "network/steady.hpp"

namespace bellhole::network {

/// How far a shut-off stands open at a time: the clear distance between the inner walls as a share
/// of the bore. 1 is round, 0 is walls that meet. A valve is taken to close as a squeeze does.
struct Travel {
  Duration at;
  double clear = 1.0;
};

/// A place that is shut or opened over time: straight between its times, before the first as the
/// first says and after the last as the last does. gas/flattened.hpp has the loss; the sharp edge
/// (most loss) is used.
struct Mover {
  Closure place;
  Index valve = none;  ///< instead of a place; its recorded position is then not asked
  std::vector<Travel> travel;
};

enum class SwitchKind : std::uint8_t { regulator, source, meter };

/// Something that is shut or opened at once, by a hand.
struct Switch {
  Duration at;
  SwitchKind kind = SwitchKind::regulator;
  Index element = none;
  bool shut = true;
};

/// Gas that leaves through a hole, or through both ends of a main that is broken through, from one
/// time until another; opening.hpp has the laws, as if the flow were settled at every moment. A
/// main that broke stays parted.
struct Leak {
  Closure place;
  Opening opening;
  Duration from;
  Duration until = Duration::from_si(std::numeric_limits<double>::infinity());
};

/// The air from a time on. Loads follow it; they hold for each whole hour of the day.
struct Weather {
  Duration at;
  Temperature air;
};

/// A place where a pressure is wanted.
struct Watched {
  Index node = none;  ///< one of node, customer, pipe is set
  Index customer = none;
  Index pipe = none;  ///< with `station`
  Length station;
  int toward = 0;  ///< at a place that is shut: -1 on the pipe's `from` side, +1 on `to`
};

enum class Drawing : std::uint8_t {
  falls_off,  ///< under the least pressure customers get less, as in the steady state
  constant,   ///< in full almost down to no pressure: the short end of how long the gas lasts
};

/// What happens.
struct Course {
  Scenario begins;  ///< settled when time begins; its closures stay shut
  std::vector<Mover> movers;
  std::vector<Switch> switches;
  std::vector<Leak> leaks;
  std::vector<Weather> weather;  ///< ascending; before the first the scenario's air
  Duration lasts;
  Drawing drawing = Drawing::falls_off;
  double draw_factor = 1.0;  ///< on every draw, from the beginning on
  /// Instead: the hour of the scenario holds all the time. For how long the gas lasts "now".
  bool hour_stands = false;
  std::vector<Watched> watched;
  Duration sample_every;  ///< of the watched places; nought: only begin and end
  /// Largest error of a step, as a share of the gauge pressure that each place began with.
  double tolerance = 1e-4;
  /// Steps of this length, not more and not fewer (for measuring the order); missing: by the error.
  std::optional<Duration> fixed_step = {};
};

/// Of one customer, while his meter is open: what he draws, if anything, is nought where it is not
/// known.
struct Shortfall {
  std::optional<Duration> first_short;  ///< first moment under the least pressure; missing: never
  GaugePressure lowest;                 ///< and when:
  Duration lowest_at;
};

/// Highest pressure of a tier against its MAOP (nan: none set).
struct Peak {
  Index node = none;
  GaugePressure pressure, limit;
  Duration at;
  std::optional<Duration> first_over;
};

/// What left through an opening. A broken main: both ends together.
struct Leaked {
  Mass lost;
  std::vector<Mass> lost_by;  ///< by each sample
  MassFlow most, flow;        ///< fastest at the end of any step; at the end
};

/// Where the gas went. kg; holds: begun + fed = ended + delivered + escaped, to `imbalance` of
/// (begun + fed).
struct GasAccount {
  Mass begun, ended, fed, delivered, escaped;
  double imbalance = 0.0;
};

struct Transient {
  std::vector<Shortfall> customers;  ///< in the order of the columns; nan and none without a load
  std::vector<Peak> tiers;           ///< highest, in the order of the columns
  std::vector<Duration> sampled;     ///< times of the samples
  std::vector<std::vector<GaugePressure>> pressures;  ///< [watched][sample]
  std::vector<Leaked> leaks;                          ///< in the order of the course
  std::vector<GaugePressure> node_pressure;           ///< at the end
  std::vector<MassFlow> source_flow, regulator_flow;  ///< at the end
  /// First moment that gas passed each regulator backwards, and that it was wide open with its
  /// sensed pressure under the set point.
  std::vector<std::optional<Duration>> reversed, wide_open;
  GasAccount account;
  Duration ended;
  /// Stations that act on each other through next to no gas hunt. They are then let give more: what
  /// they hold may be off the set point by this share of the absolute pressure.
  double regulators_give = 0.0;
  int steps = 0, refused_steps = 0, factors = 0, solves = 0;
};

}  // namespace bellhole::network
