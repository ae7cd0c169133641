// Sparse symmetric positive definite systems whose pattern stays while their values change: L D L^T
// without pivoting. The pattern is analysed once and shared; a factor is cheap to make and belongs
// to one lane.
//
// Up-looking factorisation after T. A. Davis, "Algorithm 849: a concise sparse Cholesky
// factorization package", ACM Transactions on Mathematical Software 31 (2005) 587; ordering by
// approximate minimum degree (Amestoy, Davis, Duff 1996), as Eigen has it.
#pragma once

#include <cstdint>
#include <memory>
#include <span>
#include <utility>
#include <vector>

namespace bellhole::numerics {

using Row = std::int32_t;

/// Where the off-diagonal entries of an n x n symmetric matrix are, ordered and analysed.
/// Immutable.
class SparsePattern {
 public:
  /// `entries` are pairs (row, column), either triangle, repeats and pairs with row == column
  /// allowed.
  SparsePattern(Row n, std::span<const std::pair<Row, Row>> entries);

  [[nodiscard]] Row size() const { return n_; }
  /// Slot of entry k of the constructor in the values; -1 for one on the diagonal.
  [[nodiscard]] Row slot(std::size_t k) const { return slot_[k]; }
  [[nodiscard]] Row diagonal(Row row) const { return diagonal_[static_cast<std::size_t>(row)]; }
  [[nodiscard]] std::size_t values() const { return row_.size(); }
  [[nodiscard]] std::size_t factor_entries() const {
    return static_cast<std::size_t>(factor_first_.back());
  }

 private:
  friend class SparseLdlt;
  void order(std::span<const std::pair<Row, Row>> entries);
  void analyse();

  Row n_ = 0;
  std::vector<Row> place_;  // row of the matrix -> row after ordering
  std::vector<Row> first_,
      row_;  // upper triangle by columns after ordering, diagonal last in each column
  std::vector<Row> slot_, diagonal_;
  std::vector<Row> parent_;        // elimination tree
  std::vector<Row> factor_first_;  // columns of L
};

/// Values of one matrix and its factor.
class SparseLdlt {
 public:
  explicit SparseLdlt(std::shared_ptr<const SparsePattern> pattern);

  /// Values by slot; zero them, add to them, factor().
  [[nodiscard]] std::span<double> values() { return values_; }
  /// False when a pivot is not positive: the matrix is not positive definite.
  bool factor();
  /// Solves in place. REQUIRES a factor() that was true. x has size() entries.
  void solve(std::span<double> x);
  [[nodiscard]] const SparsePattern& pattern() const { return *pattern_; }

 private:
  std::shared_ptr<const SparsePattern> pattern_;
  std::vector<double> values_, factor_, pivot_, work_;
  std::vector<Row> factor_row_, filled_, mark_, stack_;
};

}  // namespace bellhole::numerics
