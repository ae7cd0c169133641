// Joining PE in the repair: what the machine's gauge must read, how hot, how long, how much bead.
//
//   area    pi (OD - t) t, the ring of the wall t
//   force   interfacial pressure x area
//   gauge   force / piston area + drag, where piston area is the total effective one of the
//           machine's carriage and drag what its gauge reads while the carriage just moves
//
// The balance of forces, as joining procedures and ASTM F2620 have it (from memory). The gauge's
// window is the one that keeps the pressure between the faces within its limits whatever the wall
// is: least on the thickest wall, most on the thinnest (OD / DR). Limits come from the company's
// qualified joining procedure, as rows; a value that the shipped profile has from memory is used
// and leaves the answer undecided until it is confirmed. For electrofusion and mechanical fittings
// the maker's table rules: nothing is computed.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "findings/finding.hpp"
#include "findings/trouble.hpp"
#include "pipe/walls.hpp"
#include "procedure/profile.hpp"
#include "squeeze/sheet.hpp"
#include "units/print.hpp"

namespace bellhole::restore {

enum class JoinKind : std::uint8_t { butt, electrofusion, mechanical };
std::string_view words(JoinKind kind);

struct JoinQuestion {
  JoinKind kind = JoinKind::butt;
  squeeze::Found pipe;                    ///< its size, ratio or measured wall, and material
  const pipe::Material* other = nullptr;  ///< of the other end; missing: the same
  std::optional<Area> piston;             ///< total effective piston area of the machine
  std::optional<PressureDifference> drag;
  std::optional<Temperature> ambient;
  std::optional<Temperature> heater;  ///< read on its faces
};

/// A missing value cannot be told; a finding says why.
struct Joined {
  std::optional<pipe::Walls> walls;
  std::optional<Area> area_least, area_most;     ///< by the thinnest and the thickest wall
  std::optional<Force> force_least, force_most;  ///< at the faces, drag not among it
  std::optional<GaugePressure> gauge_least, gauge_most;
  std::optional<Temperature> heater_least, heater_most;
  std::optional<Length> bead;
  std::optional<Duration> soak, removal, cooling;
  std::string says;
  std::vector<std::string> cautions;
  Findings findings;
  std::vector<std::string> assumed;
};

/// Errors: those of pipe::walls; missing_value (a butt fusion without DR and readings);
/// out_of_range (a piston of no area, a drag below nought).
Result<Joined> join(const JoinQuestion& question, const procedure::Profile& profile,
                    units::System system);

}  // namespace bellhole::restore
