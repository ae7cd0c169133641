// A length of pipe that ends open, or nearly so: fast enough that the kinetic term counts and that
// the pipe itself may choke. At a break, in a vent stack.
//
//   potential(p1) - potential(p2) = G^2 R_s T (f L / (2 D) + K / 2 + ln(density1 / density2)),
//   G = m / A
//
// isothermal; for Z = 1 it is p1^2 - p2^2 = G^2 R_s T (f L / D + K + 2 ln(p1 / p2)) (Crane TP-410;
// Menon, Gas Pipeline Hydraulics). No length passes more than at its isothermal choke, where G^2 =
// density^2 dp/d density at the open end; the pressure there then stays above that outside.
// Adiabatic flow would pass some 10 % more through a short length: the isothermal form is the usual
// one for mains.
#pragma once

#include "gas/gas.hpp"
#include "units/quantity.hpp"

namespace bellhole::gas {

/// A length from where its pressure is held to its end.
struct OpenLength {
  AbsolutePressure held;
  Length length, bore, roughness;
  double loss = 0.0;  ///< K of what stands in it: entrance, bends, a valve
};

struct OpenFlow {
  MassFlow flow;          ///< towards the end; negative where `end` is above the pressure held
  AbsolutePressure exit;  ///< inside, at the end
  bool choked = false;    ///< in the length itself: exit is above `end`
};

/// G^2 R_s T (Pa2) at which a length chokes where it ends at `pa` absolute, and the other way
/// round.
double choking_flux(const Flowing& gas, double pa);
double choked_at(const Flowing& gas, double flux);

/// Flow into a place where the pressure is `end`. REQUIRES: lengths, bore and both pressures > 0.
OpenFlow flow_into(const OpenLength& length, const Flowing& gas, AbsolutePressure end);

}  // namespace bellhole::gas
