// Which of the company's stops fits the pipe that was found, or none. A stop is chosen, never
// rounded to.
//
// A stop fits when all of these hold:
//   - its label does not name another size or another ratio;
//   - it does not squeeze the wall of the profile's basis beyond the limit;
//   - the inner walls meet on the thinnest wall that the pipe can have;
//   - it squeezes the thinnest wall by squeeze.compression_least, where that is set;
//   - its label names this size and ratio, or its gap is nearer to the gap wanted here than to the
//   one wanted
//     for any other ratio of this size. This is what sees through a DR 11 stop on DR 13.5 pipe.
// Of those that fit, the narrowest is chosen.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "pipe/walls.hpp"
#include "squeeze/tool.hpp"
#include "units/print.hpp"

namespace bellhole::squeeze {

enum class Basis { minimum, nominal, maximum, measured_else_minimum };

/// The wall of a basis.
Length wall_of(Basis basis, const pipe::Walls& walls);

/// What a gap does to the thinnest, mean and thickest wall.
struct Compressions {
  Fraction at_min, at_nominal, at_max;
};
Compressions compressions(Length gap, const pipe::Walls& walls);

struct StopQuestion {
  const pipe::Size& size;
  std::optional<double> ratio;  ///< as printed; missing: not known
  const pipe::Walls& walls;
  Basis basis = Basis::minimum;
  Fraction most;                  ///< squeeze.compression
  std::optional<Fraction> least;  ///< squeeze.compression_least
  units::System units = units::System::us;
};

struct StopAnswer {
  Stop stop;
  Compressions does;
  bool fits = false;
  std::string because;  ///< why not; empty where it fits
};

/// Looks at one stop.
StopAnswer look_at(const Stop& stop, const StopQuestion& question);

/// Index of the chosen answer, or nothing.
std::optional<std::size_t> choose(std::span<const StopAnswer> answers);

}  // namespace bellhole::squeeze
