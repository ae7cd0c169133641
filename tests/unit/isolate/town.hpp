// Made-up towns for the outside reference and the bench: seeded, the same on every platform.
//
// A street grid of 90 m. Every 32nd street carries 8 in, every 16th 6 in, every 8th 4 in, the
// others 2 in; a quarter of the 2 in and a twentieth of the 4 in stretches are missing, and a tenth
// of the quarters of 4 by 4 blocks are parks. A stretch is one to three pipes; a quarter to a third
// of the nodes carry a dead-end court of one to three pipes. A station stands at nine in ten
// crossings of 8 in streets. One customer to every 17 m of main.
#pragma once

#include <cstdint>
#include <vector>

#include "sketch.hpp"

namespace bellhole::isolate::test {

struct TownPlan {
  int streets = 33;  ///< each way
  unsigned seed = 1;
  Cost unit = 1;  ///< of all costs: a customer costs one unit, a valve two, squeezes 10 to 100
  int must_not_lose = 0;  ///< one node in so many carries 2^40 more; 0: none
  /// Two places on each pipe instead of one, with a vertex between them that carries its customers.
  bool halves = false;
};

struct Town {
  Sketch sketch;
  /// By pipe, the work of a question about it: both its ends, so that the whole pipe is lost; with
  /// `halves` its middle, so that it may be shut on either side.
  std::vector<std::vector<Vertex>> work;
};

Town grid_town(const TownPlan& plan);

/// Twin mains with rungs from one station to the next, and villages that hang on them by one or two
/// feeds, with cul-de-sac loops: most questions leave a pocket at first. About 24 pipes to a
/// village.
Town pocket_town(int villages, unsigned seed, Cost unit);

}  // namespace bellhole::isolate::test
