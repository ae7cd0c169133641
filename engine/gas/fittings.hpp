// A pipe with fittings: a hose or a temporary main laid round the work, with its connections, bends
// and valves.
//
//   potential(p1) - potential(p2) = G^2 R_s T (f L / D + K) / 2,   G = m / A
//
// which for Z = 1 is p1^2 - p2^2 = (f L / D + K) G^2 R_s T: the pipe law (pipe_law.hpp) with the
// losses of the fittings beside its friction (Crane TP-410). The kinetic term is left out, as in
// the mains that the pipe lies between.
//
// K from Crane TP-410, from memory: entrance 0.5, exit 1.0, branch of a tee 60 f_T, ball valve of
// full bore 3 f_T, where f_T is the friction factor of clean commercial steel (0.0018 in) of that
// bore, fully turbulent.
#pragma once

#include "gas/gas.hpp"
#include "units/quantity.hpp"

namespace bellhole::gas {

struct FittedPipe {
  Length length, bore, roughness;
  double loss = 0.0;  ///< sum K of everything that stands in it, entrance and exit among it
};

/// Sum K of a pipe that leaves one main through a tee and a valve and joins another through a valve
/// and a tee: entrance, exit, two branches, two ball valves. REQUIRES: bore > 0.
double usual_loss(Length bore);

/// What all its fittings lose as a length of the same pipe, K D / f, at a mass flow; 0 without
/// flow. REQUIRES: bore > 0, roughness >= 0.
Length length_of_fittings(const FittedPipe& pipe, const Flowing& gas, MassFlow flow);

/// Flow between two pressures held at its ends. Negative where `to` is above `from`.
MassFlow flow_between(const FittedPipe& pipe, const Flowing& gas, AbsolutePressure from,
                      AbsolutePressure to);

/// Pressure at its end; nan where it cannot pass this flow.
AbsolutePressure pressure_after(const FittedPipe& pipe, const Flowing& gas, AbsolutePressure from,
                                MassFlow flow);

/// How fast the gas runs where the pressure is `at`. Never negative.
Speed speed_in(Length bore, const Flowing& gas, AbsolutePressure at, MassFlow flow);

}  // namespace bellhole::gas
