#include "maps/import.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <tuple>

#include "maps/build.hpp"
#include "maps/files.hpp"
#include "maps/source.hpp"
#include "wire/network_file.hpp"

namespace bellhole::maps {
namespace {

constexpr std::size_t mapping_cap = std::size_t{16} << 20;

class Importer {
 public:
  Importer(const ImportRequest& request, Mapping mapping)
      : request_(request), mapping_(std::move(mapping)) {}

  Result<Imported> run() {
    BELLHOLE_TRY(main_source, source(""));
    BELLHOLE_TRY(projection, choose_crs());
    BELLHOLE_TRY(read, read_layers(projection));
    static_cast<void>(read);
    say_unread(*main_source);
    const Input input{mapping_,
                      layers_,
                      projection.name(),
                      base_name(request_.map),
                      [&](std::vector<XY>& points) { return projection.to_degrees(points); },
                      request_.accept};
    BELLHOLE_TRY(network, build_network(input, report_));
    Imported out{std::move(network), std::move(report_), {}};
    summarise(out);
    return out;
  }

 private:
  /// The map itself, or another file that an entry names, beside the mapping.
  Result<Source*> source(const std::string& name) {
    const auto found = sources_.find(name);
    if (found != sources_.end()) return &found->second;
    const std::string path =
        name.empty() ? request_.map
                     : (std::filesystem::path(request_.mapping).parent_path() / name).string();
    BELLHOLE_TRY(opened, Source::open(path));
    return &sources_.emplace(name, std::move(opened)).first->second;
  }

  /// The mapping's system; else the mains' own, where it is projected in metres and true to length
  /// here; else the zone of the universal transverse Mercator grid.
  Result<Projection> choose_crs() {
    const LayerEntry& mains = mapping_.entries("mains").front();
    const std::string where = mapping_.file + ": layers.mains[0].layer";
    BELLHOLE_TRY(map, source(mains.source));
    BELLHOLE_TRY(head, map->head(mains.layer, mains.crs, where));
    BELLHOLE_TRY(middle, map->middle(mains.layer, mains.crs, where));
    if (!mapping_.crs.empty()) {
      auto chosen = Projection::of(mapping_.crs, middle.x, middle.y);
      if (!chosen) chosen.error().where = mapping_.file + ": crs";
      return chosen;
    }
    if (head.metres) {
      if (auto own = Projection::of(head.crs, middle.x, middle.y)) return own;
    }
    const std::string zone = utm_zone(middle.x, middle.y);
    report_.add({"import.crs_chosen", Grade::info, mains.layer, "", "crs", head.crs,
                 fmt::format("worked in {}: lengths need a projected system in metres that is true "
                             "to length at this place",
                             zone),
                 "", false});
    return Projection::of(zone, middle.x, middle.y);
  }

  Result<bool> read_layers(const Projection& projection) {
    for (const auto& [kind, entries] : mapping_.layers) {
      for (std::size_t i = 0; i < entries.size(); ++i) {
        const LayerEntry& entry = entries[i];
        const auto key = std::tuple(entry.source, entry.layer, entry.crs);
        auto known = read_.find(key);
        if (known == read_.end()) {
          BELLHOLE_TRY(from, source(entry.source));
          BELLHOLE_TRY(layer,
                       from->read(entry.layer, entry.crs, projection,
                                  fmt::format("{}: layers.{}[{}].layer", mapping_.file, kind, i)));
          if (layer.projected_here) {
            report_.add({"import.projected", Grade::info, entry.layer, "", "crs", layer.crs,
                         fmt::format("its coordinates were projected into {}", projection.name()),
                         "", false});
          }
          known = read_.emplace(key, std::move(layer)).first;
        }
        layers_[kind].push_back(&known->second);
      }
    }
    return true;
  }

  void say_unread(const Source& map) {
    for (const auto& name : map.layers()) {
      const bool read = std::ranges::any_of(read_, [&](const auto& entry) {
        return std::get<0>(entry.first).empty() && std::get<1>(entry.first) == name;
      });
      if (read || std::ranges::find(mapping_.ignore, name) != mapping_.ignore.end()) continue;
      report_.add({"import.layer_not_read", Grade::warn, name, "", "", "",
                   "the mapping does not speak of this layer; it was not read", "", false});
    }
  }

  void summarise(Imported& out) const {
    const network::Network& net = out.network;
    Summary& s = out.summary;
    s.map = base_name(request_.map);
    s.mapping = base_name(request_.mapping);
    s.crs = net.crs;
    s.nodes = net.nodes.size();
    s.pipes = net.pipes.size();
    s.valves = net.valves.size();
    s.regulators = net.regulators.size();
    s.sources = net.sources.size();
    s.customers = net.customers.size();
    s.features = net.features.size();
    for (const Length length : net.pipes.length) s.length_m += length.si();
    if (!out.report.has_halt()) s.network_hash = wire::network_hash(net);
  }

  const ImportRequest& request_;
  Mapping mapping_;
  Report report_;
  std::map<std::string, Source> sources_;
  std::map<std::tuple<std::string, std::string, std::string>, RawLayer> read_;
  Layers layers_;
};

}  // namespace

Result<Imported> import_map(const ImportRequest& request) {
  BELLHOLE_TRY(bytes, read_file(request.mapping, mapping_cap));
  BELLHOLE_TRY(mapping, read_mapping(bytes, base_name(request.mapping)));
  return Importer(request, std::move(mapping)).run();
}

}  // namespace bellhole::maps
