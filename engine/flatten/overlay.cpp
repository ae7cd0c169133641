#include "flatten/overlay.hpp"

#include <array>
#include <cmath>

#include "flatten/strength.hpp"

namespace bellhole::flatten {

double Overlay::shear() const {
  double sum = 0.0;
  for (const Branch& branch : branches) sum += branch.shear;
  return sum;
}

Overlay overlay_of(Stress modulus, double poisson, std::span<const Corner> corners, Stress network,
                   double rate_per_decade) {
  Overlay overlay;
  const double e = modulus.si();
  overlay.bulk = e / (3.0 * (1.0 - 2.0 * poisson));
  overlay.network = network.si();
  overlay.per_e_fold = rate_per_decade / std::log(10.0);
  // The network is stiff from the first: what it adds to the slope is taken off every branch.
  const double from_network = 3.0 * network.si();
  double slope = e - from_network;
  for (std::size_t i = 0; i < corners.size(); ++i) {
    const double strain = corners[i].plastic + corners[i].stress.si() / e;
    double next = 0.0;
    if (i + 1 < corners.size()) {
      const double further = corners[i + 1].plastic + corners[i + 1].stress.si() / e;
      next = (corners[i + 1].stress.si() - corners[i].stress.si()) / (further - strain);
      next = std::fmax(0.0, next - from_network);
    }
    const double lost = slope - next;
    if (lost > 0.0) {
      // Uniaxial modulus to shear: in flow the branches are as good as incompressible.
      overlay.branches.push_back({lost / (2.0 * (1.0 + poisson)), lost * strain});
    }
    slope = next;
  }
  return overlay;
}

Overlay pe_overlay() {
  constexpr double mpa = 1e6;
  const auto corner = [](double plastic, double stress) {
    return Corner{plastic, Stress::from_si(stress * mpa)};
  };
  const std::array corners{corner(0.0, 10.0),  corner(0.004, 14.0), corner(0.009, 16.5),
                           corner(0.02, 19.5), corner(0.045, 22.5), corner(0.085, 24.5),
                           corner(0.15, 26.0)};
  return overlay_of(Stress::from_si(1000.0 * mpa), 0.42, corners, Stress::from_si(1.8 * mpa),
                    per_decade);
}

}  // namespace bellhole::flatten
