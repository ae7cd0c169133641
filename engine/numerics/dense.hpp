// Small dense systems.
#pragma once

#include <span>
#include <vector>

namespace bellhole::numerics {

/// Solves A x = b in place of b by elimination with row exchanges; A (n x n, by rows) is destroyed.
/// False when A is singular to working precision.
bool solve_dense(std::span<double> a, std::span<double> b);

}  // namespace bellhole::numerics
