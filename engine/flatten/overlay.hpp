// PE as a bundle of branches that share one strain: each a spring and a slider whose yield rises
// with the logarithm of the rate, and beside them a rubber network that carries at large strain.
//
//   branch    deviator grows by 2 G de, and flows at  r exp((q / Y - 1) / c):
//             at q = Y it flows at the reference rate r, a decade faster at q = Y (1 + c ln 10)
//   network   G_n / J^(5/3) dev(F F^T)
//   volume    pressure = -K ln J / J
//
// An overlay of perfectly plastic branches (Besseling, J. Appl. Mech. 25 (1958) 529) has as its
// stress-strain curve the polygon that it is made from; so branches follow from a tensile curve by
// subtraction: the slope lost at a corner is the modulus of the branch that yields there.
#pragma once

#include <span>
#include <vector>

#include "units/quantity.hpp"

namespace bellhole::flatten {

/// A corner of a tensile curve: true stress over plastic logarithmic strain, at the reference rate.
struct Corner {
  double plastic = 0.0;
  Stress stress;
};

struct Branch {
  double shear = 0.0;  ///< modulus, Pa
  double yield = 0.0;  ///< von Mises, at the reference rate, Pa
};

struct Overlay {
  std::vector<Branch> branches;
  double bulk = 0.0, network = 0.0;  ///< Pa
  double per_e_fold = 0.0;           ///< c: share of yield for a rate e times as fast; 0: no rate
  double reference_rate = 0.01;      ///< per second
  [[nodiscard]] double shear() const;
  [[nodiscard]] double longitudinal() const { return bulk + 4.0 / 3.0 * (shear() + network); }
};

/// REQUIRES: corners by rising strain and falling slope, the first at plastic strain 0; stress
/// above 0; 0 < poisson < 0.5; rate_per_decade from 0 to 0.3.
Overlay overlay_of(Stress modulus, double poisson, std::span<const Corner> corners, Stress network,
                   double rate_per_decade);

/// PE pipe of the best grade at 23 degC: yields at 25 MPa true stress at about 10 % strain and a
/// hundredth per second, modulus 1 GPa. A plausible curve put together from values in memory, not
/// a measured one; other grades and temperatures are a share of it (strength.hpp).
Overlay pe_overlay();

}  // namespace bellhole::flatten
