// One squeeze: what is asked, and everything that Bellhole has to say about it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "findings/finding.hpp"
#include "pipe/materials.hpp"
#include "pipe/told.hpp"
#include "pipe/walls.hpp"
#include "procedure/date.hpp"
#include "procedure/profile.hpp"
#include "squeeze/force.hpp"
#include "squeeze/pace.hpp"
#include "squeeze/stops.hpp"
#include "squeeze/tool.hpp"
#include "squeeze/windows.hpp"
#include "units/print.hpp"

namespace bellhole::squeeze {

/// The pipe as found, or as the map has it. Missing: not known, which never passes.
struct Found {
  pipe::Size size;
  std::optional<double> ratio;
  std::vector<Length> readings;  ///< of the wall, measured
  const pipe::Material* material = nullptr;
  std::optional<Stress> hdb_140;  ///< from the pipe's own listing, instead of the table's
  std::optional<procedure::Days> made;
  pipe::Lining lining;
  std::optional<GaugePressure> pressure;  ///< in the pipe, where it is squeezed
  std::string pressure_unit;  ///< as typed ("psi"), for doubt about the unit; empty: unknown
  std::optional<GaugePressure> maop;
  std::optional<Temperature> temperature;  ///< of the pipe's wall
};

struct Question {
  Found pipe;
  std::optional<Window> exposed;
  std::vector<Feature> features;
  std::optional<Tool> tool;
  std::optional<std::vector<Stop>> stops;  ///< instead of, or beside, those of the tool
  std::optional<Length> half_width;        ///< instead of the tool's
  bool places = true;  ///< look for places; without, only the tool and its pace matter
  bool two = false;    ///< asked for: two squeezes with a vent between
  std::optional<Length> mark_every;  ///< marks of the timetables; missing: half an inch or 10 mm
};

/// How the pipe's design pressure came about.
struct Rated {
  std::optional<GaugePressure> pressure;  ///< missing: cannot be told
  std::string form;                       ///< "2 x 1600 psi x 0.32 / (11 - 1), at most 100.0 psig"
  std::string source;
  std::optional<Stress> strength;  ///< HDB at the pipe's temperature, or MRS
  std::string strength_source;
  std::optional<Evidence> strength_evidence;
};

enum class Arrangement { one, two, undecided };

/// Where to put it, in the exposed length.
struct Places {
  std::vector<Window> windows;
  std::vector<Window> seen;  ///< the part of them with nothing hidden within the clearance
  std::optional<Length>
      at;  ///< suggested: the middle of the widest seen window, else of the widest
  /// As many places as fit beside each other, from the left: in seen windows if those hold enough.
  std::vector<Length> fit;
  bool all_seen = false;  ///< as many places as are asked for lie in seen windows
};

/// Length to expose, by what is to be done there. The spare place is for a squeeze that does not
/// hold.
struct HoleLengths {
  Length one, one_and_spare, two, two_and_spare;
  struct BesideJoint {
    Length one, one_and_spare, two, two_and_spare;
  };
  /// On each side of a new joint; nothing where the tool's half-width is not known.
  std::optional<BesideJoint> beside_joint;
};

/// Everything about one squeeze. A missing value cannot be told; a finding says why.
struct Sheet {
  Found pipe;
  std::optional<pipe::Walls> walls;
  std::optional<Basis> basis;
  Rated rated;
  std::optional<Fraction> compression_most;
  std::optional<Length> gap_wanted;  ///< on the profile's basis
  std::vector<StopAnswer> stops;
  bool stops_given = false;
  std::optional<std::size_t> chosen;         ///< in `stops`
  std::optional<Length> gap;                 ///< of the chosen stop, else the one wanted
  std::optional<Compressions> compressions;  ///< at `gap`
  std::optional<Timetable> close, open;
  std::optional<Duration> wait_at_limit;
  std::optional<Duration> hold_most;
  std::optional<Length> clearance;  ///< from the centreline
  std::optional<Length> half_width;
  std::optional<Places> places;
  std::optional<HoleLengths> hole;
  Arrangement arrangement = Arrangement::undecided;
  std::optional<Tool> tool;
  std::optional<Force> force_at_limit;
  std::optional<Flattening> flattening;  ///< missing: a finding says what lacks
  std::vector<procedure::Row> limits;    ///< the profile's rows that were looked at, in that order
  Findings findings;
  std::vector<std::string> assumed;
};

/// Assesses one squeeze by a profile. Numbers are given wherever they can be computed, whatever is
/// undecided beside them. Errors: unknown_ratio, out_of_range (a wall that the pipe cannot have, a
/// step too small to work by).
Result<Sheet> assess(const Question& question, const procedure::Profile& profile,
                     units::System units);

}  // namespace bellhole::squeeze
