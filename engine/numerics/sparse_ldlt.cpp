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

void SparsePattern::analyse() {
  std::vector<Row> mark(at(n_)), count(at(n_), 0);
  parent_.assign(at(n_), -1);
  for (Row column = 0; column < n_; ++column) {
    mark[at(column)] = column;
    for (Row p = first_[at(column)]; p < first_[at(column) + 1]; ++p) {
      for (Row i = row_[at(p)]; mark[at(i)] != column; i = parent_[at(i)]) {
        if (parent_[at(i)] < 0) parent_[at(i)] = column;
        ++count[at(i)];
        mark[at(i)] = column;
      }
    }
  }
  factor_first_.assign(at(n_) + 1, 0);
  for (Row i = 0; i < n_; ++i) factor_first_[at(i) + 1] = factor_first_[at(i)] + count[at(i)];
}

SparseLdlt::SparseLdlt(std::shared_ptr<const SparsePattern> pattern)
    : pattern_(std::move(pattern)),
      values_(pattern_->values(), 0.0),
      factor_(pattern_->factor_entries()),
      pivot_(at(pattern_->size())),
      work_(at(pattern_->size()), 0.0),
      factor_row_(pattern_->factor_entries()),
      filled_(at(pattern_->size())),
      mark_(at(pattern_->size())),
      stack_(at(pattern_->size())) {}

bool SparseLdlt::factor() {
  const SparsePattern& s = *pattern_;
  const Row n = s.n_;
  std::fill(work_.begin(), work_.end(), 0.0);
  for (Row column = 0; column < n; ++column) {
    // Pattern of row `column` of L: paths in the elimination tree, gathered so that children come
    // first.
    Row top = n;
    mark_[at(column)] = column;
    filled_[at(column)] = 0;
    for (Row p = s.first_[at(column)]; p < s.first_[at(column) + 1]; ++p) {
      Row i = s.row_[at(p)];
      work_[at(i)] += values_[at(p)];
      Row length = 0;
      for (; mark_[at(i)] != column; i = s.parent_[at(i)]) {
        stack_[at(length++)] = i;
        mark_[at(i)] = column;
      }
      while (length > 0) stack_[at(--top)] = stack_[at(--length)];
    }
    double pivot = work_[at(column)];
    work_[at(column)] = 0.0;
    for (; top < n; ++top) {
      const Row i = stack_[at(top)];
      const double value = work_[at(i)];
      work_[at(i)] = 0.0;
      const Row begin = s.factor_first_[at(i)], end = begin + filled_[at(i)];
      for (Row p = begin; p < end; ++p) work_[at(factor_row_[at(p)])] -= factor_[at(p)] * value;
      const double entry = value / pivot_[at(i)];
      pivot -= entry * value;
      factor_row_[at(end)] = column;
      factor_[at(end)] = entry;
      ++filled_[at(i)];
    }
    if (!(pivot > 0.0)) return false;
    pivot_[at(column)] = pivot;
  }
  return true;
}

void SparseLdlt::solve(std::span<double> x) {
  const SparsePattern& s = *pattern_;
  const Row n = s.n_;
  std::vector<double>& y = work_;
  for (Row i = 0; i < n; ++i) y[at(s.place_[at(i)])] = x[at(i)];
  for (Row i = 0; i < n; ++i) {
    const double value = y[at(i)];
    for (Row p = s.factor_first_[at(i)]; p < s.factor_first_[at(i) + 1]; ++p) {
      y[at(factor_row_[at(p)])] -= factor_[at(p)] * value;
    }
  }
  for (Row i = 0; i < n; ++i) y[at(i)] /= pivot_[at(i)];
  for (Row i = n - 1; i >= 0; --i) {
    double value = y[at(i)];
    for (Row p = s.factor_first_[at(i)]; p < s.factor_first_[at(i) + 1]; ++p) {
      value -= factor_[at(p)] * y[at(factor_row_[at(p)])];
    }
    y[at(i)] = value;
  }
  for (Row i = 0; i < n; ++i) x[at(i)] = y[at(s.place_[at(i)])];
}

}  // namespace bellhole::numerics
