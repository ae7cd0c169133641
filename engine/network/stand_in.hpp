// A place along a main that gets a pressure of its own: a customer who draws nothing by himself.
//
// Internal to network/.
#pragma once

#include "network/columns.hpp"

namespace bellhole::network {

/// How far from a break its `to` side stands: a customer at the very station of a shut place, or
/// within a centimetre of it, counts as before it.
inline constexpr double beside_m = 0.02;

/// Pressure down to which a stand-in draws in full; under it the air's is as good as reached.
inline constexpr auto hardly_any = GaugePressure::from_si(1.0);

/// Appended to the customers; answers its index.
Index stand_in(Customers& customers, Index pipe, Length station);

}  // namespace bellhole::network
