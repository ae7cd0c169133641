// How long a shut section blows down through a vent stack, and where the pressure stays.
//
// The section is one volume (closed.hpp); at every moment the stack passes what it would if the
// pressure stood still (gas/open_end.hpp), choked in the stack at first and subsonic later:
//
//   dt = (V / R_s T) (1 + 2 k p) dp / m(p)
//
// summed by Simpson's rule over the square root of what is left, in which the end is smooth.
// Isothermal: gas that blows down fast is colder, so that more of it is left at the end and it
// warms up by some tenths of a psi once the vent is shut.
//
// Gas is lighter than air. A stack that stands `height` above the section draws: the pressure at
// its foot comes to rest below that of the air beside it, by about 5 Pa a metre.
#pragma once

#include <optional>
#include <vector>

#include "findings/finding.hpp"
#include "findings/trouble.hpp"
#include "gas/open_end.hpp"
#include "gas/orifice.hpp"
#include "linepack/closed.hpp"
#include "units/print.hpp"

namespace bellhole::linepack {

struct Stack {
  Length bore, length;
  Length height;      ///< of its mouth above the section; up to `length`
  double loss = 0.5;  ///< K of entrance, bends and valve; 0.5: a sharp entrance and nothing else
  Length roughness = Length::from_si(46e-6);  ///< steel pipe, Crane TP-410
};

struct VentQuestion {
  Closed closed;     ///< its k_per_pa is that of `gas`
  gas::Flowing gas;  ///< at the closed length's temperature
  GaugePressure from;
  GaugePressure to;  ///< where the blow-down counts as done
  Stack stack;
};

/// A moment of the blow-down.
struct VentPoint {
  Duration at;
  GaugePressure pressure;
  MassFlow flow;
  bool choked = false;  ///< in the stack
};

struct Vented {
  Duration takes;
  std::optional<Duration> choked_until;  ///< missing: never choked
  GaugePressure rests_at;                ///< if the vent stays open: nought or a little below
  StdVolume gas;                         ///< that leaves
  Mass mass;
  std::vector<VentPoint> course;  ///< from the first moment to the last, evenly in pressure's root
};

/// Errors: out_of_range (sizes, a height above the length), contradiction (`to` not under `from`,
/// or so low that the stack never gets there).
Result<Vented> vent(const VentQuestion& question);

/// How long a closed length takes to blow down through a hole in it, the pressure the same all
/// along: mains that are long and narrow take longer. Nothing where `from` is not above `to`, or
/// `to` not above the air's pressure. REQUIRES: k > 1.
std::optional<Duration> empties(const Closed& closed, const gas::Flowing& gas, GaugePressure from,
                                GaugePressure to, const gas::Hole& hole, double k);

}  // namespace bellhole::linepack
