// Pipe sizes: iron pipe size (IPS) and copper tube size (CTS) in inches, ISO dn in millimetres. The
// same inch number names different pipes in IPS and CTS, so a size is never read without its
// system.
//
// Outside diameters and their tolerances: ASTM D3035 and D2513 (IPS, CTS), ISO 11922-1 grade B
// (dn).
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "findings/finding.hpp"
#include "findings/trouble.hpp"
#include "units/quantity.hpp"

namespace bellhole::pipe {

enum class System { ips, cts, iso };

struct Size {
  System system = System::ips;
  std::string name;      ///< "IPS 8", "CTS 1/2", "dn 125"
  double nominal = 0.0;  ///< inches (IPS, CTS) or millimetres (dn)
  Length od;             ///< outside diameter, mean; for dn the nominal and least one
  std::optional<Length> od_low,
      od_high;  ///< limits of the mean diameter as made; missing: not on record
  std::string source;
  Evidence evidence = Evidence::from_memory;
};

/// Every size on record, smallest diameter first within its system.
const std::vector<Size>& sizes();

/// Reads "IPS 8", "8 IPS", "8in IPS", "IPS 1-1/4", "CTS 1/2", "dn125", "dn 125".
/// Errors: unreadable_value (no number); missing_value (an inch size without IPS or CTS, a
/// millimetre size without dn: the fix lists what it could mean); unknown_size (the fix lists the
/// nearest sizes).
Result<Size> read_size(std::string_view text, std::string_view where);

/// "IPS 1 1/4" and the like: the sizes nearest to a diameter, at most `count`, for fixes.
std::string nearest_sizes(System system, double nominal, std::size_t count);

std::string_view to_string(System system);

}  // namespace bellhole::pipe
