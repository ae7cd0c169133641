#include "numerics/sparse_ldlt.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

#include "numerics/dense.hpp"

namespace bellhole::numerics {
namespace {

using Entry = std::pair<Row, Row>;

/// Laplacian of a graph with weights, plus a little on the diagonal; also as a dense matrix.
struct Sample {
  Row n;
  std::vector<Entry> entries;
  std::vector<double> weights;
  double ground;

  [[nodiscard]] std::vector<double> dense() const {
    const auto size = static_cast<std::size_t>(n);
    std::vector<double> a(size * size, 0.0);
    for (std::size_t i = 0; i < size; ++i) a[i * size + i] = ground;
    for (std::size_t k = 0; k < entries.size(); ++k) {
      const auto i = static_cast<std::size_t>(entries[k].first),
                 j = static_cast<std::size_t>(entries[k].second);
      if (i == j) continue;
      a[i * size + i] += weights[k];
      a[j * size + j] += weights[k];
      a[i * size + j] -= weights[k];
      a[j * size + i] -= weights[k];
    }
    return a;
  }
  void fill(SparseLdlt& matrix) const {
    auto values = matrix.values();
    std::fill(values.begin(), values.end(), 0.0);
    const auto add = [&](Row slot, double value) {
      values[static_cast<std::size_t>(slot)] += value;
    };
    for (Row i = 0; i < n; ++i) add(matrix.pattern().diagonal(i), ground);
    for (std::size_t k = 0; k < entries.size(); ++k) {
      if (entries[k].first == entries[k].second) continue;
      add(matrix.pattern().diagonal(entries[k].first), weights[k]);
      add(matrix.pattern().diagonal(entries[k].second), weights[k]);
      add(matrix.pattern().slot(k), -weights[k]);
    }
  }
};

RC_GTEST_PROP(SparseLdlt, AgreesWithDenseElimination, ()) {
  const Row n = *rc::gen::inRange(1, 30);
  Sample sample{.n = n, .ground = 0.1};
  const int edges = *rc::gen::inRange(0, 80);
  for (int k = 0; k < edges; ++k) {
    sample.entries.emplace_back(*rc::gen::inRange(0, n), *rc::gen::inRange(0, n));
    sample.weights.push_back(std::pow(10.0, *rc::gen::inRange(-3, 4)));
  }
  std::vector<double> x, wanted;
  for (Row i = 0; i < n; ++i) x.push_back(*rc::gen::inRange(-9, 10));
  wanted = x;
  auto a = sample.dense();
  RC_ASSERT(solve_dense(a, wanted));
  SparseLdlt matrix(std::make_shared<SparsePattern>(n, sample.entries));
  for (int repeat = 0; repeat < 2; ++repeat) {  // a factor may be made again
    sample.fill(matrix);
    RC_ASSERT(matrix.factor());
  }
  matrix.solve(x);
  for (std::size_t i = 0; i < x.size(); ++i)
    RC_ASSERT(std::abs(x[i] - wanted[i]) <= 1e-8 * (1.0 + std::abs(wanted[i])));
}

TEST(SparseLdlt, SaysThatAMatrixIsNotPositiveDefinite) {
  const std::vector<Entry> entries{{0, 1}};
  SparseLdlt matrix(std::make_shared<SparsePattern>(2, entries));
  Sample{.n = 2, .entries = entries, .weights = {1.0}, .ground = 0.0}.fill(matrix);
  EXPECT_FALSE(matrix.factor()) << "a graph tied to nothing has no unique potential";
}

}  // namespace
}  // namespace bellhole::numerics
