// The same question put to CBC, a general solver of integer programs (COIN-OR), as another way to
// the optimum that shares nothing with the engine.
//
//   minimise   sum shut_e x_e + sum lost_v y_v
//   y_v in {0, 1}: v is lost; y = 1 at the work; x_e >= |y_a - y_b|: e is shut
//   each vertex that is not lost takes in one unit of a flow that starts in the supplies and runs
//   only between vertices that are not lost: so it really reaches a supply
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sketch.hpp"

namespace bellhole::isolate::test {

struct Optimum {
  bool exists = false;
  Cost cost = 0;
  double seconds = 0;  ///< processor time by CBC's own account, reading and writing left out
};

/// Writes the program to `folder`, runs `cbc` on it and reads the answer. None if that failed.
/// Costs should be small whole numbers: CBC reckons in floating point.
std::optional<Optimum> solve_with_cbc(const std::string& cbc, const std::string& folder,
                                      const Sketch& sketch, const std::vector<Vertex>& work);

}  // namespace bellhole::isolate::test
