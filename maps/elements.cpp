#include "maps/elements.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "maps/lines.hpp"

namespace bellhole::maps {
namespace {

/// With this share of a layer, and at least this many features, far from every main, the layer
/// itself is in the wrong place.
constexpr double astray_share = 0.5;
constexpr std::size_t astray_least = 5;

std::string metres(double value) {
  return value < 1e4 ? fmt::format("{:.1f} m", value) : fmt::format("{:.0f} km", value / 1e3);
}

}  // namespace

Result<std::vector<Cells>> readers(const Mapping& mapping, const Layers& layers,
                                   std::string_view kind, const char* what, Report& report) {
  std::vector<Cells> out;
  const auto& entries = mapping.entries(kind);
  for (std::size_t i = 0; i < entries.size(); ++i) {
    const RawLayer& layer = *layers.find(kind)->second[i];
    BELLHOLE_TRY(cells, Cells::of(layer, entries[i], what,
                                  fmt::format("{}: layers.{}[{}]", mapping.file, kind, i), report));
    out.push_back(std::move(cells));
  }
  return out;
}

std::string Ids::next(Cells& cells, const std::string& layer) {
  std::string id = cells.text("id").value_or("");
  if (id.empty()) {
    id = fmt::format("{}-{}", layer, cells.label().substr(4));
    cells.about(what_ + " " + id);
    cells.say("import.missing_id", Grade::info, "id", "",
              fmt::format("named {} after its row", id));
  }
  const int times = ++seen_[id];
  if (times > 1) {
    std::string fresh = fmt::format("{}#{}", id, times);
    while (seen_.contains(fresh)) fresh += "#";
    ++seen_[fresh];
    cells.about(what_ + " " + fresh);
    cells.say("import.duplicate_id", Grade::warn, "id", id,
              fmt::format("stands twice; this one is called {}", fresh));
    id = fresh;
  }
  cells.about(what_ + " " + id);
  return id;
}

// --- placing on mains
// -----------------------------------------------------------------------------------
Placer::Placer(Build build, const LayerEntry& entry, Length reach_unless_given)
    : build_(build), reach_(entry.reach.value_or(reach_unless_given).si()) {
  for (const auto& tier : entry.tiers)
    tiers_.push_back(static_cast<network::Index>(*build.mapping.tier(tier)));
}

std::optional<Place> Placer::place(Cells& cells, const RawFeature& feature,
                                   const char* station_field) {
  const auto pipe = cells.text("pipe");
  const double station = cells.quantity<kinds::Length>(station_field).si();
  if (pipe && !build_.places.knows(*pipe)) {
    cells.say("import.unknown_main", Grade::undecided, "pipe", *pipe,
              "the map has no such main; the nearest was looked for instead");
  } else if (pipe && std::isfinite(station)) {
    if (const auto place = build_.places.on(*pipe, station)) return place;
    cells.say(
        "import.station_beyond", Grade::undecided, station_field, metres(station),
        fmt::format("main {} is not that long; the nearest place was looked for instead", *pipe));
  } else if (pipe && !feature.parts.empty()) {
    const auto point = clean_point(feature, cells);
    if (!point) return std::nullopt;
    auto place = build_.places.nearest_on(*pipe, *point);
    if (place && place->away > reach_) {
      cells.say("import.far_from_named", Grade::warn, "geometry", metres(place->away),
                fmt::format("kept on main {}, which the map names", *pipe));
    }
    return place;
  }
  const auto point = clean_point(feature, cells);
  if (!point) return std::nullopt;
  return place_at(cells, *point, cells.text("street").value_or(""));
}

std::optional<Place> Placer::place_at(Cells& cells, XY point, std::string_view street) {
  const auto place = build_.places.nearest(point, reach_, tiers_, street);
  if (place) {
    ++placed_;
    return place;
  }
  ++astray_;
  const auto away = build_.places.nearest_distance(point);
  cells.say("import.far_from_main", Grade::undecided, "geometry", away ? metres(*away) : "no main",
            fmt::format("left out: no main that it may belong to lies within {}", metres(reach_)));
  return std::nullopt;
}

void Placer::finish(const std::string& layer) {
  const std::size_t all = placed_ + astray_;
  if (astray_ < astray_least ||
      static_cast<double>(astray_) < astray_share * static_cast<double>(all))
    return;
  build_.report.add({"import.layer_astray", Grade::halt, layer, "", "geometry",
                     fmt::format("{} of {} features", astray_, all),
                     "most of the layer lies nowhere near a main: is its coordinate system the one "
                     "it says, and are "
                     "its tiers and reach right?",
                     "", false});
}

// --- nodes and stations
// ---------------------------------------------------------------------------------
Result<std::vector<MapNode>> read_nodes(const Mapping& mapping, const Layers& layers,
                                        Report& report) {
  std::vector<MapNode> out;
  BELLHOLE_TRY(all, readers(mapping, layers, "nodes", "node", report));
  Ids ids("node");
  for (std::size_t i = 0; i < all.size(); ++i) {
    for (const RawFeature* feature : all[i].taken()) {
      Cells& cells = all[i];
      cells.at(*feature);
      MapNode node;
      node.id = ids.next(cells, mapping.entries("nodes")[i].layer);
      const auto point = clean_point(*feature, cells);
      if (!point) continue;
      node.at = *point;
      node.elevation = cells.quantity<kinds::Length>("elevation");
      if (const auto tier = cells.text("tier")) {
        const auto known = mapping.tier(*tier);
        if (known) node.tier = static_cast<network::Index>(*known);
        if (!known)
          cells.say("import.unknown_code", Grade::undecided, "tier", *tier,
                    "the mapping has no such tier");
      }
      out.push_back(std::move(node));
    }
  }
  return out;
}

namespace {

using network::Index;

class StationReader {
 public:
  StationReader(const Mapping& mapping, Splitter& splitter, const Joined& joined)
      : mapping_(mapping), splitter_(splitter), joined_(joined) {
    for (std::size_t j = 0; j < joined.joints.size(); ++j) {
      if (!joined.joints[j].id.empty()) by_id_.emplace(joined.joints[j].id, static_cast<Index>(j));
    }
  }

