// Walls as tables print them. Internal to pipe/.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "findings/finding.hpp"

namespace bellhole::pipe::tables {

/// A printed inch wall that overrides OD / DR, or a remark on one that does not.
struct InchWall {
  std::string_view size;
  double ratio;
  double minimum;  ///< inches
  std::string_view source;
  Evidence evidence;
  std::string_view note;
};
std::span<const InchWall> inch_walls();

std::span<const double> ips_ratios();
std::span<const double> cts_ratios();

/// Thinnest wall that thermoplastic gas pipe is made with, in inches: 49 CFR 192.123(c), text of
/// 2004.
inline constexpr double thinnest_made_in = 0.062;

/// One SDR column of the ISO table.
struct IsoColumn {
  double ratio;
  std::string_view source;
  Evidence evidence;
};
std::span<const IsoColumn> iso_columns();

/// e_min in millimetres; nothing where the table has no such pipe.
std::optional<double> iso_minimum(int dn, double ratio);

/// Ratios of OD to wall beyond which no PE gas pipe is made; a reading outside is a slip of the
/// gauge or unit.
inline constexpr double thickest_ratio = 5.0;
inline constexpr double thinnest_ratio = 45.0;

}  // namespace bellhole::pipe::tables
