// What the map says about one main, in the words that profiles and squeeze sheets use.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "network/columns.hpp"
#include "network/steady.hpp"
#include "pipe/sizes.hpp"
#include "procedure/profile.hpp"
#include "units/print.hpp"

namespace bellhole::plan {

struct MainFacts {
  std::optional<pipe::Size> size;
  Length od;  ///< 0 where the size is not known
  /// Why this main is never a place for a squeeze: not PE, inserted, cased, layered, lined, size
  /// not known. Empty where it may be one. What is merely not recorded leaves a squeeze possible
  /// and undecided.
  std::string why_not_squeezed;
};

MainFacts facts_of_main(const network::Network& network, network::Index pipe);

/// Size, material, outside diameter, making date (known to the year) and tier, as conditions of
/// rows.
procedure::Case case_of_main(const network::Network& network, network::Index pipe);

/// The pressure that a squeeze on this main is judged at: the tier's MAOP, else the highest of
/// today's pressures at its ends; nan where neither is known.
GaugePressure line_pressure(const network::Network& network, const network::SteadyState& state,
                            network::Index pipe);

/// How far a squeeze keeps from everything else on its main, by actual outside diameter.
struct Clearance {
  enum class By : std::uint8_t {
    profile,    ///< the limit that is set
    reference,  ///< none is set: what is published, for a place to be shown at all
    nothing,    ///< neither set nor published: as far from everything as the stretch allows
  };
  Length distance;  ///< from the bars' centreline; 0 by nothing
  By by = By::profile;
};

/// The greater of the profile's diameters and its length. Where the profile measures from the
/// tool's edge, `half_width` (the widest tool that may be used) is added; nothing where it is not
/// known then.
std::optional<Clearance> clearance_of(const procedure::Profile& profile, const procedure::Case& in,
                                      Length od, std::optional<Length> half_width);

/// That the clearance is not set, and where places are put meanwhile; rule squeeze.clearance.
Finding clearance_finding(const procedure::Profile& profile, const procedure::Case& in,
                          Clearance::By by, units::System system);

/// The tier of a main: that of its `from` node, else of its `to` node; none where neither is
/// recorded.
network::Index tier_of_main(const network::Network& network, network::Index pipe);

}  // namespace bellhole::plan
