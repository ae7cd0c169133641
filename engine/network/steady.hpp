// The steady state of a network: pressures and flows when everything has settled, for one air
// temperature, hour, load and set of shut places. docs/theory/flow.md has the laws and the reasons.
//
// One residual: mass balance at every node and customer, the pipe law (gas/pipe_law.hpp) along
// every length of main, elevation, regulators with the place where they feel their pressure,
// sources, and delivery that falls off under a customer's least pressure. Customers stand exactly
// where they stand along a main: a shut place parts the customers before it from those behind it
// (one at the very station of a shut place counts as before it, one at the end of a pipe as at the
// node).
//
// Three outcomes. `solved`: everybody who is connected gets the full load. `cannot_carry`: a
// converged solution in which some connected customers get less, which says who and how much.
// Anything else is trouble `bug`. A customer with no path from any source is *out*; that is no
// shortfall.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "findings/finding.hpp"
#include "findings/trouble.hpp"
#include "findings/watch.hpp"
#include "gas/gas.hpp"
#include "gas/pipe_law.hpp"
#include "network/columns.hpp"
#include "units/print.hpp"

namespace bellhole::network {

enum class LoadCase : std::uint8_t { low, expected, high };

/// A place where a main is shut: by a squeeze, a plug, a bag, a valve that the map does not know.
struct Closure {
  Index pipe = none;
  Length station;
};

struct ValveSetting {
  Index valve = none;
  Position position = Position::closed;
};

/// What is asked of the network. Empty lists mean: as recorded.
struct Scenario {
  Temperature air;    ///< sets the loads and the weight of the air
  double hour = 7.0;  ///< of the day, [0, 24); a load holds for its whole hour
  LoadCase load = LoadCase::expected;
  std::vector<Closure> closures;
  std::vector<ValveSetting> valves;    ///< these valves stand otherwise than recorded
  std::vector<Index> regulators_shut;  ///< station outlets shut by hand
  std::vector<Index> sources_shut;
  std::vector<std::uint8_t> without_load;  ///< one per customer, 1: draws nothing; empty: all draw
};

/// What holds for every scenario of a prepared model.
struct Conditions {
  gas::Gas gas;
  Temperature ground;  ///< of the flowing gas; warmer is the unsafe side (drops more)
  gas::Law law = gas::Law::general;
  /// A customer for whom neither the map nor the tier gives a least pressure is taken to draw in
  /// full down to this pressure and less below it. It stands in for physics, not for a limit: no
  /// such customer is ever said to hold, the answer reads "no limit set: decide".
  GaugePressure falls_off_without_limit = GaugePressure::from_si(1000.0);
};

enum class Outcome : std::uint8_t { solved, cannot_carry };

/// At both ends of a pipe, positive from `from` to `to`. They differ by what the customers in
/// between draw; at a parted pipe each end has its own.
struct PipeFlow {
  MassFlow at_from, at_to;
  bool parted = false;
};

enum class RegulatorMode : std::uint8_t {
  controls,   ///< holds its set point
  wide_open,  ///< passes all it can and the sensed pressure is below the set point
  closed,     ///< sensed pressure at or above the set point, nothing passes
  reverse,    ///< passes gas from its outlet to its inlet
  shut,       ///< shut by hand in this scenario
  out,        ///< no gas on either side
};

struct RegulatorState {
  RegulatorMode mode = RegulatorMode::out;
  MassFlow flow;                ///< inlet to outlet; negative in reverse
  GaugePressure inlet, outlet;  ///< nan without gas
  GaugePressure sensed;         ///< at the sensing point; nan without gas
  bool sensing_parted =
      false;  ///< no main leads from the outlet to the sensing point: it feels something else
};

struct SourceState {
  MassFlow flow;
  bool at_capacity = false;
};

/// A pressure somewhere against a limit.
struct Extreme {
  Index node = none;  ///< one of node, customer is set
  Index customer = none;
  GaugePressure pressure;
  GaugePressure limit;  ///< nan: none set
};

/// Of one tier, the place nearest to (or furthest beyond) its limit; where no limit is set, the
/// lowest and the highest pressure.
struct TierState {
  std::optional<Extreme> lowest, highest;
};

struct SteadyState {
  Outcome outcome = Outcome::solved;
  gas::Law law = gas::Law::general;
  std::vector<GaugePressure> node_pressure;  ///< nan: no gas (out)
  std::vector<PipeFlow> pipes;
  std::vector<RegulatorState> regulators;
  std::vector<SourceState> sources;
  std::vector<GaugePressure> customer_pressure;  ///< at the main; nan: out
  std::vector<GaugePressure> customer_least;     ///< own, else the tier's; nan: no limit set
  std::vector<StdFlow> wanted, delivered;        ///< per customer; wanted is 0 for one without load
  std::vector<Index> customers_out;              ///< no path from any source, ascending
  std::vector<Index> customers_short;  ///< connected, but under their least pressure, ascending
  std::vector<TierState> tiers;
  MassFlow into_network;  ///< sum over the sources
  /// Regulators that act on each other through next to no main, or feel what another one feeds, may
  /// have no state in which all hold. They are then let give more (their outlet may differ from the
  /// set point by this share of the absolute pressure), and where even that finds none, held to
  /// their own outlets instead. Both are said.
  double regulators_give = 0.0;
  bool held_to_own_outlets = false;
  // How well it was solved.
  int iterations = 0;
  double mass_imbalance = 0.0;        ///< largest, of a node, against the sum of all loads
  double pressure_residual_pa = 0.0;  ///< largest, of a pipe's law
  std::shared_ptr<const struct Settled> settled;  ///< for starting from this state again; opaque
};

/// A network prepared for many scenarios. Copies share what was prepared. `network` must outlive
/// the model.
class Model {
 public:
  /// Errors: bad_network (lengths, bores, indices that cannot be), no_source.
  static Result<Model> prepare(const Network& network, const Conditions& conditions);

