// Does a network make sense? The first function asks whether the columns fit together, the second
// whether what they say can be true of a gas network.
#pragma once

#include "findings/finding.hpp"
#include "findings/trouble.hpp"
#include "network/columns.hpp"
#include "units/print.hpp"

namespace bellhole::network {

/// How far two records of the same thing may differ before it is said. Common practice, no source:
/// a length taped in the street and a line drawn from it seldom agree better.
struct CheckLimits {
  double length_apart = 0.10;  ///< recorded length against drawn line, fraction of the line
  Length length_apart_least = Length::from_si(3.0);  ///< and never less than this
  Length same_place = Length::from_si(0.05);         ///< nodes nearer than this are at one place
  Length line_end = Length::from_si(0.01);           ///< a line's end may be this far from its node
  double day_mean = 1e-6;                            ///< mean of the 24 hour factors against 1
};

/// Whether the vectors of each table have one length, every index is in range and every line has
/// two points. A network that was read by wire::read_network fits together; one made by code may
/// not. Errors: bad_network naming table and column.
Result<bool> check_columns(const Network& network);

/// What contradicts itself or cannot be, each finding with the ids of the elements in `about`.
/// Values that the map does not give are counted per table, since a map may lack thousands.
/// Sentences print in `system`. REQUIRES check_columns.
///
/// Rules: network.no_source, .unfed, .tier_joined, .zero_length, .length_apart, .line_end,
/// .station_beyond, .same_node, .same_place, .above_maop, .regulator_tap, .regulator_relief,
/// .regulator_tiers, .day_mean, .shape_range, .valve_position, .unknown_<what>, .assumed_on_import.
Findings check(const Network& network, units::System system, const CheckLimits& limits = {});

}  // namespace bellhole::network
