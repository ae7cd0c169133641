#include "isolate/prices.hpp"

#include <algorithm>
#include <limits>

namespace bellhole::isolate {

namespace {

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

}  // namespace

Prices::Prices(const Layout& layout, std::vector<std::pair<EdgeIndex, Cost>> edges,
               const std::vector<std::pair<Vertex, Cost>>& vertices)
    : layout_(&layout), edges_(std::move(edges)) {
  std::sort(edges_.begin(), edges_.end());
  std::vector<std::pair<Place, Cost>> places;
  for (const auto& [vertex, cost] : vertices) {
    const Place place = layout.place_of[at(vertex)];
    if (place != nowhere) places.emplace_back(place, cost);
  }
  if (places.empty()) return;
  std::sort(places.begin(), places.end());
  Change sum;
  for (const auto& [place, cost] : places) {
    changes_.push_back({place, sum.finite_before, sum.forbidden_before});
    const std::size_t p = at(place);
    sum.finite_before -= layout.finite_before[p + 1] - layout.finite_before[p];
    sum.forbidden_before -= layout.forbidden_before[p + 1] - layout.forbidden_before[p];
    if (cost == forbidden) {
      ++sum.forbidden_before;
    } else {
      sum.finite_before += cost;
    }
  }
  changes_.push_back({std::numeric_limits<Place>::max(), sum.finite_before, sum.forbidden_before});
}

// A question that sets the costs of all finds each at its own index.

Cost Prices::set_for(EdgeIndex edge, Cost otherwise) const {
  if (at(edge) < edges_.size() && edges_[at(edge)].first == edge) return edges_[at(edge)].second;
  const auto found = std::lower_bound(edges_.begin(), edges_.end(), std::pair(edge, Cost{0}));
  return found != edges_.end() && found->first == edge ? found->second : otherwise;
}

const Prices::Change& Prices::change_at(Place place) const {
  const std::size_t own = at(place - changes_.front().place);
  if (own < changes_.size() && changes_[own].place == place) return changes_[own];
  return *std::lower_bound(changes_.begin(), changes_.end(), place,
                           [](const Change& change, Place p) { return change.place < p; });
}

Cost Prices::within(Place first, Place past) const {
  Cost finite = layout_->finite_before[at(past)] - layout_->finite_before[at(first)];
  std::int32_t never = layout_->forbidden_before[at(past)] - layout_->forbidden_before[at(first)];
  if (!changes_.empty()) {
    const Change& from = change_at(first);
    const Change& to = change_at(past);
    finite += to.finite_before - from.finite_before;
    never += to.forbidden_before - from.forbidden_before;
  }
  return never > 0 ? forbidden : finite;
}

Place Prices::forbidden_within(Place first, Place past) const {
  while (past - first > 1) {
    const Place middle = first + (past - first) / 2;
    (within(first, middle) == forbidden ? past : first) = middle;
  }
  return first;
}

}  // namespace bellhole::isolate
