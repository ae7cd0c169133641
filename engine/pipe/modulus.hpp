// Apparent modulus of PE: how stiff the wall still is after a load has stood on it for a while. PE
// creeps, so a pipe under pressure goes on growing and its gauge goes on falling without any leak.
#pragma once

#include <optional>
#include <string_view>

#include "findings/finding.hpp"
#include "units/quantity.hpp"

namespace bellhole::pipe {

struct Modulus {
  Stress value;
  std::string_view source;
  Evidence evidence = Evidence::seen;
};

/// Apparent modulus at 73 degF of the family that a material code belongs to (PE2…, PE3…, PE4…)
/// after the load stood for `loaded`. Linear in the logarithm of time between the tabled times, 0.5
/// h to 50 years; nothing outside them and for codes without a family.
/// Source: PPI Handbook of PE Pipe, 2nd ed., chapter 3, appendix B, table B.1.1 (uniaxial).
std::optional<Modulus> apparent_modulus(std::string_view material, Duration loaded);

/// What multiplies it at another temperature, linear between the tabled ones, -20 to 140 degF;
/// nothing outside. Source: the same, table B.1.2, from memory.
std::optional<double> modulus_at(Temperature temperature);

/// The shortest load time of the table.
inline constexpr Duration modulus_begins = Duration::from_si(1800.0);

}  // namespace bellhole::pipe
