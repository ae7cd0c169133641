// A pipe pressed flat between two bars, held and opened again, in three dimensions: bricks
// (bricks.hpp) of PE (overlay.hpp), moved by Newton's law in small explicit steps.
//
// Two clocks. What the material feels of time (rate, relaxation) runs at the real pace, hundreds
// of seconds; the motion is run through in a dozen swings of the ring, a twentieth of a second for
// an 8 in pipe, since a slow motion has hardly any inertia to be wrong about: the account of energy
// says how little. Between them stands one factor a stage; it is part of the answer.
//
// Bars are round and rigid, x = anything, axis above z = 0 (or flat plates); a node that would be
// inside is put back onto the surface, and what that takes of momentum is the force. The inner wall
// meets its mirror image in the plane y = 0 in the same way, the pressure of the gas follows it.
#pragma once

#include <vector>

#include "findings/trouble.hpp"
#include "findings/watch.hpp"
#include "flatten/bricks.hpp"
#include "flatten/mesh.hpp"
#include "units/quantity.hpp"

namespace bellhole::flatten {

/// One stretch of the work: the bars go from where they are to a gap. A stage that stays where it
/// is holds; its material's clock then runs ever faster, so that each decade of time gets its
/// share.
struct Stage {
  Length gap;
  Duration real;         ///< above 0
  double swings = 14.0;  ///< of the ring (ring_swing) that the motion takes, above 0
};

struct Press {
  Shape shape;
  Overlay material;
  double yields = 1.0;      ///< share of the moduli and yields, by temperature and grade
  double bar_radius = 0.0;  ///< m; 0: flat plates (and then only a slice makes sense)
  double pressure = 0.0;    ///< of the gas, Pa gauge
  double friction = 0.0;    ///< along the bar
  double density = 950.0;
  double hourglass = 1.0;
  double damping = 0.36;  ///< e-folds of the speed in a swing of the ring
  std::vector<Stage> stages;
  int samples = 120;  ///< a stage
};

struct Sample {
  std::size_t stage = 0;
  Duration real;  ///< since the stage began
  Length gap;
  Force force;  ///< mean of the steps about this moment: of one bar on the whole pipe (of a slice:
                ///< on its thickness of one brick)
};

/// J, of the eighth that is computed.
struct Energy {
  double by_bars = 0.0, by_gas = 0.0, strain = 0.0, hourglass = 0.0, damped = 0.0, kinetic = 0.0,
         rubbed = 0.0;
  double most_kinetic_share = 0.0;  ///< of the work done, after the first tenth of a closing
  /// What the account is off by, as a share of what the bars did: rounding, and blows against bar
  /// and mirror plane.
  [[nodiscard]] double off() const;
};

struct Pressed {
  std::vector<Sample> samples;
  Energy energy;
  double thickness = 0.0;  ///< of a slice, m
  double clocks = 0.0;     ///< seconds of the material for one of the motion, first stage
  std::int64_t steps = 0;
  std::int64_t bricks = 0;
  Mesh mesh;
  std::vector<Vector> at_least_gap, at_end;  ///< the mesh's nodes then
};

/// Time in which an unloaded ring of the pipe swings once from round to oval and back, s.
double ring_swing(const Press& question);

/// Same bits on one lane and on many.
/// Errors: out_of_range (a wall that is no wall, a gap over the outside diameter or under half the
/// wall, one that turns bricks inside out, a stage without time), cancelled.
Result<Pressed> press(const Press& question, Watch& watch, Lanes& lanes);

}  // namespace bellhole::flatten
