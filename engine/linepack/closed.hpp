// A closed length of main and the gas that it holds.
//
// Lumped: one pressure all along. That is right where the pressure falls slowly against the time
// that gas needs to even out along the pipe (seconds to minutes: sound crosses a kilometre of main
// in about 2.3 s); it says nothing about the first minute after a shut-off. One temperature, that
// of the ground: right for minutes and more. Gas that is drawn fast cools, and then the gauge falls
// faster than this says, and recovers.
//
//   gas held, at base conditions:  V (p / Z(p)) (T_b / T) / p_b,   Z(p) = 1 / (1 + k p)
//
// with p absolute. k = 0 is the ideal gas; gas::Flowing::k_per_pa is that of natural gas. Base
// volumes are counted as of an ideal gas, as everywhere (gas/gas.hpp).
#pragma once

#include "gas/gas.hpp"
#include "units/quantity.hpp"

namespace bellhole::linepack {

/// REQUIRES: volume > 0, temperature > 0, barometer > 0, k_per_pa >= 0.
struct Closed {
  Volume volume;  ///< inside, of everything that stays joined: mains, stubs, services
  Temperature temperature;
  AbsolutePressure barometer;
  gas::Base base;
  double k_per_pa = 0.0;
};

/// Inside volume of a round pipe.
Volume volume_of(Length bore, Length length);

StdVolume held(const Closed& closed, GaugePressure at);

/// Pressure after `taken` left (came in, if negative) from where it stood at `from`. Never below
/// nothing: an empty pipe is 0 absolute.
GaugePressure after(const Closed& closed, GaugePressure from, StdVolume taken);

/// How fast the pressure falls at `at` while `draw` leaves. In a real gas it falls a little faster
/// as it gets lower, so this is the slowest fall from `at` downwards.
PressureRate fall(const Closed& closed, GaugePressure at, StdFlow draw);

}  // namespace bellhole::linepack
