#include "network/skeleton.hpp"

namespace bellhole::network {
namespace {

class Folder {
 public:
  Folder(const Points& points, std::span<const Index> kept) : points_(points) {
    const std::size_t n = points.size();
    keep_.assign(n, 0);
    for (Index point : kept) keep_[at(point)] = 1;
    begin_.assign(n + 1, 0);
    for (std::size_t s = 0; s < points.segments(); ++s) {
      ++begin_[at(points.a[s]) + 1];
      ++begin_[at(points.b[s]) + 1];
    }
    degree_.resize(n);
    for (std::size_t i = 0; i < n; ++i) {
      degree_[i] = begin_[i + 1];
      begin_[i + 1] += begin_[i];
    }
    around_.resize(2 * points.segments());
    auto next = begin_;
    for (std::size_t s = 0; s < points.segments(); ++s) {
      around_[at(next[at(points.a[s])]++)] = static_cast<Index>(s);
      around_[at(next[at(points.b[s])]++)] = static_cast<Index>(s);
    }
    used_.assign(points.segments(), 0);
    gone_.assign(n, 0);
  }

  Skeleton fold(Fold how) {
    if (how == Fold::trees_and_chains) peel();
    made_.core.assign(points_.size(), none);
    for (std::size_t i = 0; i < points_.size(); ++i) {
      const bool meeting = keep_[i] != 0 || degree_[i] != 2 || how == Fold::nothing;
      if (gone_[i] == 0 && meeting) add_core(static_cast<Index>(i));
    }
    for (std::size_t c = 0; c < made_.point.size(); ++c) chains_from(made_.point[c]);
    close_rings();
    made_.first.push_back(static_cast<Index>(made_.link_segment.size()));
    return std::move(made_);
  }

 private:
  [[nodiscard]] Index across(Index segment, Index point) const {
    return points_.a[at(segment)] == point ? points_.b[at(segment)] : points_.a[at(segment)];
  }

  void add_core(Index point) {
    made_.core[at(point)] = static_cast<Index>(made_.point.size());
    made_.point.push_back(point);
  }

  [[nodiscard]] Index unused_segment(Index point) const {
    for (Index k = begin_[at(point)]; k < begin_[at(point) + 1]; ++k) {
      if (used_[at(around_[at(k)])] == 0) return around_[at(k)];
    }
    return none;
  }

  void peel() {
    std::vector<Index> ends;
    for (std::size_t i = 0; i < points_.size(); ++i) {
      if (degree_[i] == 1 && keep_[i] == 0) ends.push_back(static_cast<Index>(i));
    }
    for (std::size_t next = 0; next < ends.size(); ++next) {
      const Index leaf = ends[next];
      if (degree_[at(leaf)] != 1) continue;  // the last point of a tree with nothing to hang on
      const Index segment = unused_segment(leaf);
      const Index root = across(segment, leaf);
      used_[at(segment)] = 1;
      gone_[at(leaf)] = 1;
      --degree_[at(leaf)];
      made_.leaf.push_back(leaf);
      made_.leaf_segment.push_back(segment);
      made_.leaf_root.push_back(root);
      if (--degree_[at(root)] == 1 && keep_[at(root)] == 0) ends.push_back(root);
    }
  }

  void chains_from(Index start) {
    for (Index segment = unused_segment(start); segment != none; segment = unused_segment(start)) {
      made_.a.push_back(made_.core[at(start)]);
      made_.first.push_back(static_cast<Index>(made_.link_segment.size()));
      Index here = start;
      while (true) {
        used_[at(segment)] = 1;
        here = across(segment, here);
        made_.link_segment.push_back(segment);
        made_.link_point.push_back(here);
        if (made_.core[at(here)] != none) break;
        segment = unused_segment(here);
      }
      made_.b.push_back(made_.core[at(here)]);
    }
  }

  /// Rings that touch no meeting point: one of their points becomes one.
  void close_rings() {
    for (std::size_t s = 0; s < points_.segments(); ++s) {
      if (used_[s] != 0) continue;
      add_core(points_.a[s]);
      chains_from(points_.a[s]);
    }
  }

  const Points& points_;
  Skeleton made_;
  std::vector<Index> begin_, around_, degree_;
  std::vector<char> keep_, used_, gone_;
};

}  // namespace

Skeleton make_skeleton(const Points& points, std::span<const Index> kept,
                       std::span<const std::pair<Index, Index>> pairs, Fold fold) {
  Skeleton skeleton = Folder(points, kept).fold(fold);
  std::vector<std::pair<numerics::Row, numerics::Row>> entries;
  entries.reserve(skeleton.chains() + pairs.size());
  for (std::size_t c = 0; c < skeleton.chains(); ++c) {
    entries.emplace_back(skeleton.a[c], skeleton.b[c]);
  }
  for (const auto& [one, other] : pairs) {
    entries.emplace_back(skeleton.core[at(one)], skeleton.core[at(other)]);
  }
  skeleton.pattern = std::make_shared<numerics::SparsePattern>(
      static_cast<numerics::Row>(skeleton.size()), entries);
  return skeleton;
}

}  // namespace bellhole::network
