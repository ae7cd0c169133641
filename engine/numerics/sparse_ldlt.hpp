// Sparse symmetric positive definite systems whose pattern stays while their values change: L D L^T
// without pivoting. The pattern is analysed once and shared; a factor is cheap to make and belongs
// to one lane.
//
// Up-looking factorisation after T. A. Davis, "Algorithm 849: a concise sparse Cholesky
// factorization package", ACM Transactions on Mathematical Software 31 (2005) 587, but with every
// place of L known beforehand; ordering by approximate minimum degree (Amestoy, Davis, Duff 1996),
// as Eigen has it.
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
  /// Of the row that stands there after ordering: the last entry of its column.
  [[nodiscard]] Row diagonal_in_order(Row place) const {
    return first_[static_cast<std::size_t>(place) + 1] - 1;
  }
  /// Where each row stands after ordering. Who numbers his unknowns so solves in_order().
  [[nodiscard]] std::span<const Row> place() const { return place_; }
  [[nodiscard]] std::size_t values() const { return row_.size(); }
  [[nodiscard]] std::size_t factor_entries() const { return factor_row_.size(); }

 private:
  friend class SparseLdlt;
  void order(std::span<const std::pair<Row, Row>> entries);
  void analyse();

  Row n_ = 0;
  std::vector<Row> place_;  // row of the matrix -> row after ordering
  std::vector<Row> first_,
      row_;  // upper triangle by columns after ordering, diagonal last in each column
  std::vector<Row> slot_, diagonal_;
  // L by columns, rows ascending; and by rows: the columns of row r are entered_[row_first_[r]] …
  // ascending, and the entry stands at position_ of the same place.
  std::vector<Row> factor_first_, factor_row_;
  std::vector<Row> row_first_, entered_, position_;
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
  /// The same for x in the order of SparsePattern::place().
  void solve_in_order(std::span<double> x) const;
  [[nodiscard]] const SparsePattern& pattern() const { return *pattern_; }

 private:
  std::shared_ptr<const SparsePattern> pattern_;
  std::vector<double> values_, factor_, inverse_pivot_, work_;
};

}  // namespace bellhole::numerics
