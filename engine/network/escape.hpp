// Gas that escapes from a main: through a hole, or from the open ends of a main that is broken
// through, limited by the mains that feed it.
//
// Each feeding length follows gas/open_end.hpp: isothermal, with the kinetic term that
// network/steady.hpp leaves out, and with the choke of the main itself.
//
// A hole and a main are never added: the hole sees the pressure that the main leaves it.
#pragma once

#include <optional>
#include <vector>

#include "gas/gas.hpp"
#include "gas/open_end.hpp"
#include "gas/orifice.hpp"
#include "units/quantity.hpp"

namespace bellhole::network {

/// The opening. Without an area: broken through, each side blows from its own full bore.
struct Opening {
  std::optional<Area> area;
  double coefficient = 1.0;  ///< of a hole; a full bore has none
  double k = 1.30;           ///< isentropic exponent of the gas
};

struct Escape {
  MassFlow flow;
  gas::Regime regime = gas::Regime::none;  ///< of the hole, or of the faster side
  AbsolutePressure at;                     ///< inside, at the opening; of the faster side
  std::vector<gas::OpenFlow> sides;        ///< in the order given
  MassFlow unlimited;  ///< what the hole alone would pass at the highest pressure held; for a full
                       ///< bore the same as `flow`
};

/// REQUIRES: at least one side; every length and bore > 0, area > 0 where given. A side whose held
/// pressure is not above the air's gives nothing.
Escape escape(const std::vector<gas::OpenLength>& sides, const Opening& opening,
              const gas::Flowing& flowing, AbsolutePressure air);

}  // namespace bellhole::network
