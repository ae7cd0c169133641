#include "pipe/modulus.hpp"

#include <array>
#include <cmath>
#include <utility>

namespace bellhole::pipe {
namespace {

constexpr double psi = 6894.757293168361;
constexpr double hour = 3600.0, year = 8766.0 * hour;
constexpr std::string_view source =
    "PPI Handbook of PE Pipe, 2nd ed., ch. 3, app. B, table B.1.1, 73 degF, uniaxial";

struct Row {
  double loaded_s;
  std::array<double, 3> psi;  ///< families 2, 3, 4
};
constexpr std::array table{
    Row{0.5 * hour, {62000, 78000, 82000}},  Row{2.0 * hour, {57000, 71000, 74000}},
    Row{12.0 * hour, {48000, 60000, 63000}}, Row{100.0 * hour, {42000, 52000, 55000}},
    Row{1.0 * year, {30000, 38000, 40000}},  Row{50.0 * year, {22000, 28000, 29000}},
};
static_assert(table.front().loaded_s == modulus_begins.si());

/// degF and factor: PPI Handbook, table B.1.2 (from memory).
constexpr std::array<std::pair<double, double>, 10> factors{{{-20, 2.54},
                                                             {0, 2.18},
                                                             {20, 1.81},
                                                             {40, 1.49},
                                                             {60, 1.18},
                                                             {73.4, 1.00},
                                                             {80, 0.93},
                                                             {100, 0.73},
                                                             {120, 0.58},
                                                             {140, 0.43}}};

std::optional<std::size_t> family_of(std::string_view material) {
  if (material.size() != 6 || !material.starts_with("PE")) return std::nullopt;  // "PE4710"
  const char digit = material[2];
  if (digit < '2' || digit > '4') return std::nullopt;
  return static_cast<std::size_t>(digit - '2');
}

}  // namespace

std::optional<Modulus> apparent_modulus(std::string_view material, Duration loaded) {
  const auto family = family_of(material);
  const double t = loaded.si();
  if (!family || !(t >= table.front().loaded_s) || t > table.back().loaded_s) return std::nullopt;
  std::size_t i = 1;
  while (i + 1 < table.size() && table[i].loaded_s < t) ++i;
  const Row& before = table[i - 1];
  const Row& after = table[i];
  const double share = std::log(t / before.loaded_s) / std::log(after.loaded_s / before.loaded_s);
  const double value = before.psi[*family] + share * (after.psi[*family] - before.psi[*family]);
  return Modulus{Stress::from_si(value * psi), source, Evidence::seen};
}

std::optional<double> modulus_at(Temperature temperature) {
  const double f = temperature.si() * 9.0 / 5.0 - 459.67;
  constexpr double hair = 1e-9;
  if (!(f >= factors.front().first - hair) || f > factors.back().first + hair) return std::nullopt;
  std::size_t i = 1;
  while (i + 1 < factors.size() && factors[i].first < f) ++i;
  const auto& [f0, k0] = factors[i - 1];
  const auto& [f1, k1] = factors[i];
  return k0 + (f - f0) / (f1 - f0) * (k1 - k0);
}

}  // namespace bellhole::pipe
