// Places on the pipes of a network that is being built: by nearness, or by the map's own reference.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "maps/split.hpp"
#include "network/columns.hpp"

namespace bellhole::maps {

struct Place {
  network::Index pipe = network::none;
  Length station;
  double away = 0.0;    ///< metres from the point asked for
  bool shared = false;  ///< another pipe is as near: the place is a joint
};

class Places {
 public:
  /// `network` holds one pipe for each piece, in order; `mains` names what the map calls them.
  Places(const std::vector<Main>& mains, const std::vector<Piece>& pieces,
         const network::Network& network);

  /// The nearest place on a pipe of one of the tiers (all if empty) within `reach`. A pipe in
  /// `street` is taken before a nearer one in another street. Among equally near pipes the first.
  [[nodiscard]] std::optional<Place> nearest(XY point, double reach,
                                             const std::vector<network::Index>& tiers,
                                             std::string_view street = {}) const;
  /// The nearest distance to any pipe, whatever its tier; nothing when the network has none.
  [[nodiscard]] std::optional<double> nearest_distance(XY point) const;
  /// The nearest place on a main or pipe that the map names.
  [[nodiscard]] std::optional<Place> nearest_on(std::string_view id, XY point) const;
  /// A station along a main or pipe that the map names; beyond its end nothing.
  [[nodiscard]] std::optional<Place> on(std::string_view id, double station) const;
  [[nodiscard]] bool knows(std::string_view id) const { return named(id) != nullptr; }

  /// Pipes that came of what the map calls `id` (a main, a feature with parts, or a pipe).
  [[nodiscard]] std::vector<network::Index> pipes_of(std::string_view id) const;

 private:
  [[nodiscard]] const std::vector<network::Index>* named(std::string_view id) const;
  [[nodiscard]] Place place(std::size_t pipe, const Foot& foot) const;

  const std::vector<Piece>& pieces_;
  const network::Network& network_;
  SegmentIndex index_;
  std::map<std::string, std::vector<network::Index>, std::less<>> by_name_;
};

}  // namespace bellhole::maps
