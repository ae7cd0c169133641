#include "gas/gas.hpp"

#include <fmt/format.h>

#include <cmath>
#include <string>
#include <vector>

#include "gas/components.hpp"

namespace bellhole::gas {
namespace {

constexpr double rankine_per_kelvin = 1.8;
constexpr double psi = 6894.757293168;

/// Gravities for which Standing's pseudo-critical constants are meant to serve.
constexpr double least_gravity = 0.5;
constexpr double sum_apart = 1e-3;

Result<Gas> lighter_than_air(Gas gas) {
  if (gas.gravity < 1.0) return gas;
  return trouble(Code::bad_gas, "gas", fmt::format("gravity {:.3f}", gas.gravity),
                 "this gas is as heavy as air or heavier; Bellhole is for gas lighter than air");
}

/// -B/(R T) in 1/Pa.
double virial_k(const Gas& gas, double temperature_k) {
  const double reduced = temperature_k / gas.critical_k;
  const double simple = 0.083 - 0.422 / std::pow(reduced, 1.6);
  const double shape = 0.139 - 0.172 / std::pow(reduced, 4.2);
  return -(simple + gas.acentric * shape) / (reduced * gas.critical_pa);
}

}  // namespace

Result<Gas> from_gravity(double gravity) {
  if (!std::isfinite(gravity) || gravity < least_gravity) {
    return trouble(Code::bad_gas, "gravity", fmt::format("{}", gravity),
                   "give a gravity (air = 1) from 0.5 up to 1, or the gas by its composition");
  }
  // Standing 1981, dry natural gas: pseudo-critical constants in degR and psia.
  const double g = gravity;
  Gas gas{.gravity = g, .kg_per_mol = g * air_kg_per_mol};
  gas.critical_k = (168.0 + 325.0 * g - 12.5 * g * g) / rankine_per_kelvin;
  gas.critical_pa = (677.0 + 15.0 * g - 37.5 * g * g) * psi;
  gas.acentric =
      components().front().acentric;  // methane's; the mixture's differs by less than the fit
  return lighter_than_air(gas);
}

Result<Gas> from_composition(std::span<const Share> shares) {
  double sum = 0.0;
  Gas gas;
  std::vector<std::string_view> seen;
  for (const Share& share : shares) {
    const Component* component = component_named(share.component);
    const std::string name(share.component);
    if (component == nullptr) {
      return trouble(Code::unreadable_value, "composition", name,
                     "give one of: " + component_names());
    }
    if (!(share.mole_fraction >= 0.0 && share.mole_fraction <= 1.0)) {
      return trouble(Code::out_of_range, "composition, " + name,
                     fmt::format("{}", share.mole_fraction), "give a mole fraction from 0 to 1");
    }
    for (const std::string_view other : seen) {
      if (other == share.component) {
        return trouble(Code::contradiction, "composition, " + name, name,
                       "give each component once");
      }
    }
    seen.push_back(share.component);
    sum += share.mole_fraction;
    gas.kg_per_mol += share.mole_fraction * component->kg_per_mol;
    gas.critical_k += share.mole_fraction * component->critical_k;  // Kay 1936: mole-weighted
    gas.critical_pa += share.mole_fraction * component->critical_pa;
    gas.acentric += share.mole_fraction * component->acentric;
  }
  if (!(std::abs(sum - 1.0) <= sum_apart)) {
    return trouble(Code::bad_gas, "composition", fmt::format("sum {:.4f}", sum),
                   "mole fractions must add up to 1 (within 0.001)");
  }
  gas.kg_per_mol /= sum;
  gas.critical_k /= sum;
  gas.critical_pa /= sum;
  gas.acentric /= sum;
  gas.gravity = gas.kg_per_mol / air_kg_per_mol;
  return lighter_than_air(gas);
}

double Flowing::potential(double pa_abs) const {
  return pa_abs * std::abs(pa_abs) * (0.5 + k_per_pa * std::abs(pa_abs) / 3.0);
}

double Flowing::pressure(double potential_pa2) const {
  const double target = std::abs(potential_pa2);
  double p = std::sqrt(2.0 * target);
  if (p == 0.0) return 0.0;
  // From above on a convex function: Newton falls monotonically and squares its error; k p is below
  // 0.1.
  constexpr double last = 1e-8;  // of p: after a step as small as this nothing is left to improve
  for (int i = 0; i < 6; ++i) {
    const double step = (p * p * (0.5 + k_per_pa * p / 3.0) - target) / (p * (1.0 + k_per_pa * p));
    p -= step;
    if (std::abs(step) < last * p) break;
  }
  return potential_pa2 < 0.0 ? -p : p;
}

double Flowing::pressure_slope(double pa_abs) const {
  return 1.0 / (std::abs(pa_abs) * (1.0 + k_per_pa * std::abs(pa_abs)));
}

double Flowing::at_rest_higher(double pa_abs, double rise_m) const {
  if (rise_m == 0.0) return pa_abs;
  // dp/p Z = -g dz/(R_s T) with Z = 1/(1 + k p): p/(1 + k p) falls as exp(-g z/(R_s T)).
  const double fall = std::exp(-standard_gravity * rise_m / (specific_constant * temperature_k));
  const double reduced = fall * pa_abs / (1.0 + k_per_pa * pa_abs);
  return reduced / (1.0 - k_per_pa * reduced);
}

Flowing flowing(const Gas& gas, Temperature temperature) {
  return {.gravity = gas.gravity,
          .specific_constant = molar_gas_constant / gas.kg_per_mol,
          .temperature_k = temperature.si(),
          .k_per_pa = virial_k(gas, temperature.si()),
          .viscosity_pa_s = viscosity(temperature).si()};
}

AbsolutePressure barometer_higher(AbsolutePressure barometer, double rise_m, Temperature air) {
  const double scale = molar_gas_constant / air_kg_per_mol * air.si();
  return AbsolutePressure::from_si(barometer.si() * std::exp(-standard_gravity * rise_m / scale));
}

Viscosity viscosity(Temperature temperature) {
  const double t = temperature.si();
  return Viscosity::from_si(5.2546e-7 * std::pow(t, 0.59006) / (1.0 + 105.67 / t));
}

Density base_density(const Gas& gas, Base base) {
  return Density::from_si(base.pressure.si() * gas.kg_per_mol /
                          (molar_gas_constant * base.temperature.si()));
}

}  // namespace bellhole::gas
