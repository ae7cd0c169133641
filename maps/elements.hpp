// Everything that is not a main: stations and sources, valves, customers, features, and what is
// only drawn.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "maps/cells.hpp"
#include "maps/places.hpp"
#include "maps/split.hpp"

namespace bellhole::maps {

/// The layers that a mapping names, by kind, in the order of its entries.
using Layers = std::map<std::string, std::vector<const RawLayer*>, std::less<>>;

/// A cell reader for each entry of a kind.
Result<std::vector<Cells>> readers(const Mapping& mapping, const Layers& layers,
                                   std::string_view kind, const char* what, Report& report);

/// Gives every element of one kind an id of its own: the map's, or one made of layer and row, each
/// with a row in the report.
class Ids {
 public:
  explicit Ids(std::string what) : what_(std::move(what)) {}
  /// Also moves `cells` to be about the element: "valve V-3".
  std::string next(Cells& cells, const std::string& layer);

 private:
  std::string what_;
  std::map<std::string, int, std::less<>> seen_;
};

/// Nodes that the map has of its own. Errors: bad_mapping.
Result<std::vector<MapNode>> read_nodes(const Mapping& mapping, const Layers& layers,
                                        Report& report);

/// Regulators and sources with the joints that they stand on; their columns follow when joints are
/// nodes.
struct Stations {
  network::Regulators regulators;     ///< inlet and outlet hold joints until settle()
  network::Sources sources;           ///< node holds a joint until settle()
  std::vector<std::string> tap_pipe;  ///< of each regulator, as the map names it; "" none
  std::vector<double> tap_station;    ///< nan: unknown
};
Result<Stations> read_stations(const Mapping& mapping, const Layers& layers, Splitter& splitter,
                               const Joined& joined, Report& report);

/// What the elements on pipes are read into.
struct Build {
  const Mapping& mapping;
  const Layers& layers;
  const Places& places;
  network::Network& network;
  Report& report;
};
Result<bool> read_taps(Build build, const Stations& stations);
Result<bool> read_valves(Build build);
Result<bool> read_customers(Build build);
Result<bool> read_features(Build build);
Result<bool> read_drawing(Build build);
Result<bool> read_notes(Build build);

/// A place on a main for the current feature: by the map's reference (fields `pipe` and `station`),
/// else the nearest within reach. Nothing with a row that says so, and how far away the nearest
/// main is.
class Placer {
 public:
  Placer(Build build, const LayerEntry& entry, Length reach_unless_given);
  std::optional<Place> place(Cells& cells, const RawFeature& feature, const char* station_field);
  std::optional<Place> place_at(Cells& cells, XY point, std::string_view street);
  /// Adds the row that halts when most of a layer lies nowhere near the mains.
  void finish(const std::string& layer);

 private:
  Build build_;
  double reach_;
  std::vector<network::Index> tiers_;
  std::size_t placed_ = 0, astray_ = 0;
};

}  // namespace bellhole::maps
