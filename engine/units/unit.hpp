// The units that people type and read, one table for each kind.
#pragma once

#include <span>
#include <string_view>

#include "units/quantity.hpp"

namespace bellhole::units {

/// si = value * factor + offset. `assumes` is what was taken for granted in reading the word, or
/// empty.
struct Unit {
  std::string_view word;
  double factor = 1.0;
  double offset = 0.0;
  std::string_view assumes = {};
};

/// All words for a kind, the SI unit's own among them. Words are matched without regard to blanks,
/// to upper or lower case where that is unambiguous, and to the degree sign.
template <class Kind>
std::span<const Unit> table();

/// Base conditions of a standard volume. `StdVolume` counts gas at the base that the document
/// names; a US "scf" is 60 degF and 14.73 psia unless the document says otherwise.
inline constexpr double cubic_foot_m3 = 0.028316846592;
inline constexpr double inch_m = 0.0254;
inline constexpr double psi_pa = 6894.757293168361;
/// Inch of water, conventional (water at 4 degC): 249.08891 Pa. NIST SP 811 (2008) B.8.
inline constexpr double inch_water_pa = 249.08891;

}  // namespace bellhole::units
