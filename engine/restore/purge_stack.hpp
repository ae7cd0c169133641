// The vent stack of a purge, and the pressure that drives the purge through main and stack.
//
// At the foot of the stack the pressure is what passes the purge's volume at that pressure
// (gas/open_end.hpp); at the feed it is that and what the main loses (gas/fittings.hpp without
// fittings). Air is the heavier of the two and takes more: it is reckoned with all along, though
// gas follows it. The stack's own draught, some 5 Pa a metre once gas stands in it, is left out.
#pragma once

#include <optional>

#include "gas/gas.hpp"
#include "units/quantity.hpp"

namespace bellhole::restore {

struct PurgeStack {
  Length bore;
  Length height;      ///< of its mouth above the ground
  double loss = 4.1;  ///< K of tee, valve, bend and entrance; its friction comes on top
  Length roughness = Length::from_si(46e-6);  ///< steel pipe, Crane TP-410
};

/// Air as it flows: density and viscosity. 28.9647 g/mol, ISO 6976:2016; Sutherland's law with the
/// constants of the U.S. Standard Atmosphere 1976 (both from memory).
gas::Flowing air(Temperature temperature);

/// Pressure at the foot that lets `m3_per_s`, counted there, leave. Nothing where no pressure does:
/// the stack chokes.
std::optional<GaugePressure> at_foot(const PurgeStack& stack, const gas::Flowing& gas,
                                     double m3_per_s, AbsolutePressure barometer);

/// Pressure at the beginning of a length of main whose end is at `end` while so much leaves it.
GaugePressure at_feed(Length bore, Length length, Length roughness, const gas::Flowing& gas,
                      double m3_per_s, GaugePressure end, AbsolutePressure barometer);

}  // namespace bellhole::restore
