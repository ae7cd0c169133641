// An eighth of a pipe between bars as bricks. x across, along the bars; y up, toward the upper bar;
// z along the pipe from under the bar. The planes x = 0, y = 0 and z = 0 are planes of symmetry.
#pragma once

#include <array>
#include <cstdint>
#include <vector>

namespace bellhole::flatten {

struct Shape {
  double od = 0.0, wall = 0.0;  ///< m
  double half_length = 0.0;     ///< m; a slice of one brick with no strain along it: 0
  double finest = 0.0;          ///< length of the bricks under the bar, m
  int through = 5, around = 40, along = 40;
  /// Bricks by the ear (y = 0) are this many times as short around as those under the bar.
  double toward_ear = 1.0;
};

struct Mesh {
  std::vector<std::array<double, 3>> nodes;
  /// Corner n of a brick lies outward where bit 0 of n is set, further round toward the bar where
  /// bit 1 is, further along where bit 2 is.
  std::vector<std::array<std::int32_t, 8>> bricks;
  std::vector<std::array<std::int32_t, 4>> inside;  ///< faces, their normals into the wall
  std::vector<std::array<std::uint8_t, 3>> held;    ///< per node: which coordinates stay
  /// Nodes round the section at z = 0, from the ear to under the bar.
  std::vector<std::int32_t> inner, outer;
};

/// REQUIRES: 0 < wall < od / 2, counts above 0, half_length 0 or above `finest`.
Mesh mesh_of(const Shape& shape);

}  // namespace bellhole::flatten
