// How thick the wall is: from the size and its ratio, or as measured.
//
//   IPS, CTS   minimum = OD / DR to the nearest 0.001 in (ASTM D3035, D2513), unless the table says
//              otherwise; as made it lies between 0 and 12 % above that, so nominal = 1.06 x
//              minimum and maximum = 1.12 x minimum.
//   dn         minimum = e_min of the table (ISO 4065, ISO 4437-2); maximum = 1.1 e_min + 0.1 mm
//   rounded up to
//              0.1 mm (ISO 11922-1); nominal is their mean.
//   measured   the thinnest, mean and thickest reading replace all three.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "pipe/sizes.hpp"

namespace bellhole::pipe {

struct Walls {
  Length minimum, nominal, maximum;
  bool measured = false;
  std::string source;
  Evidence evidence = Evidence::derived;
  std::string note;  ///< where tables disagree about this wall; empty otherwise
};

/// Walls of a size by its DR or SDR. Errors: unknown_ratio, with the nearest ratios as the fix. 17
/// and 17.6, 11 and 11.5 are different pipes; nothing is rounded to the next.
Result<Walls> walls_by_ratio(const Size& size, double ratio, std::string_view where);

/// Walls from readings. REQUIRES: at least one. Errors: out_of_range for a reading that no PE pipe
/// of this diameter can have.
Result<Walls> walls_measured(const Size& size, std::span<const Length> readings,
                             std::string_view where);

/// The ratios on record for a size, smallest first.
std::vector<double> ratios(const Size& size);

}  // namespace bellhole::pipe
