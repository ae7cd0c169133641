// One pipe through a whole squeeze in three dimensions: closed at a pace, held, opened, left alone.
// What press.hpp computes, asked and answered in the trade's words.
//
// Sure within limits: the force, of the material that it is given (docs/theory/validation.md).
// Hardly sure: the strain in the fold at the ears, and what shape the pipe has once it is open.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "flatten/closed_form.hpp"
#include "flatten/press.hpp"

namespace bellhole::flatten {

/// draft: seconds, forces off by up to a tenth; ordinary: minutes; fine: a quarter of an hour.
/// tabled: what the table (table.hpp) is made of, a quarter of a minute for the commonest pipes.
enum class Fineness { draft, ordinary, fine, tabled };

struct PipeRun {
  Length od, wall, bar_radius;
  Length gap;          ///< of the stops
  double share = 1.0;  ///< of the best grade's yield at 23 degC: share_of()
  GaugePressure pressure;
  Duration closing;                             ///< above 0
  std::optional<Duration> hold, opening, rest;  ///< each only after the one before
  double friction = 0.0;                        ///< along the bars
  Fineness bricks = Fineness::ordinary;
  int samples = 120;  ///< a stretch
};

/// Hoop strain (logarithmic) in the fold where the walls bend back, at the least gap, over a length
/// of wall beside the plane of symmetry.
struct EarStrain {
  Length over_inner, over_outer;  ///< unloaded
  double inner = 0.0, outer = 0.0;
};

struct Outline {
  std::vector<std::pair<Length, Length>> inner, outer;  ///< a quarter, from ear to under the bar
};

struct PipeRunAnswer {
  Pressed pressed;
  EarStrain ear;
  Length width;                                         ///< of the flattened pipe under the bars
  Outline at_least_gap, at_end;                         ///< under the bars
  std::vector<std::pair<Length, Length>> height_after;  ///< along the pipe, outside height
};

/// Errors: as press(); missing_value where a later stretch is asked without the one before.
Result<PipeRunAnswer> run(const PipeRun& question, Watch& watch, Lanes& lanes);

/// A band about a computed force: as wide, in shares, as that of the closed form at this gap, since
/// material and wall are what it is wide by.
Band band_about(Force computed, const Jaws& jaws, const Walls& walls, Length gap);

/// From the lower low to the higher high, the first's expectation: for where two ways to reckon a
/// force differ and neither is known to be right.
Band covering(const Band& first, const Band& second);

/// The force of the closing at a gap, straight between samples; 0 at the outside diameter.
Force closing_force(const std::vector<Sample>& samples, Length od, Length gap);

}  // namespace bellhole::flatten
