// Seeded towns for trying the solver out: small odd ones, and street grids of any size. The same
// seed gives the same town on every machine.
#pragma once

#include <cstdint>

#include "network/steady.hpp"
#include "tests/support/town.hpp"

namespace bellhole::support {

/// Numbers from a seed (SplitMix64: Steele, Lea, Flood 2014).
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed) {}
  std::uint64_t bits();
  double unit();  ///< [0, 1)
  double between(double low, double high) { return low + (high - low) * unit(); }
  int whole(int low, int high);  ///< low … high, both included
  bool chance(double probability) { return unit() < probability; }

 private:
  std::uint64_t state_;
};

/// What may be odd about a small town. All of it is on by default.
struct Oddities {
  bool regulators = true;  ///< several tiers
  bool remote_sensing = true;
  bool reverse = true;  ///< regulators that may pass gas backwards
  bool capacities = true;
  bool hills = true;
  bool starved = true;  ///< loads far beyond what the mains carry
  bool islands = true;
  bool any_size = true;  ///< mains from hair-thin to huge, 10 cm to 20 km
  bool valves = true;
};

/// 2 to 40 nodes in one to three tiers, from hair-thin to huge mains, lengths from 10 cm to 20 km,
/// loads from nought to absurd, sources at equal and at different pressures, rings without flow,
/// islands without a source.
Town odd_town(std::uint64_t seed, const Oddities& oddities = {});

/// An odd town that KINSOL takes too: one tier on level ground, all of it fed, sources of one
/// pressure without limits, customers at the ends of the mains, sizes and lengths as they are laid.
Town plain_town(std::uint64_t seed, bool starved);

/// A town on a street grid with about `pipes` mains of 2 to 8 inches, one customer per 17 m on
/// average, courts, parks, a high-pressure ring, and one regulator station per 3,000 mains or so.
struct GridTown {
  int pipes = 1000;
  std::uint64_t seed = 1;
  double load = 1.0;            ///< times the usual
  bool customers_along = true;  ///< false: lumped at the ends of the mains
  bool stations_feed = false;   ///< true: a source at every station, no feeder
};
Town grid_town(const GridTown& wanted);

/// The part of a town, without regulators and valves, that has gas in a state of it.
Town reached_part(const Town& town, const network::SteadyState& state);

}  // namespace bellhole::support
