// What each open subproblem has decided: vertices that are lost, vertices that are served.
// Subproblems come from one another, so each is kept as what it adds to the one it came from.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

#include "isolate/layout.hpp"
#include "isolate/scratch.hpp"

namespace bellhole::isolate {

class Labels {
 public:
  using Step = std::int32_t;
  static constexpr Step none = -1;

  /// Begins a list of decisions, of which subproblems take a beginning each.
  void begin() { first_ = items_.size(); }
  void add(Place place, bool lost) { items_.push_back({place, lost}); }

  /// A subproblem of `parent` that takes the list as it stands now.
  Step take(Step parent) {
    steps_.push_back({parent, first_, items_.size(), {nowhere, false}});
    return static_cast<Step>(steps_.size() - 1);
  }
  /// The same, with one decision more that is not in the list.
  Step take(Step parent, Place place, bool lost) {
    const Step step = take(parent);
    steps_.back().own = {place, lost};
    return step;
  }

  /// Puts all decisions of a subproblem into scratch.lost and scratch.served.
  void apply(Step step, Scratch& scratch) const {
    scratch.lost.clear();
    scratch.served.clear();
    const auto put = [&](const Item& item) {
      (item.lost ? scratch.lost : scratch.served).push_back(item.place);
    };
    for (; step != none; step = steps_[static_cast<std::size_t>(step)].parent) {
      const Taken& taken = steps_[static_cast<std::size_t>(step)];
      for (std::size_t i = taken.first; i < taken.past; ++i) put(items_[i]);
      if (taken.own.place != nowhere) put(taken.own);
    }
  }

 private:
  struct Item {
    Place place = nowhere;
    bool lost = false;
  };
  struct Taken {
    Step parent = none;
    std::size_t first = 0, past = 0;
    Item own;
  };

  std::size_t first_ = 0;
  std::vector<Item> items_;
  std::vector<Taken> steps_;
};

}  // namespace bellhole::isolate
