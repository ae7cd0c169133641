#include "gas/orifice.hpp"

#include <array>
#include <cmath>
#include <numbers>

namespace bellhole::gas {

std::string_view name(Regime regime) {
  constexpr std::array<std::string_view, 3> names{"no flow", "subsonic", "choked"};
  return names[static_cast<std::size_t>(regime)];
}

double choking_ratio(double k) { return std::pow((k + 1.0) / 2.0, k / (k - 1.0)); }

Outflow through(const Hole& hole, const Blowing& gas, double inside_pa, double outside_pa) {
  if (!(inside_pa > outside_pa)) return {};
  const double k = gas.k;
  const double rt = gas.z * gas.specific_constant * gas.temperature_k;
  const double scale = hole.coefficient * hole.area_m2 * inside_pa;
  if (inside_pa >= choking_ratio(k) * outside_pa) {
    const double factor = std::pow(2.0 / (k + 1.0), (k + 1.0) / (k - 1.0));
    return {scale * std::sqrt(k / rt * factor), Regime::choked};
  }
  const double r = outside_pa / inside_pa;
  // r^(2/k) (1 - r^((k-1)/k)), with nothing lost where r is nearly 1.
  const double drop = -std::expm1((k - 1.0) / k * std::log(r));
  const double inner = std::pow(r, 2.0 / k) * drop;
  return {scale * std::sqrt(2.0 / rt * k / (k - 1.0) * inner), Regime::subsonic};
}

Area round_hole(Length diameter) {
  return Area::from_si(std::numbers::pi / 4.0 * diameter.si() * diameter.si());
}

}  // namespace bellhole::gas
