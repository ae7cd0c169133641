// The way of a purge through the part: which end feeds it first, where the air leaves, in which
// order dead ends, branches and services follow, and whether the network still holds meanwhile.
//
// Air leaves at the work. From each end with gas behind it one leg runs along the shortest way to
// the vent at the work; no leg ever runs toward an end with gas behind it, so none pushes air
// toward customers. What is still air then is filled from the legs: a way to an end without gas
// behind it, a branch, a stub each has a vent of its own at its far end. A loop takes gas from both
// its sides and would shut air in: it has a vent where the two ways are alike, which somebody must
// make (purge.loop). Services come last, nearest first. Work that lies in parts of its own, with
// shut-offs between, has a way for each.
//
// The end that feeds first is the one that can be throttled and shut quickest: a bypass, then a
// rider valve, a valve or a station's outlet, and last a squeeze; among equals the one with the
// most pressure behind it.
//
// One flow runs along a leg: the one that gives the widest of its mains the least speed
// (restore/purge.hpp), or the speed asked for. Mixing adds up over the mains as variances of gas
// volume. The inlet pressure is the stack's and what the mains lose (restore/purge_stack.hpp).
//
// The network holds if nobody who is on falls short at the high load while the purge draws its flow
// beside the feeding end; that state is solved for each leg that an end feeds. Behind the outlet of
// a station the draw stands at its inlet.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "findings/watch.hpp"
#include "plan/part.hpp"
#include "restore/purge.hpp"

namespace bellhole::plan {

enum class Feed : std::uint8_t {
  bypass,
  rider,
  valve,    ///< the end itself, a valve or an outlet
  squeeze,  ///< the end itself, opened a little
  filled,   ///< from a leg before it
};
std::string_view words(Feed feed);

/// A length of main on a leg, in the direction of the gas.
struct PurgeRun {
  network::Index pipe = network::none;
  Length from, to;  ///< stations
  Length bore;
};

struct PurgeLeg {
  Feed feed = Feed::filled;
  std::optional<std::size_t> end;  ///< of Part::ends, that feeds it
  std::string from, vent;          ///< in words
  std::vector<PurgeRun> runs;
  Length length;
  Volume volume;
  Length widest;               ///< bore that the flow is chosen by
  std::optional<Speed> speed;  ///< in it; missing: none is set, none was asked for
  double flow_m3_per_s = 0.0;  ///< in the mains, at their pressure
  std::optional<Duration> time, time_planned;
  std::optional<Length> mixing, flammable;  ///< at its end, in the last main
  std::optional<StdVolume> slug_gas, gas_used, gas_lost;
  std::optional<GaugePressure> foot, inlet;
  std::optional<GaugePressure> before,
      purging;                               ///< beside the feeding end, high load; missing: none
  std::vector<network::Index> short_of_gas;  ///< who falls short only while it purges
};

/// A service on the part, to be purged after the mains.
struct PurgeService {
  network::Index customer = network::none;
  Length away;  ///< along the mains from the first leg's feed
};

struct PurgePath {
  std::vector<PurgeLeg> legs;  ///< in order
  std::vector<PurgeService> services;
  Volume volume;                         ///< of all that holds air
  std::optional<Duration> time_planned;  ///< all legs, one after the other; missing: not known
  std::string says;
  std::vector<std::string> cautions;
  Findings findings;
  std::vector<std::string> assumed;
};

struct PurgePathQuestion {
  const network::Model& model;
  const procedure::Profile& profile;
  network::Scenario conditions;  ///< air and hour; nothing of the work is shut
  const Part& part;
  std::optional<Speed> speed = {};  ///< in the widest main of each leg; missing: the least
  std::optional<restore::PurgeStack> stack = {};
  units::System system = units::System::us;
  bool solve = true;  ///< whether the network is asked if it holds
};

/// Errors: those of Model::solve; of Model::prepare where the network is asked.
Result<PurgePath> purge_path(const PurgePathQuestion& question);

}  // namespace bellhole::plan
