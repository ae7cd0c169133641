// How far gas and air mix along a main while one pushes the other.
//
// Dispersion of a front in pipe flow: after a way L at mean speed V the front is a normal
// distribution along the pipe of sigma = sqrt(2 K L / V).
//   turbulent  K = 10.1 a u*, u* = V sqrt(f / 8), a the radius: G.I. Taylor, Proc. R. Soc. A 223
//              (1954) 446 (the factor from memory)
//   laminar    K = a2 V2 / (48 D), D the molecular diffusivity: G.I. Taylor, Proc. R. Soc. A 219
//              (1953) 186 (from memory)
// A passive tracer: the two gases' difference in weight is left out, so it holds only where the
// front fills the bore (purge.hpp, least speed). Below a Reynolds number of 20,000 measured fronts
// are longer than the turbulent form says; between laminar and turbulent the longer one is taken.
#pragma once

#include "units/quantity.hpp"

namespace bellhole::restore {

struct Front {
  Length bore, length;  ///< of the main, and how far the front has come
  Speed speed;
  Length roughness;
  double kinematic_viscosity_m2_per_s = 0.0;
};

struct Mixing {
  Length sigma;
  double reynolds = 0.0;
  bool laminar = false;     ///< the laminar form is the longer one and was taken
  bool as_measured = true;  ///< within the range that measurements follow
  /// Length between two shares of gas: 2 x 2.326 sigma for 1 to 99 %.
  [[nodiscard]] Length one_to_99() const { return sigma * 4.6527; }
  /// Length with 5 to 15 % gas, where methane in air burns.
  [[nodiscard]] Length flammable() const { return sigma * 0.6084; }
};

/// REQUIRES: bore, length, speed and viscosity > 0.
Mixing mixing(const Front& front);

/// Share of gas at a distance behind (positive) or ahead of the middle of the front.
double share_at(const Mixing& mixing, Length behind);

}  // namespace bellhole::restore
