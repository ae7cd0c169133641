// Purging a main: air pushed out by gas, or gas by air. How fast at least so that the front fills
// the bore, how much and how long, how long the mixed piece is, and what ends it.
//
//   least speed  the greater of a floor and F sqrt(g' D), g' = g (rho_air - rho_gas) / mean of
//   both;
//                below it the light gas runs along the top and leaves air under it
//   time         L / V for one pipe volume
//   mixed        mixing.hpp
//   vent         purge_stack.hpp: the pressure that drives so much through main and stack
//   slug         what both its ends mix away, 2 x 2.326 sigma, and a core is left
//   lost         the planned volumes beyond the one that stays, at nought gauge
//   pack         V p / p_base, what the main takes up from nought gauge to p (ideal gas at the
//                base temperature)
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "findings/finding.hpp"
#include "findings/trouble.hpp"
#include "gas/gas.hpp"
#include "procedure/profile.hpp"
#include "restore/mixing.hpp"
#include "restore/purge_stack.hpp"
#include "units/print.hpp"

namespace bellhole::restore {

/// What the instrument at the vent works by: whether it can tell rich gas from lean.
enum class Instrument : std::uint8_t {
  not_told,
  catalytic,             ///< burns a sample: blind above the lower explosive limit
  thermal_conductivity,  ///< made for percent gas by volume
  infrared,              ///< reads percent gas by volume where its scale goes to 100 %
};

/// A reading at the vent. An instrument that reads % LEL cannot tell the end of a purge to gas.
struct VentReading {
  double share = 0.0;  ///< of gas by volume, or of the lower explosive limit
  bool of_lel = false;
};

struct PurgeQuestion {
  Length bore, length;
  std::optional<Speed> speed;  ///< missing: the least
  Length roughness;
  std::optional<GaugePressure> pack_to;
  std::vector<VentReading> readings;
  Instrument instrument = Instrument::not_told;
  std::optional<PurgeStack> stack;
  std::optional<GaugePressure> line;  ///< what the feed can give; missing: not known
  gas::Gas gas;
  Temperature temperature;
  AbsolutePressure barometer;
  gas::Base base;
};

struct Purged {
  std::optional<Speed> least_speed;
  std::string least_by;
  Speed speed;
  double flow_m3_per_s = 0.0;  ///< in the pipe, at its pressure
  Volume volume;
  Duration time;  ///< of one pipe volume
  std::optional<Duration> time_planned;
  std::optional<StdVolume> gas_used;  ///< by the planned volumes at nought gauge
  Mixing mixed;
  Length slug_least;        ///< of inert gas, if a slug is used: what both its ends mix away
  bool slug_asked = false;  ///< slower than the least speed: a slug is to be decided on
  StdVolume slug_gas;       ///< of inert gas for the least slug, at nought gauge
  std::optional<StdVolume> gas_lost;         ///< through the stack
  std::optional<GaugePressure> foot, inlet;  ///< at the stack's foot, at the feed end of the main
  std::optional<StdVolume> pack;
  std::optional<bool> ended;  ///< by the readings; missing: cannot be told
  std::string says;
  std::vector<std::string> cautions;
  Findings findings;
  std::vector<std::string> assumed;
};

/// The least speed in a bore; nothing where the profile sets neither floor nor Froude number.
std::optional<Speed> least_purge_speed(Length bore, const gas::Gas& gas,
                                       const procedure::Profile& profile);

/// Errors: out_of_range (bore, length or speed that cannot be; a share over 1), missing_value (no
/// speed, and none is set).
Result<Purged> purge(const PurgeQuestion& question, const procedure::Profile& profile,
                     units::System system);

}  // namespace bellhole::restore
