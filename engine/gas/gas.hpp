// The gas: what it weighs, how far it is from an ideal gas, how viscous it is. Good for natural gas
// in distribution: up to 10 bar, -40 to +50 degC, lighter than air.
//
// Sources
//   R: CODATA 2018, exact. Air 28.9647 g/mol: ISO 6976:2016 (from memory).
//   Critical constants: Poling, Prausnitz, O'Connell, The Properties of Gases and Liquids, 5th ed.,
//   App. A (from memory); pseudo-critical constants from gravity alone: Standing 1981 (from
//   memory). Compressibility: second virial coefficient by Pitzer and Abbott, in Smith, Van Ness,
//   Abbott, Introduction to Chemical Engineering Thermodynamics (from memory), held against AGA-8
//   in docs/checks.md. Viscosity: methane, DIPPR equation 102, Perry's Chemical Engineers'
//   Handbook, 8th ed., Table 2-312.
#pragma once

#include <span>
#include <string_view>

#include "findings/trouble.hpp"
#include "units/quantity.hpp"

namespace bellhole::gas {

inline constexpr double molar_gas_constant = 8.314462618;  ///< J/(mol K)
inline constexpr double air_kg_per_mol = 28.9647e-3;
inline constexpr double standard_gravity = 9.80665;  ///< m/s2

/// The state at which a standard volume is counted. Volumes are counted as of an ideal gas.
struct Base {
  AbsolutePressure pressure;
  Temperature temperature;
};
/// 60 degF, 14.73 psia: the custom of United States distribution.
inline constexpr Base us_base{AbsolutePressure::from_si(101559.7749),
                              Temperature::from_si(288.70555555555556)};
/// 15 degC, 1.01325 bar: ISO 13443.
inline constexpr Base metric_base{AbsolutePressure::from_si(101325.0),
                                  Temperature::from_si(288.15)};

/// A share of a mixture, by the component's usual formula: "CH4", "C2H6", "iC4", "N2" …
struct Share {
  std::string_view component;
  double mole_fraction = 0.0;
};

/// What the laws need to know of a gas.
struct Gas {
  double gravity = 0.0;  ///< weight against air, air = 1
  double kg_per_mol = 0.0;
  double critical_k = 0.0;   ///< (pseudo-)critical temperature
  double critical_pa = 0.0;  ///< (pseudo-)critical pressure
  double acentric = 0.0;
};

/// A gas of which only the gravity is known. Errors: bad_gas when it is not between 0.5 and 1 (a
/// gas as heavy as air or heavier lies in the hole and the cellar: nothing here holds for it; one
/// lighter than 0.5 has to be given by its composition).
Result<Gas> from_gravity(double gravity);

/// A gas by its composition. Errors: unreadable_value (component in no table), out_of_range (a
/// share that is not in 0 … 1), contradiction (one component twice), bad_gas (shares that miss 1 by
/// more than 0.001, or a mixture as heavy as air). Shares are scaled to sum 1.
Result<Gas> from_composition(std::span<const Share> shares);

/// The gas as it flows in the ground at one temperature: what the pipe law is written in.
///
///   density(p) = p (1 + k p) / (R_s T),   that is Z = 1 / (1 + k p),
///
/// with k = -B(T)/(R T) from the second virial coefficient B. The form makes the potential a
/// polynomial and a column of gas at rest a closed expression; against AGA-8 it is within 0.0005 in
/// Z up to 7 bar and within 0.001 up to 10 bar, half of which reaches the flow.
struct Flowing {
  double gravity = 0.0;
  double specific_constant = 0.0;  ///< R_s = R / M, J/(kg K)
  double temperature_k = 0.0;
  double k_per_pa = 0.0;
  double viscosity_pa_s = 0.0;

  [[nodiscard]] double z(double pa_abs) const { return 1.0 / (1.0 + k_per_pa * pa_abs); }
  [[nodiscard]] double density(double pa_abs) const {
    return pa_abs * (1.0 + k_per_pa * pa_abs) / (specific_constant * temperature_k);
  }
  /// Potential = integral of p/Z dp, in Pa2: what falls along a level pipe in proportion to its
  /// friction. Odd in p, so that a solver may pass through values that no pressure has.
  [[nodiscard]] double potential(double pa_abs) const;
  [[nodiscard]] double pressure(double potential_pa2) const;  ///< inverse of potential()
  /// d pressure / d potential.
  [[nodiscard]] double pressure_slope(double pa_abs) const;

  /// Pressure at rest `rise_m` higher (lower, if negative) than where it is `pa_abs`.
  [[nodiscard]] double at_rest_higher(double pa_abs, double rise_m) const;
};

Flowing flowing(const Gas& gas, Temperature temperature);

/// Pressure of the air `rise_m` above a place where it is `barometer`, the air at one temperature.
AbsolutePressure barometer_higher(AbsolutePressure barometer, double rise_m, Temperature air);

/// Dynamic viscosity of methane, which that of natural gas follows within 2 %. 90 to 1000 K.
Viscosity viscosity(Temperature temperature);

/// Mass of one standard cubic metre.
Density base_density(const Gas& gas, Base base);

}  // namespace bellhole::gas
