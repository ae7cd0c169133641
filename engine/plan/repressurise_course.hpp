// The course of putting gas back, built up end by end. Internal to plan/.
#pragma once

#include "network/transient.hpp"
#include "plan/regions.hpp"
#include "plan/repressurise.hpp"

namespace bellhole::plan {

/// How one end opens, on a clock of its own: a squeeze by the profile's pace, a valve by the time
/// it takes to turn; at once where neither is set.
struct Opens {
  std::vector<network::Travel> travel;  ///< from shut to open; empty: an outlet, by hand at once
  bool paced = true;                    ///< by a limit that is set
};
Opens opens(const RefillQuestion& question, const PartEnd& end);

/// What gas meets when an end is opened, the ends before it open already.
struct Meets {
  bool fills = false;   ///< mains without gas; else, gas on both sides or on neither
  bool gas = false;     ///< on both sides
  double volume = 0.0;  ///< m3, of the mains that it fills
};

/// With every end shut: the scenario, its regions and its state.
struct AllShut {
  const network::Scenario& scenario;
  const Regions& regions;
  const network::SteadyState& state;
};

/// Of each end in the order of opening.
std::vector<Meets> meetings(const network::Network& network, const Part& part,
                            const AllShut& before, const std::vector<std::size_t>& order);

/// A small opening before the end is opened.
struct Throttle {
  double share = 0.0;  ///< of the bore
  StdFlow flow;        ///< into an empty part
  Duration from;       ///< when it is set
};

/// When each end begins to open, and how it is throttled before.
struct Openings {
  std::vector<std::size_t> order;                 ///< of Part::ends
  std::vector<Duration> begins;                   ///< of the ends that are opened
  std::vector<std::optional<Throttle>> throttle;  ///< of those, and of the next where it fills
  Duration lasts;
};

/// The gauges: live and part side of every end, in the order of Part::ends.
std::vector<network::Watched> gauges_of(const network::Network& network, const Part& part,
                                        const AllShut& before);

/// Per region: gas stands in it.
std::vector<char> regions_with_gas(const AllShut& before);

network::Course course_of(const RefillQuestion& question, const network::Scenario& shut,
                          const std::vector<network::Watched>& watched, const Openings& opening);

/// An end whose gauges stand still without reading alike.
struct StillApart {
  std::size_t end = 0;    ///< of Part::ends
  PressureDifference by;  ///< the side with gas less that of the part
};

/// What was followed, for what is said of it.
struct RefillRun {
  const RefillQuestion& asked;
  const RefillQuestion& q;  ///< the same on a copy of the network with a node at the work
  const network::Transient& run;
  const std::vector<std::size_t>& order;  ///< of Part::ends, as they open
  const std::vector<Meets>& meets;        ///< in that order
  const std::vector<StillApart>& not_alike;
};

/// Adds findings, cautions, what is taken for granted, and the sentence. REQUIRES: the rest is in.
void say_refill(const RefillRun& run, Refill& out);

}  // namespace bellhole::plan
