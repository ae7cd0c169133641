// The holes of a plan: where squeezes, vent and spare place lie along the main, and how much of it
// is to be dug free.
//
// Places are laid from the work outward, `apart` from each other: first the spare place, then the
// squeeze (or the two with a vent between). Beside a new joint the hole runs from the joint to the
// edge of the outermost tool; elsewhere from tool edge to tool edge. Room to work is added only
// where the profile sets it. With 8 in pipe, 25.875 in of clearance and a half-width of 3 in that
// is 2 x 25.875 + 3 = 54.75 in for one squeeze and a spare place, and 3 x 25.875 + 3 = 80.625 in
// for two and a spare place, on each side of the new joint.
//
// While one squeeze or two is undecided both are laid out. Nothing hidden in the ground is seen
// beyond the outermost tool: `seen` is the length that shows the clearance of every place, never
// less than what is dug.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "findings/finding.hpp"
#include "network/columns.hpp"
#include "plan/places.hpp"
#include "procedure/profile.hpp"
#include "units/print.hpp"

namespace bellhole::plan {

enum class HolePlaceKind : std::uint8_t { squeeze, vent, spare };

struct HolePlace {
  HolePlaceKind kind = HolePlaceKind::squeeze;
  Length station;  ///< on the main
  Length at;       ///< from the hole's beginning: the joint, or the near edge of the hole
};

/// One way of doing it at one place.
struct HoleOption {
  int squeezes = 1;
  bool fits = true;               ///< the window on the map holds the squeezes
  bool spare = true;              ///< and a spare place
  std::vector<HolePlace> places;  ///< from the work outward
  std::optional<Length> length;   ///< to dig; nothing where the tool's half-width is not known
  Length seen;                    ///< to dig so that the clearance of every place is seen
};

/// The hole at one squeeze.
struct HoleSide {
  std::size_t shutoff = 0;  ///< in ShutoffPlan::shutoffs
  network::Index pipe = network::none;
  int toward = 1;               ///< the work lies at higher (+1) or lower (-1) stations
  std::optional<Length> joint;  ///< station of the new joint that the hole begins at
  Length od, clearance, apart;
  std::optional<Length> half_width;
  std::string tool;
  std::optional<Length> depth, width;  ///< of the hole; nothing where cover or room is not known
  std::vector<HoleOption> options;     ///< one; or both, first that of one squeeze
  [[nodiscard]] const HoleOption& longest() const { return options.back(); }
};

/// One excavation: neighbours with less ground between them than the profile leaves standing are
/// one.
struct Excavation {
  network::Index pipe = network::none;
  std::vector<std::size_t> sides;  ///< in Hole::sides
  Length begin, end;               ///< stations
};

struct Hole {
  std::vector<HoleSide> sides;
  std::vector<Excavation> excavations;  ///< of the longest options
  std::optional<Length> length;         ///< of the longest side; nothing where one is not known
  std::optional<Length> working_room, beside, below, bench;  ///< as the profile sets them
  Findings findings;
};

/// A squeeze of the plan as the hole needs it.
struct HoleAsk {
  std::size_t shutoff = 0;
  std::string letter;
  Place place;
  int toward = 1;
  std::optional<Length> half_width;
  std::string tool;
};

/// Allowed positions of the bars' centreline in a window, from the work outward: the place itself
/// and its neighbours, `apart` from each other, at most three.
std::vector<Length> lay_out(const Place& place, int toward);

/// Rules hole.places (a window too short for what is asked), hole.working_room, hole.beside,
/// hole.below, hole.bench.
Hole hole_of(const network::Network& network, const Work& work, const std::vector<HoleAsk>& asks,
             const procedure::Profile& profile, const procedure::Case& in, units::System system);

}  // namespace bellhole::plan
