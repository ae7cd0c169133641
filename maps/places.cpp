#include "maps/places.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace bellhole::maps {
namespace {

constexpr double cell_m = 50.0;
std::size_t at(network::Index i) { return static_cast<std::size_t>(i); }

}  // namespace

Places::Places(const std::vector<Main>& mains, const std::vector<Piece>& pieces,
               const network::Network& network)
    : pieces_(pieces), network_(network), index_(cell_m) {
  for (std::size_t i = 0; i < pieces_.size(); ++i) {
    index_.add(i, pieces_[i].line);
    const Main& main = mains[pieces_[i].main];
    const auto pipe = static_cast<network::Index>(i);
    by_name_[main.id].push_back(pipe);
    if (main.label != main.id) by_name_[main.label].push_back(pipe);
    if (main.name != main.id && main.name != main.label) by_name_[main.name].push_back(pipe);
    if (network.pipes.id[i] != main.id) by_name_[network.pipes.id[i]].push_back(pipe);
  }
}

const std::vector<network::Index>* Places::named(std::string_view id) const {
  const auto found = by_name_.find(id);
  return found == by_name_.end() ? nullptr : &found->second;
}
std::vector<network::Index> Places::pipes_of(std::string_view id) const {
  const auto* pipes = named(id);
  return pipes == nullptr ? std::vector<network::Index>() : *pipes;
}

/// Stations follow the recorded length, which may differ from the drawn one.
Place Places::place(std::size_t pipe, const Foot& foot) const {
  const double drawn = length(pieces_[pipe].line), recorded = network_.pipes.length[pipe].si();
  const double station = drawn > 0.0 ? foot.station * recorded / drawn : 0.0;
  return {static_cast<network::Index>(pipe), Length::from_si(std::min(station, recorded)),
          foot.away, false};
}

std::optional<Place> Places::nearest(XY point, double reach,
                                     const std::vector<network::Index>& tiers,
                                     std::string_view street) const {
  std::set<std::size_t> candidates;
  for (const auto* segment : index_.near(point, point, reach)) candidates.insert(segment->line);
  std::optional<Place> best, best_in_street;
  for (const auto pipe : candidates) {
    const auto tier = network_.nodes.tier[at(network_.pipes.from[pipe])];
    if (!tiers.empty() && std::ranges::find(tiers, tier) == tiers.end()) continue;
    const Foot foot = foot_on(pieces_[pipe].line, point);
    if (foot.away > reach) continue;
    const auto take = [&](std::optional<Place>& into) {
      if (into && std::abs(into->away - foot.away) <= exact_m) into->shared = true;
      if (!into || foot.away < into->away - exact_m) into = place(pipe, foot);
    };
    take(best);
    if (!street.empty() && network_.pipes.street[pipe] == street) take(best_in_street);
  }
  return best_in_street ? best_in_street : best;
}

std::optional<double> Places::nearest_distance(XY point) const {
  if (pieces_.empty()) return std::nullopt;
  // Widen the search until it holds something; a point on the far side of the world looks at every
  // pipe.
  for (double reach = 100.0; reach < 1e5; reach *= 4.0) {
    if (const auto found = nearest(point, reach, {})) return found->away;
  }
  double least = HUGE_VAL;
  for (const Piece& piece : pieces_) least = std::min(least, foot_on(piece.line, point).away);
  return least;
}

std::optional<Place> Places::nearest_on(std::string_view id, XY point) const {
  const auto* pipes = named(id);
  if (pipes == nullptr) return std::nullopt;
  std::optional<Place> best;
  for (const auto pipe : *pipes) {
    const Foot foot = foot_on(pieces_[at(pipe)].line, point);
    if (!best || foot.away < best->away) best = place(at(pipe), foot);
  }
  return best;
}

std::optional<Place> Places::on(std::string_view id, double station) const {
  const auto* pipes = named(id);
  if (pipes == nullptr || !(station >= 0.0)) return std::nullopt;
  for (const auto pipe : *pipes) {
    const double here = network_.pipes.length[at(pipe)].si();
    const bool last = pipe == pipes->back();
    if (station <= here || (last && station <= here + exact_m)) {
      return Place{pipe, Length::from_si(std::min(station, here)), 0.0, false};
    }
    station -= here;
  }
  return std::nullopt;
}

}  // namespace bellhole::maps
