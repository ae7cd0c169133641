#include "numerics/sparse_ldlt.hpp"

#include <Eigen/OrderingMethods>
#include <Eigen/SparseCore>
#include <algorithm>

namespace bellhole::numerics {
namespace {

std::size_t at(Row i) { return static_cast<std::size_t>(i); }

/// place[row] after approximate minimum degree.
std::vector<Row> minimum_degree(Row n, std::span<const std::pair<Row, Row>> entries) {
  std::vector<Eigen::Triplet<double, Row>> triplets;
  triplets.reserve(2 * entries.size() + at(n));
  for (const auto& [a, b] : entries) {
    triplets.emplace_back(a, b, 1.0);
    triplets.emplace_back(b, a, 1.0);
  }
  for (Row i = 0; i < n; ++i) triplets.emplace_back(i, i, 1.0);
  Eigen::SparseMatrix<double, Eigen::ColMajor, Row> matrix(n, n);
  matrix.setFromTriplets(triplets.begin(), triplets.end());
  Eigen::AMDOrdering<Row> ordering;
  Eigen::PermutationMatrix<Eigen::Dynamic, Eigen::Dynamic, Row> permutation;
  ordering(matrix, permutation);  // indices()[i] is the row that is eliminated i-th
  std::vector<Row> place(at(n));
  for (Row i = 0; i < n; ++i) place[at(permutation.indices()[i])] = i;
  return place;
}

}  // namespace

SparsePattern::SparsePattern(Row n, std::span<const std::pair<Row, Row>> entries) : n_(n) {
  place_ = n > 0 ? minimum_degree(n, entries) : std::vector<Row>{};
  order(entries);
  analyse();
}

void SparsePattern::order(std::span<const std::pair<Row, Row>> entries) {
  struct Entry {
    Row column, row;
    std::size_t k;
  };
  std::vector<Entry> sorted;
  sorted.reserve(entries.size());
  slot_.assign(entries.size(), -1);
  for (std::size_t k = 0; k < entries.size(); ++k) {
    const Row a = place_[at(entries[k].first)], b = place_[at(entries[k].second)];
    if (a != b) sorted.push_back({std::max(a, b), std::min(a, b), k});
  }
  std::ranges::sort(sorted, [](const Entry& x, const Entry& y) {
    return x.column != y.column ? x.column < y.column : x.row < y.row;
  });
  first_.assign(at(n_) + 1, 0);
  std::vector<Row> diagonal_in_order(at(n_));
  auto next = sorted.begin();
  for (Row column = 0; column < n_; ++column) {
    first_[at(column)] = static_cast<Row>(row_.size());
    for (; next != sorted.end() && next->column == column; ++next) {
      const bool repeat =
          static_cast<Row>(row_.size()) > first_[at(column)] && row_.back() == next->row;
      if (!repeat) row_.push_back(next->row);
      slot_[next->k] = static_cast<Row>(row_.size()) - 1;
    }
    diagonal_in_order[at(column)] = static_cast<Row>(row_.size());
    row_.push_back(column);
  }
  first_[at(n_)] = static_cast<Row>(row_.size());
  diagonal_.resize(at(n_));
  for (Row i = 0; i < n_; ++i) diagonal_[at(i)] = diagonal_in_order[at(place_[at(i)])];
}

/// Rows of L by the elimination tree, and from them its columns.
void SparsePattern::analyse() {
  std::vector<Row> mark(at(n_)), parent(at(n_), -1), count(at(n_), 0);
  row_first_.assign(at(n_) + 1, 0);
  for (Row row = 0; row < n_; ++row) {
    mark[at(row)] = row;
    const auto begin = static_cast<std::ptrdiff_t>(entered_.size());
    for (Row p = first_[at(row)]; p < first_[at(row) + 1]; ++p) {
      for (Row i = row_[at(p)]; mark[at(i)] != row; i = parent[at(i)]) {
        if (parent[at(i)] < 0) parent[at(i)] = row;
        entered_.push_back(i);
        ++count[at(i)];
        mark[at(i)] = row;
      }
    }
    std::sort(entered_.begin() + begin, entered_.end());
    row_first_[at(row) + 1] = static_cast<Row>(entered_.size());
  }
  factor_first_.assign(at(n_) + 1, 0);
  for (Row i = 0; i < n_; ++i) factor_first_[at(i) + 1] = factor_first_[at(i)] + count[at(i)];
  std::vector<Row> next(factor_first_.begin(), factor_first_.end() - 1);
  factor_row_.resize(entered_.size());
  position_.resize(entered_.size());
  for (Row row = 0; row < n_; ++row) {
    for (Row k = row_first_[at(row)]; k < row_first_[at(row) + 1]; ++k) {
      position_[at(k)] = next[at(entered_[at(k)])]++;
      factor_row_[at(position_[at(k)])] = row;
    }
  }
}

SparseLdlt::SparseLdlt(std::shared_ptr<const SparsePattern> pattern)
    : pattern_(std::move(pattern)),
      values_(pattern_->values(), 0.0),
      factor_(pattern_->factor_entries()),
      inverse_pivot_(at(pattern_->size())),
      work_(at(pattern_->size()), 0.0) {}

bool SparseLdlt::factor() {
  const SparsePattern& s = *pattern_;
  const Row n = s.n_;
  const Row* factor_row = s.factor_row_.data();
  double* factor = factor_.data();
  double* work = work_.data();
  std::fill(work_.begin(), work_.end(), 0.0);
  for (Row row = 0; row < n; ++row) {
    for (Row p = s.first_[at(row)]; p < s.first_[at(row) + 1]; ++p) {
      work[s.row_[at(p)]] += values_[at(p)];
    }
    double pivot = work[row];
    work[row] = 0.0;
    for (Row k = s.row_first_[at(row)]; k < s.row_first_[at(row) + 1]; ++k) {
      const Row i = s.entered_[at(k)], end = s.position_[at(k)];
      const double value = work[i];
      work[i] = 0.0;
      for (Row p = s.factor_first_[at(i)]; p < end; ++p) work[factor_row[p]] -= factor[p] * value;
      const double entry = value * inverse_pivot_[at(i)];
      pivot -= entry * value;
      factor[end] = entry;
    }
    if (!(pivot > 0.0)) return false;
    inverse_pivot_[at(row)] = 1.0 / pivot;
  }
  return true;
}

void SparseLdlt::solve(std::span<double> x) {
  const SparsePattern& s = *pattern_;
  for (Row i = 0; i < s.n_; ++i) work_[at(s.place_[at(i)])] = x[at(i)];
  solve_in_order(work_);
  for (Row i = 0; i < s.n_; ++i) x[at(i)] = work_[at(s.place_[at(i)])];
}

void SparseLdlt::solve_in_order(std::span<double> x) const {
  const SparsePattern& s = *pattern_;
  const Row n = s.n_;
  const Row* first = s.factor_first_.data();
  const Row* factor_row = s.factor_row_.data();
  const double* factor = factor_.data();
  double* y = x.data();
  for (Row i = 0; i < n; ++i) {
    const double value = y[i];
    for (Row p = first[i]; p < first[i + 1]; ++p) y[factor_row[p]] -= factor[p] * value;
  }
  for (Row i = n - 1; i >= 0; --i) {
    double value = y[i] * inverse_pivot_[at(i)];
    for (Row p = first[i]; p < first[i + 1]; ++p) value -= factor[p] * y[factor_row[p]];
    y[i] = value;
  }
}

}  // namespace bellhole::numerics
