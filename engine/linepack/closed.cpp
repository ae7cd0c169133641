#include "linepack/closed.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bellhole::linepack {
namespace {

/// Base volume for each pascal of p / Z.
double per_pascal(const Closed& closed) {
  return closed.volume.si() * (closed.base.temperature.si() / closed.temperature.si()) /
         closed.base.pressure.si();
}

double packed(const Closed& closed, double pa_abs) {
  return pa_abs * (1.0 + closed.k_per_pa * pa_abs);
}

/// The pressure at which p (1 + k p) is `value`. Written so that nothing is lost as k goes to 0.
double unpacked(const Closed& closed, double value) {
  return 2.0 * value / (1.0 + std::sqrt(1.0 + 4.0 * closed.k_per_pa * value));
}

}  // namespace

Volume volume_of(Length bore, Length length) {
  return Volume::from_si(std::numbers::pi / 4.0 * bore.si() * bore.si() * length.si());
}

StdVolume held(const Closed& closed, GaugePressure at) {
  return StdVolume::from_si(per_pascal(closed) *
                            packed(closed, absolute(at, closed.barometer).si()));
}

GaugePressure after(const Closed& closed, GaugePressure from, StdVolume taken) {
  const double left =
      packed(closed, absolute(from, closed.barometer).si()) - taken.si() / per_pascal(closed);
  return gauge(AbsolutePressure::from_si(unpacked(closed, std::max(0.0, left))), closed.barometer);
}

PressureRate fall(const Closed& closed, GaugePressure at, StdFlow draw) {
  const double slope = 1.0 + 2.0 * closed.k_per_pa * absolute(at, closed.barometer).si();
  return PressureRate::from_si(draw.si() / (per_pascal(closed) * slope));
}

}  // namespace bellhole::linepack
