// What it costs to shut an edge or to lose a vertex.
//
// Costs are integers, so that the answer is the same on every machine. A caller that ranks
// lexicographically (must-not-lose customers first, then crew-seconds) packs both into one Cost:
// (count << 40) + seconds.
#pragma once

#include <cstdint>

namespace bellhole::isolate {

using Vertex = std::int32_t;
using EdgeIndex = std::int32_t;
using Cost = std::int64_t;

/// An edge that cannot be shut, or a vertex that may not be lost. Never summed into a finite total:
/// the finite costs of one question together stay below it, which is checked on the way in.
inline constexpr Cost forbidden = std::int64_t{1} << 62;

/// Sum of two costs in [0, forbidden]; never more than `forbidden`.
constexpr Cost plus(Cost a, Cost b) { return a >= forbidden - b ? forbidden : a + b; }

}  // namespace bellhole::isolate
