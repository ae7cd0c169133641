// How hard PE is to flatten: its yield by grade, temperature and rate, and how it relaxes.
//
//   yield   s = s23 (1 - 0.0128 (T - 23 degC)) (1 + C log10(rate / 0.01 per s)), C = 0.09
//
// The slope with temperature: PE100 pipe material, 32 MPa at -10 degC to 9 MPa at +70 degC, linear;
// Merah, Saghir, Khan, Bazoune, Plastics, Rubber and Composites 35 (2006) 226. s23 and C are
// working values from memory: 25 MPa true stress at about 10 % strain and a hundredth per second
// for PE4710 and PE100, nine tenths of it for PE3xxx, 0.775 of it for PE2xxx and PE80; 8 to 10 % a
// decade of rate. No grade is a pipe: the band of closed_form.hpp is for that.
#pragma once

#include <optional>
#include <string_view>

#include "units/quantity.hpp"

namespace bellhole::flatten {

struct Strength {
  Stress yield;               ///< at the pipe's temperature and the rate of this closing
  Stress modulus;             ///< initial, in the same state: 40 times the yield
  bool extrapolated = false;  ///< colder or warmer than -10 to 70 degC
};

/// Share of yield that a decade of rate adds, and that a decade of time takes while it is held.
inline constexpr double per_decade = 0.09;

/// `closing` is the time from touch to the stops: the mean rate is taken as half of its inverse.
/// Nothing for a material of which no yield is on record. REQUIRES: closing > 0.
std::optional<Strength> strength_of(std::string_view material, Temperature pipe, Duration closing);

/// The coldest pipe whose yield is at most `share` times that at `pipe`; never colder than
/// the data reach, -10 degC. REQUIRES: share > 0.
Temperature coldest_for(Temperature pipe, double share);

/// Share of the force at the stops that is left after `held`, at one gap:
/// 1 - C log10(1 + t / tau), tau = closing / 400 (0.3 s for a closing of 120 s), not below nought.
/// The form is a spring on a dashpot whose rate is exponential in stress (Eyring); tau from own 3-D
/// finite-element runs of an IPS 8 DR 11 pipe, not published.
double held_share(Duration held, Duration closing);

}  // namespace bellhole::flatten
