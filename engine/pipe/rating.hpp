// The pressure that a pipe is designed for, from its material and ratio.
#pragma once

#include <optional>

#include "pipe/materials.hpp"
#include "units/quantity.hpp"

namespace bellhole::pipe {

/// Temperatures that hydrostatic design bases are listed at.
inline constexpr Temperature hdb_low_temperature =
    Temperature::from_si((73.0 + 459.67) * 5.0 / 9.0);
inline constexpr Temperature hdb_high_temperature =
    Temperature::from_si((140.0 + 459.67) * 5.0 / 9.0);

/// Hydrostatic design basis at a temperature: the listed one at 73 degF and below; between 73 and
/// 140 degF interpolated linearly in 1 / T (PPI TR-3, part D.2); nothing above 140 degF or without
/// a listing.
std::optional<Stress> hdb_at(std::optional<Stress> at_73, std::optional<Stress> at_140,
                             Temperature temperature);

/// P = 2 S F / (DR - 1): 49 CFR 192.121. `hdb` is S, `factor` F. REQUIRES: ratio > 1.
GaugePressure design_pressure_us(Stress hdb, double ratio, double factor);

/// MOP = 2 MRS / (C (SDR - 1)), which is 20 MRS / (C (SDR - 1)) in bar and MPa: EN 1555, ISO 4437.
/// REQUIRES: ratio > 1, coefficient > 0.
GaugePressure design_pressure_iso(Stress mrs, double ratio, double coefficient);

}  // namespace bellhole::pipe
