// Which things hang together.
//
// Internal to network/.
#pragma once

#include <numeric>
#include <utility>
#include <vector>

#include "network/points.hpp"

namespace bellhole::network {

/// Union-find with path halving; the root of a set is its least member.
class Sets {
 public:
  explicit Sets(std::size_t n) : up_(n) { std::iota(up_.begin(), up_.end(), Index{0}); }
  Index root(Index i) {
    while (up_[at(i)] != i) i = up_[at(i)] = up_[at(up_[at(i)])];
    return i;
  }
  void join(Index i, Index j) {
    i = root(i);
    j = root(j);
    if (i < j) std::swap(i, j);
    up_[at(i)] = j;
  }

 private:
  std::vector<Index> up_;
};

}  // namespace bellhole::network