  /// The joint of one side: by node id, else by tier near the place.
  std::optional<Index> side(Cells& cells, const RawFeature& feature, const char* node_field,
                            const char* tier_field, double reach) {
    if (const auto node = cells.text(node_field)) {
      const auto found = by_id_.find(*node);
      if (found != by_id_.end()) return found->second;
      cells.say("import.unknown_node", Grade::undecided, node_field, *node,
                "the map has no such node; the nearest was looked for instead");
    }
    const auto tier = tier_of(cells, tier_field);
    if (!tier) return std::nullopt;
    const auto point = clean_point(feature, cells);
    if (!point) return std::nullopt;
    if (const auto joint = splitter_.joint_near(*point, *tier, reach))
      return static_cast<Index>(*joint);
    cells.say("import.far_from_main", Grade::undecided, "geometry", "",
              fmt::format("left out: no main of tier {} lies within {}",
                          mapping_.tiers[static_cast<std::size_t>(*tier)].id, metres(reach)));
    return std::nullopt;
  }

 private:
  std::optional<Index> tier_of(Cells& cells, const char* field) {
    if (!cells.has(field) && mapping_.tiers.size() == 1) return 0;
    const auto text = cells.text(field);
    if (!text) {
      cells.say("import.missing_tier", Grade::undecided, field, "",
                "left out: the tier that it belongs to is not said");
      return std::nullopt;
    }
    if (const auto known = mapping_.tier(*text)) return static_cast<Index>(*known);
    cells.say("import.unknown_code", Grade::undecided, field, *text,
              "left out: the mapping has no such tier");
    return std::nullopt;
  }

  const Mapping& mapping_;
  Splitter& splitter_;
  const Joined& joined_;
  std::map<std::string, Index, std::less<>> by_id_;
};

void read_regulator(Cells& cells, const RawFeature& feature, const std::string& id,
                    StationReader& reader, double reach, Stations& out) {
  const auto inlet = reader.side(cells, feature, "inlet_node", "inlet_tier", reach);
  const auto outlet =
      inlet ? reader.side(cells, feature, "outlet_node", "outlet_tier", reach) : std::nullopt;
  if (!inlet || !outlet) return;
  network::Regulators& r = out.regulators;
  r.id.push_back(id);
  r.station_name.push_back(cells.text("station_name").value_or(""));
  r.inlet.push_back(*inlet);
  r.outlet.push_back(*outlet);
  r.sensing.push_back(cells.word("sensing", network::Sensing::unknown));
  r.tap_pipe.push_back(network::none);
  r.tap_station.push_back(Length::from_si(std::numeric_limits<double>::quiet_NaN()));
  r.set_point.push_back(cells.quantity<kinds::GaugePressure>("set_point"));
  r.capacity.push_back(cells.quantity<kinds::StdFlow>("capacity"));
  r.least_inlet.push_back(cells.quantity<kinds::GaugePressure>("least_inlet"));
  r.lock_up.push_back(cells.number("lock_up").value_or(std::numeric_limits<double>::quiet_NaN()));
  r.relief.push_back(cells.quantity<kinds::GaugePressure>("relief"));
  r.blocks_reverse.push_back(cells.ternary("blocks_reverse"));
  r.needs_reset.push_back(cells.ternary("needs_reset"));
  out.tap_pipe.push_back(cells.text("tap_pipe").value_or(""));
  out.tap_station.push_back(cells.quantity<kinds::Length>("tap_station").si());
}

}  // namespace

Result<Stations> read_stations(const Mapping& mapping, const Layers& layers, Splitter& splitter,
                               const Joined& joined, Report& report) {
  Stations out;
  StationReader reader(mapping, splitter, joined);
  BELLHOLE_TRY(regulators, readers(mapping, layers, "regulators", "regulator", report));
  Ids ids("regulator");
  for (std::size_t i = 0; i < regulators.size(); ++i) {
    const LayerEntry& entry = mapping.entries("regulators")[i];
    for (const RawFeature* feature : regulators[i].taken()) {
      regulators[i].at(*feature);
      const std::string id = ids.next(regulators[i], entry.layer);
      read_regulator(regulators[i], *feature, id, reader,
                     entry.reach.value_or(mapping.station_reach).si(), out);
    }
  }
  BELLHOLE_TRY(sources, readers(mapping, layers, "sources", "source", report));
  Ids source_ids("source");
  for (std::size_t i = 0; i < sources.size(); ++i) {
    const LayerEntry& entry = mapping.entries("sources")[i];
    for (const RawFeature* feature : sources[i].taken()) {
      Cells& cells = sources[i];
      cells.at(*feature);
      const std::string id = source_ids.next(cells, entry.layer);
      const auto joint = reader.side(cells, *feature, "node", "tier",
                                     entry.reach.value_or(mapping.station_reach).si());
      if (!joint) continue;
      out.sources.id.push_back(id);
      out.sources.node.push_back(*joint);
      out.sources.pressure.push_back(cells.quantity<kinds::GaugePressure>("pressure"));
      out.sources.capacity.push_back(cells.quantity<kinds::StdFlow>("capacity"));
    }
  }
  return out;
}

}  // namespace bellhole::maps