  /// Solves one scenario. `near`, the state of a similar scenario of the same model, makes it
  /// faster and changes nothing beyond the tolerance. May be called from several lanes at once.
  /// Errors: unknown_element (an index that is not there), out_of_range (a station beyond its pipe,
  /// an hour, a temperature outside -90 … +60 degC), bug (not solved).
  [[nodiscard]] Result<SteadyState> solve(const Scenario& scenario,
                                          const SteadyState* near = nullptr) const;

  /// The state where everybody who is connected gets the full load; nothing where somebody falls
  /// short. Quicker than solve() when it is only asked whether the network carries the load.
  /// Errors: as solve().
  [[nodiscard]] Result<std::optional<SteadyState>> solve_if_carried(
      const Scenario& scenario, const SteadyState* near = nullptr) const;

  /// The network through time (transient.hpp). `settled`, where given, is the state of what the
  /// course begins with and saves solving it. Errors: as solve(); out_of_range (times that run
  /// backwards, a clear share outside 0 … 1), cancelled.
  [[nodiscard]] Result<struct Transient> follow(const struct Course& course, Watch& watch,
                                                const SteadyState* settled = nullptr) const;

  /// Per customer: 1 where some way is left from a source, 0 where not. Errors: as solve().
  [[nodiscard]] Result<std::vector<char>> reached(const Scenario& scenario) const;

  [[nodiscard]] const Network& network() const;
  [[nodiscard]] const Conditions& conditions() const;

  struct Prepared;

 private:
  explicit Model(std::shared_ptr<const Prepared> prepared) : prepared_(std::move(prepared)) {}
  std::shared_ptr<const Prepared> prepared_;
};

/// Tier of a main: that of its `from` node, else of its `to` node, else none.
Index tier_of_pipe(const Network& network, Index pipe);

/// Least pressure at the main for a customer: its own, else that of its main's tier, else nan.
GaugePressure least_of_customer(const Network& network, Index customer);

/// What each customer draws, in the order of the columns.
std::vector<StdFlow> loads(const Network& network, const Scenario& scenario);

/// What the state and the map give to say: customers short or out, least pressure and MAOP by tier,
/// regulators wide open or in reverse, sensing points unknown or dead, limits and capacities that
/// are not set, valves of unknown position. Rules are listed in docs/rules.md under "network.".
Findings findings(const Model& model, const Scenario& scenario, const SteadyState& state,
                  units::System system);

/// How cold it may get before a connected customer falls short, everything else as in the scenario.
struct LimitTemperature {
  Temperature coldest_looked_at, warmest_looked_at;
  /// Nobody falls short from here up to warmest_looked_at. Nothing: somebody falls short even at
  /// the warmest.
  std::optional<Temperature> holds_down_to;
  bool holds_at_coldest = false;  ///< holds_down_to is where looking stopped, not a limit
};

/// Walks down from the warm end in steps and halves the first step in which somebody falls short,
/// to 0.05 K: right even where a colder hour is not a harder one. `low` and `high` bound the air
/// temperature.
Result<LimitTemperature> limit_temperature(const Model& model, const Scenario& scenario,
                                           Temperature low = Temperature::from_si(233.15),
                                           Temperature high = Temperature::from_si(303.15));

}  // namespace bellhole::network
