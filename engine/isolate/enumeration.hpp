// Best-first enumeration of cuts: subproblems in rising bound, each split into parts that have no
// cut in common, so that every cut turns up once and in order.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "isolate/border.hpp"
#include "isolate/cuts.hpp"
#include "isolate/labels.hpp"
#include "isolate/local_cut.hpp"
#include "isolate/prices.hpp"

namespace bellhole::isolate {

class Enumeration {
 public:
  Enumeration(const Graph& graph, const Query& query, Prices prices, Scratch& scratch,
              Watch& watch);

  std::optional<Cut> next(Cost below);
  [[nodiscard]] Proof proof() const;
  [[nodiscard]] std::optional<Blocked> blocked() const { return blocked_; }
  [[nodiscard]] std::span<const Vertex> already_off() const { return off_; }

 private:
  struct Entry {
    Cost bound = 0;
    std::int64_t number = 0;  ///< order of making: settles equal bounds the same way everywhere
    Labels::Step step = Labels::none;
  };
  struct Shut {
    std::vector<EdgeIndex> edges;
    std::vector<std::int32_t> supplies;
    bool operator==(const Shut&) const = default;
  };
  static bool later(const Entry& a, const Entry& b);

  void gather(Cost below);
  void open(const Entry& entry);
  [[nodiscard]] Cost next_bound() const;
  void push(Cost bound, Labels::Step step);

  void split_at_hanging(const Entry& entry, Cost value);
  void split_at_sealed(const Entry& entry, Cost value);
  void split_at_cut(const Entry& entry, Cost value);
  void split_along_tree(const Entry& entry, Cost value);
  [[nodiscard]] Cost cost_of_serving(Place place) const;
  Cost cost_of_losing(Place place);

  [[nodiscard]] Cut cut_of_zone() const;
  void settle();
  bool close_zone(std::vector<Place> lost);
  void explain();

  const Graph* graph_;
  const Layout& layout_;
  Prices prices_;
  Scratch& scratch_;
  Watch& watch_;
  std::int64_t limit_, tie_limit_;
  LocalCut cut_;
  Border border_;
  Labels labels_;
  std::vector<Place> work_;  ///< fed work, as places
  std::vector<Vertex> off_;
  std::vector<Entry> heap_;
  std::vector<Cut> ready_;  ///< ordered; the last is the next to give
  std::vector<Shut> given_;
  std::int64_t made_ = 0;
  std::optional<Cost> limit_bound_;  ///< set when the limit was reached
  Proof proof_;
  std::optional<Blocked> blocked_;
};

}  // namespace bellhole::isolate
