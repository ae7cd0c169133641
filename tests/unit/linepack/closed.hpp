// Closed lengths that the tests of this room share.
#pragma once

#include "linepack/closed.hpp"
#include "units/unit.hpp"

namespace bellhole::linepack {

inline Closed closed_ft3(double cubic_feet, double k_per_pa = 0.0) {
  return {Volume::from_si(cubic_feet * units::cubic_foot_m3), gas::us_base.temperature,
          AbsolutePressure::from_si(101325.0), gas::us_base, k_per_pa};
}
inline GaugePressure psig(double value) { return GaugePressure::from_si(value * units::psi_pa); }
inline PressureDifference psi(double value) {
  return PressureDifference::from_si(value * units::psi_pa);
}
inline StdFlow scfh(double value) {
  return StdFlow::from_si(value * units::cubic_foot_m3 / 3600.0);
}
inline Duration minutes(double value) { return Duration::from_si(value * 60.0); }

}  // namespace bellhole::linepack
