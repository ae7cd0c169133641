// Gas that escapes from a main: through a hole, or from the open ends of a main that is broken
// through, limited by the mains that feed it.
//
// Along each feeding length, isothermal with the kinetic term that network/steady.hpp leaves out:
//
//   potential(p1) - potential(p2) = G^2 R_s T (f L / (2 D) + ln(density1 / density2)),   G = m / A
//
// which for Z = 1 is p1^2 - p2^2 = G^2 R_s T (f L / D + 2 ln(p1 / p2)). A length cannot pass more
// than at its isothermal choke, where G^2 = density^2 dp/d density at the open end; the pressure
// there then stays above that of the air. Adiabatic flow would pass some 10 % more in a short
// length: the isothermal form is the usual one for mains and is said beside the answer.
//
// A hole and a main are never added: the hole sees the pressure that the main leaves it.
#pragma once

#include <optional>
#include <vector>

#include "gas/gas.hpp"
#include "gas/orifice.hpp"
#include "units/quantity.hpp"

namespace bellhole::network {

/// A length of main from where its pressure is held to the place where gas escapes.
struct Side {
  AbsolutePressure held;
  Length length, bore, roughness;
};

/// The opening. Without an area: broken through, each side blows from its own full bore.
struct Opening {
  std::optional<Area> area;
  double coefficient = 1.0;  ///< of a hole; a full bore has none
  double k = 1.30;           ///< isentropic exponent of the gas
};

struct SideFlow {
  MassFlow flow;          ///< towards the opening; negative where gas passes it to the other side
  AbsolutePressure exit;  ///< at the opening
  bool choked = false;    ///< in the main itself
};

struct Escape {
  MassFlow flow;
  gas::Regime regime = gas::Regime::none;  ///< of the hole, or of the faster side
  AbsolutePressure at;                     ///< inside, at the opening; of the faster side
  std::vector<SideFlow> sides;             ///< in the order given
  MassFlow unlimited;  ///< what the hole alone would pass at the highest pressure held; for a full
                       ///< bore the same as `flow`
};

/// Flow along one length into a place where the pressure is `end`, choked or not.
/// REQUIRES: lengths, bores > 0, both pressures > 0.
SideFlow along(const Side& side, const gas::Flowing& gas, AbsolutePressure end);

/// REQUIRES: at least one side; every length and bore > 0, area > 0 where given. A side whose held
/// pressure is not above the air's gives nothing.
Escape escape(const std::vector<Side>& sides, const Opening& opening, const gas::Flowing& gas,
              AbsolutePressure air);

}  // namespace bellhole::network
