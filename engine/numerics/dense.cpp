#include "numerics/dense.hpp"

#include <cmath>
#include <cstddef>
#include <utility>

namespace bellhole::numerics {

bool solve_dense(std::span<double> a, std::span<double> b) {
  const std::size_t n = b.size();
  for (std::size_t k = 0; k < n; ++k) {
    std::size_t best = k;
    for (std::size_t i = k + 1; i < n; ++i) {
      if (std::abs(a[i * n + k]) > std::abs(a[best * n + k])) best = i;
    }
    if (!(std::abs(a[best * n + k]) > 1e-300)) return false;
    if (best != k) {
      for (std::size_t j = k; j < n; ++j) std::swap(a[k * n + j], a[best * n + j]);
      std::swap(b[k], b[best]);
    }
    for (std::size_t i = k + 1; i < n; ++i) {
      const double factor = a[i * n + k] / a[k * n + k];
      if (factor == 0.0) continue;
      for (std::size_t j = k; j < n; ++j) a[i * n + j] -= factor * a[k * n + j];
      b[i] -= factor * b[k];
    }
  }
  for (std::size_t k = n; k-- > 0;) {
    for (std::size_t j = k + 1; j < n; ++j) b[k] -= a[k * n + j] * b[j];
    b[k] /= a[k * n + k];
  }
  return true;
}

}  // namespace bellhole::numerics
