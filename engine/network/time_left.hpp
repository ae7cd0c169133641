// How long each customer has gas after something is shut, in the order of falling short; with a
// band of the draw, and corrected by what gauges read meanwhile.
//
// Three courses (transient.hpp) are run from the moment of shutting: the high draw, drawn in full
// to the end, which gives the time to act on; the expected and the low draw, which fall off under
// the least pressures as real ones do. A dip under the least pressure at any moment counts as out.
//
// Gauges. Each reading is asked: by what factor on the expected draw would the network stand at
// this pressure at this moment? Readings that agree narrow the band; the largest factor among them
// rules the time to act on. A factor of a reading never comes from the readings before or after it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "findings/finding.hpp"
#include "network/transient.hpp"

namespace bellhole::network {

/// What a gauge read, after the moment of shutting.
struct Reading {
  Duration at;
  Watched place;
  std::string place_says;  ///< as typed: "N-4"
  GaugePressure pressure;
};

struct TimeQuestion {
  Scenario begins;            ///< before anything is shut; its load is not read
  std::vector<Mover> movers;  ///< from time nought
  std::vector<Switch> switches;
  std::vector<Weather> weather;
  Duration horizon;               ///< who holds so long is not listed
  std::vector<Reading> readings;  ///< ascending
  /// Mains at or under this pressure have no line pack to speak of (rule linepack.low_pressure);
  /// missing: not known, and then nothing is called out at once for its pressure.
  std::optional<GaugePressure> low_pressure = {};
  /// Customers, ascending, whose falling short start_if() does not mind: their meters are shut.
  std::vector<Index> not_asked = {};
};

/// One customer who falls short.
struct CustomerTime {
  Index customer = none;
  Duration shortest;                          ///< at the high draw: the one to act on
  std::optional<Duration> expected, longest;  ///< missing: holds to the horizon
  bool cut_off = false;                       ///< no way is left from any source
  bool at_once = false;  ///< low pressure, or short when time begins: no countdown
  GaugePressure now;     ///< before anything is shut, at the expected draw
  GaugePressure least;   ///< limit; nan: none set
};

/// What one reading says of the draw.
struct ReadingSays {
  GaugePressure expected;        ///< there and then, at the expected draw
  std::optional<double> factor;  ///< on the expected draw; missing: no draw gives this pressure
  bool above = false;            ///< without a factor: higher than with hardly any draw
};

struct TimeLeft {
  std::vector<CustomerTime> order;  ///< by shortest, then by column
  std::size_t cut_off = 0;          ///< customers with a load that no source reaches
  std::vector<ReadingSays> readings;
  /// Factors on the expected draw that the readings give: least, median, most.
  struct Fit {
    double least = 1.0, middle = 1.0, most = 1.0;
  };
  std::optional<Fit> fit;
  GasAccount account;  ///< of the course at the high draw
  double regulators_give = 0.0;
  int steps = 0;
};

/// Errors: those of Model::follow; out_of_range (a reading before the shutting or after the
/// horizon).
Result<TimeLeft> time_left(const Model& model, const TimeQuestion& question, Watch& watch);

/// Rules time.at_once, time.short, time.must_not_lose, time.no_limit, time.reading, time.hunting.
Findings findings(const Model& model, const TimeQuestion& question, const TimeLeft& left,
                  units::System system);

/// How cold the air may get until an hour before somebody who is to stay on falls short at any
/// moment, at the high draw. Customers whom the shutting cuts off are not asked, nor those of
/// TimeQuestion::not_asked.
struct StartIf {
  Duration until;
  /// Nothing: somebody falls short even at the warmest looked at.
  std::optional<Temperature> stays_above;
  bool at_coldest = false;   ///< looking stopped there; not a limit
  Index short_below = none;  ///< who is the first to fall short under it
};
Result<StartIf> start_if(const Model& model, const TimeQuestion& question, Duration until,
                         Watch& watch);

}  // namespace bellhole::network
