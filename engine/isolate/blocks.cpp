#include "isolate/blocks.hpp"

#include <algorithm>
#include <cstddef>

namespace bellhole::isolate {

namespace {

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

/// The depth-first search, kept on a stack of its own: a chain of mains can be as deep as the town
/// is big.
class Search {
 public:
  explicit Search(const Neighbours& neighbours)
      : neighbours_(neighbours),
        met_(neighbours.first.size(), 0),
        low_(neighbours.first.size(), 0),
        next_(neighbours.first) {}

  Blocks run(Vertex from) {
    enter(from);
    while (!path_.empty()) step();
    return std::move(found_);
  }

 private:
  void enter(Vertex v) {
    met_[at(v)] = low_[at(v)] = ++clock_;
    path_.push_back(v);
    open_.push_back(v);
  }

  void step() {
    const Vertex u = path_.back();
    if (next_[at(u)] < neighbours_.first[at(u) + 1]) {
      const Vertex v = neighbours_.to[at(next_[at(u)]++)];
      if (met_[at(v)] == 0) {
        enter(v);
      } else {
        low_[at(u)] = std::min(low_[at(u)], met_[at(v)]);
      }
      return;
    }
    path_.pop_back();
    if (path_.empty()) return;
    const Vertex above = path_.back();
    low_[at(above)] = std::min(low_[at(above)], low_[at(u)]);
    if (low_[at(u)] >= met_[at(above)]) close(above, u);
  }

  /// Nothing from u down leads past `above`: all that is open from u on is one block.
  void close(Vertex above, Vertex u) {
    const auto first = static_cast<std::int32_t>(found_.members.size());
    const auto start = std::find(open_.rbegin(), open_.rend(), u).base() - 1;
    found_.members.insert(found_.members.end(), start, open_.end());
    open_.erase(start, open_.end());
    found_.blocks.push_back({above, first, static_cast<std::int32_t>(found_.members.size())});
  }

  const Neighbours& neighbours_;
  std::vector<std::int32_t> met_, low_, next_;
  std::vector<Vertex> path_, open_;
  std::int32_t clock_ = 0;
  Blocks found_;
};

}  // namespace

Blocks find_blocks(const Neighbours& neighbours, Vertex from) {
  return Search(neighbours).run(from);
}

void number_places(const Blocks& found, Vertex from, std::size_t vertices, Layout& layout) {
  std::vector<Place> hanging(vertices, 1);  // vertices that hang on v, v included
  for (const Block& block : found.blocks) {
    for (std::int32_t i = block.first; i < block.past; ++i) {
      hanging[at(block.top)] += hanging[at(found.members[at(i)])];
    }
  }
  const std::size_t places = at(hanging[at(from)]);
  layout.place_of.assign(vertices, nowhere);
  layout.vertex_at.assign(places, from);
  layout.spots.assign(places + 1, Spot{});
  std::vector<Place> next(vertices, 0);  // next free place among those that hang on v
  layout.place_of[at(from)] = root;
  layout.spots[root].past = hanging[at(from)];
  layout.spots[root].block_past = 1;
  next[at(from)] = 1;
  for (auto block = found.blocks.rbegin(); block != found.blocks.rend(); ++block) {
    const Place first = next[at(block->top)];
    Place place = first;
    for (std::int32_t i = block->first; i < block->past; ++i) {
      const Vertex v = found.members[at(i)];
      layout.place_of[at(v)] = place;
      layout.vertex_at[at(place)] = v;
      layout.spots[at(place)].past = place + hanging[at(v)];
      next[at(v)] = place + 1;
      place += hanging[at(v)];
    }
    next[at(block->top)] = place;
    for (std::int32_t i = block->first; i < block->past; ++i) {
      Spot& spot = layout.spots[at(layout.place_of[at(found.members[at(i)])])];
      spot.block_first = first;
      spot.block_past = place;
    }
  }
}

}  // namespace bellhole::isolate
