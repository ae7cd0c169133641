#include "restore/mixing.hpp"

#include <algorithm>
#include <cmath>

#include "gas/friction.hpp"

namespace bellhole::restore {
namespace {

constexpr double taylor = 10.1;
constexpr double diffusivity = 2.2e-5;     ///< methane in air, m2/s (from memory)
constexpr double measured_from = 20000.0;  ///< Reynolds number; Hart et al. (Warwick)

}  // namespace

Mixing mixing(const Front& front) {
  const double d = front.bore.si(), v = front.speed.si(), a = d / 2.0;
  Mixing mixing;
  mixing.reynolds = v * d / front.kinematic_viscosity_m2_per_s;
  const double slow = a * a * v * v / (48.0 * diffusivity);
  double spread = 0.0;
  if (mixing.reynolds >= gas::laminar_ends) {
    const double f = gas::darcy(mixing.reynolds, front.roughness.si() / d).factor;
    spread = taylor * a * v * std::sqrt(f / 8.0);
  }
  mixing.laminar = mixing.reynolds < gas::laminar_ends ||
                   (mixing.reynolds < gas::turbulent_begins && slow > spread);
  if (mixing.laminar) spread = slow;
  mixing.as_measured = mixing.reynolds >= measured_from;
  mixing.sigma = Length::from_si(std::sqrt(2.0 * spread * front.length.si() / v));
  return mixing;
}

double share_at(const Mixing& mixing, Length behind) {
  return 0.5 * std::erfc(-behind.si() / (std::sqrt(2.0) * mixing.sigma.si()));
}

}  // namespace bellhole::restore
