#include "maps/build.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "gas/gas.hpp"
#include "maps/lines.hpp"
#include "maps/two_way.hpp"

namespace bellhole::maps {
namespace {

using network::Index;

/// The air at the datum from its altitude, where no barometer is entered: 101325 Pa at sea level
/// and 15 degC (ISO 2533, from memory).
constexpr AbsolutePressure sea_level = AbsolutePressure::from_si(101325.0);
constexpr Temperature sea_level_air = Temperature::from_si(288.15);

class Builder {
 public:
  Builder(const Input& input, Report& report)
      : in_(input), mapping_(input.mapping), report_(report) {}

  Result<network::Network> run() {
    head();
    BELLHOLE_TRY(nodes, read_nodes(mapping_, in_.layers, report_));
    BELLHOLE_TRY(mains, read_mains(mapping_, layers_of("mains"), report_));
    mains_ = std::move(mains);
    drop_far();
    if (mains_.empty()) {
      return trouble(Code::bad_network, mapping_.file + ": layers.mains", in_.imported_from,
                     "no main of the map could be used; the report says why");
    }
    joined_ = join_ends(mains_, nodes, mapping_.snap.si(), report_);
    Splitter splitter(mains_, joined_, mapping_, report_);
    if (!mapping_.already_imported) {
      splitter.tees();
      splitter.crossings();
    }
    BELLHOLE_TRY(stations, read_stations(mapping_, in_.layers, splitter, joined_, report_));
    if (!mapping_.already_imported) halt_if_open(splitter.not_snapping());
    pieces_ = splitter.pieces();
    say_splits();
    BELLHOLE_TRY(placed, assemble_nodes());
    static_cast<void>(placed);
    assemble_pipes();
    settle(stations);
    BELLHOLE_TRY(read, read_rest(stations));
    static_cast<void>(read);
    return std::move(net_);
  }

 private:
  std::vector<const RawLayer*> layers_of(std::string_view kind) const {
    const auto found = in_.layers.find(kind);
    return found == in_.layers.end() ? std::vector<const RawLayer*>() : found->second;
  }
  void say(const char* rule, Grade grade, const char* field, std::string value, std::string done,
           bool assumed) {
    report_.add({rule, grade, "", "", field, std::move(value), std::move(done), "", assumed});
  }

  void head() {
    net_.name = mapping_.name.empty() ? in_.imported_from : mapping_.name;
    net_.crs = in_.crs;
    net_.imported_from = mapping_.already_imported ? mapping_.imported_from : in_.imported_from;
    net_.map_date = mapping_.map_date;
    if (net_.map_date.empty())
      say("import.map_date", Grade::warn, "map_date", "",
          "the mapping does not say of what date the map is", false);
    for (const auto& line : mapping_.assumed)
      say("import.read_as", Grade::info, "mapping", "", line, true);
    net_.base_pressure = mapping_.base_pressure;
    net_.base_temperature = mapping_.base_temperature;
    if (!std::isfinite(net_.base_pressure.si())) {
      net_.base_pressure = gas::us_base.pressure;
      net_.base_temperature = gas::us_base.temperature;
      say("import.base", Grade::info, "base", "",
          "volumes are counted at 14.73 psia and 60 degF, because the mapping names no base", true);
    }
    barometer();
    for (const TierEntry& tier : mapping_.tiers) {
      net_.tiers.id.push_back(tier.id);
      net_.tiers.maop.push_back(tier.maop);
      net_.tiers.least.push_back(tier.least);
    }
    for (const ShapeEntry& shape : mapping_.shapes) {
      net_.shapes.id.push_back(shape.id);
      net_.shapes.reference.push_back(shape.reference);
      net_.shapes.hour_factor.push_back(shape.hour_factor);
      net_.shapes.low.push_back(shape.low);
      net_.shapes.high.push_back(shape.high);
    }
  }
  void barometer() {
    net_.datum_altitude = mapping_.datum_altitude;
    net_.barometer = mapping_.barometer;
    if (std::isfinite(net_.barometer.si())) return;
    const bool known = std::isfinite(mapping_.datum_altitude.si());
    net_.barometer =
        known ? gas::barometer_higher(sea_level, mapping_.datum_altitude.si(), sea_level_air)
              : sea_level;
    say("import.barometer", Grade::info, "barometer", "",
        known ? fmt::format("took {:.0f} Pa from the altitude", net_.barometer.si())
              : std::string(
                    "took 101325 Pa: neither the barometer nor the altitude of the place is given"),
        true);
  }

  /// Mains that lie nowhere near the others.
  void drop_far() {
    if (mains_.empty()) return;
    std::vector<double> x, y;
    for (const Main& main : mains_) {
      x.push_back(main.line.front().x);
      y.push_back(main.line.front().y);
    }
    const auto half = static_cast<std::ptrdiff_t>(x.size() / 2);
    std::ranges::nth_element(x, x.begin() + half);
    std::ranges::nth_element(y, y.begin() + half);
    const XY middle{x[static_cast<std::size_t>(half)], y[static_cast<std::size_t>(half)]};
    std::erase_if(mains_, [&](const Main& main) {
      double away = 0.0;
      for (const XY& point : main.line) away = std::max(away, distance(point, middle));
      if (away <= furthest_from_middle_m) return false;
      ++far_;
      report_.add({"import.far_away", Grade::undecided, main.layer, main.label, "geometry",
                   fmt::format("{:.0f} km from the middle of the map", away / 1e3),
                   "left out: its coordinates are of another system, or typed wrongly",
                   "pipe " + main.id, false});
      return true;
    });
  }

  void halt_if_open(std::size_t open) {
    const double share =
        static_cast<double>(open + far_) / static_cast<double>(mains_.size() + far_);
    if (share < mapping_.most_not_snapping) return;
    report_.add({"import.many_not_snapping", Grade::halt, "", "", "geometry",
                 fmt::format("{} of {} mains", open + far_, mains_.size() + far_),
                 fmt::format("{:.0f} % of the mains do not meet the others (limit {:.0f} %): are "
                             "the snap tolerance, the coordinate "
                             "systems and the tiers right?",
                             100.0 * share, 100.0 * mapping_.most_not_snapping),
                 "", false});
  }

  void say_splits() {
    for (const Piece& piece : pieces_) {
      if (piece.part != 0 || piece.parts == 1) continue;
      const Main& main = mains_[piece.main];
      report_.add(
          {"import.split", Grade::info, main.layer, main.label, "geometry",
           fmt::format("{} parts", piece.parts),
           fmt::format("other mains or stations meet it on its middle: it became {}/1 to {}/{}",
                       main.id, main.id, piece.parts),
           "pipe " + main.id, false});
    }
  }

  /// The map's own nodes as on the map, then the joints that import found.
  std::vector<std::size_t> in_order() const {
    std::vector<std::size_t> order;
    for (std::size_t j = 0; j < joined_.joints.size(); ++j) {
      if (!joined_.joints[j].merged) order.push_back(j);
    }
    std::ranges::stable_sort(order, {}, [&](std::size_t j) {
      const std::size_t own = joined_.joints[j].map_order;
      return own == 0 ? joined_.joints.size() + 1 : own;
    });
    return order;
  }

  Result<bool> assemble_nodes() {
    node_of_.assign(joined_.joints.size(), network::none);
    std::set<std::string, std::less<>> taken;
    for (const Joint& joint : joined_.joints) {
      if (!joint.id.empty()) taken.insert(joint.id);
    }
    std::size_t made = 0, number = 0, level = 0;
    std::vector<XY> places;
    for (const std::size_t j : in_order()) {
      Joint& joint = joined_.joints[j];
      joint.at = {kept(joint.at.x), kept(joint.at.y)};
      node_of_[j] = static_cast<Index>(net_.nodes.size());
      std::string id = joint.id;
      while (id.empty()) {
        id = fmt::format("N{}", ++number);
        if (taken.contains(id)) id.clear();
        if (!id.empty()) ++made;
      }
      net_.nodes.id.push_back(id);
      net_.nodes.x.push_back(joint.at.x);
      net_.nodes.y.push_back(joint.at.y);
      net_.nodes.elevation.push_back(joint.elevation);
      net_.nodes.tier.push_back(joint.tier);
      if (!std::isfinite(joint.elevation.si())) ++level;
      places.push_back(joint.at);
    }
    BELLHOLE_TRY(done, in_.to_degrees(places));
    for (const XY& place : places) {
      net_.nodes.lon.push_back(place.x);
      net_.nodes.lat.push_back(place.y);
    }
    if (made > 0)
      say("import.made_nodes", Grade::info, "geometry", fmt::format("{} joints", made),
          "named N1, N2, … where mains meet or end", false);
    if (level > 0)
      say("import.no_elevation", Grade::info, "elevation",
          fmt::format("{} of {} nodes", level, net_.nodes.size()),
          "no height is mapped; flow takes them as level", true);
    return done;
  }

  void assemble_pipes() {
    network::Pipes& p = net_.pipes;
    p.first.push_back(0);
    for (Piece& piece : pieces_) {
      for (XY& point : piece.line) point = {kept(point.x), kept(point.y)};
      drop_repeats(piece.line);
      const Main& main = mains_[piece.main];
      const PipeFacts& facts = main.facts;
      p.id.push_back(piece.parts == 1 ? main.id : fmt::format("{}/{}", main.id, piece.part + 1));
      p.from.push_back(node_of_[piece.from]);
      p.to.push_back(node_of_[piece.to]);
      const double drawn = length(piece.line);
      const double scale = std::isfinite(main.recorded) ? main.recorded / length(main.line) : 1.0;
      p.length.push_back(Length::from_si(
          piece.parts == 1 && std::isfinite(main.recorded) ? main.recorded : drawn * scale));
      p.bore.push_back(facts.bore);
      p.roughness.push_back(facts.roughness);
      p.material.push_back(facts.material);
      p.grade.push_back(facts.grade);
      p.nominal_size.push_back(facts.size);
      p.ratio.push_back(facts.ratio);
      p.year.push_back(facts.year);
      p.lining.push_back(facts.lining);
      p.street.push_back(facts.street);
      p.surface.push_back(facts.surface);
      p.depth.push_back(facts.depth);
      for (const XY& point : piece.line) {
        p.vx.push_back(point.x);
        p.vy.push_back(point.y);
      }
      p.first.push_back(static_cast<std::int32_t>(p.vx.size()));
    }
  }

  void settle(const Stations& stations) {
    net_.regulators = stations.regulators;
    net_.sources = stations.sources;
    const auto node = [&](Index joint) { return node_of_[static_cast<std::size_t>(joint)]; };
    for (Index& joint : net_.regulators.inlet) joint = node(joint);
    for (Index& joint : net_.regulators.outlet) joint = node(joint);
    for (Index& joint : net_.sources.node) joint = node(joint);
  }

  Result<bool> read_rest(const Stations& stations) {
    const Places places(mains_, pieces_, net_);
    const Build build{mapping_, in_.layers, places, net_, report_};
    BELLHOLE_TRY(taps, read_taps(build, stations));
    static_cast<void>(taps);
    using Part = Result<bool> (*)(Build);
    for (const Part part : {read_valves, read_customers, read_features, read_drawing, read_notes}) {
      BELLHOLE_TRY(done, part(build));
      static_cast<void>(done);
    }
    say_unmapped();
    check_two_way();
    for (const auto& rule : in_.accept) {
      if (report_.accept(rule) == 0) {
        return trouble(Code::unreadable_value, "--accept", rule,
                       "nothing of this import halts by that rule");
      }
    }
    report_.sort();
    if (mapping_.already_imported) return true;
    take_notes(
        report_, [&](const std::string& element) { return elements_of(places, element); }, net_);
    return true;
  }
  std::vector<std::string> elements_of(const Places& places, const std::string& element) const {
    constexpr std::string_view pipe = "pipe ";
    if (!element.starts_with(pipe)) return {element};
    std::vector<std::string> out;
    for (const Index index : places.pipes_of(std::string_view(element).substr(pipe.size()))) {
      out.push_back(std::string(pipe) + net_.pipes.id[static_cast<std::size_t>(index)]);
    }
    return out.empty() ? std::vector<std::string>{element} : out;
  }

  /// Features of layers that are read, and that no entry of the mapping takes.
  void say_unmapped() {
    std::map<const RawLayer*, std::set<std::int64_t>> taken;
    for (const auto& [kind, layers] : in_.layers) {
      for (std::size_t i = 0; i < layers.size(); ++i) {
        const auto& only = mapping_.entries(kind)[i].only;
        for (const RawFeature& feature : layers[i]->features) {
          if (!only || meant(*only, *layers[i], feature)) taken[layers[i]].insert(feature.fid);
        }
        taken.try_emplace(layers[i]);
      }
    }
    for (const auto& [layer, rows] : taken) {
      const std::size_t left = layer->features.size() - rows.size();
      if (left == 0) continue;
      report_.add({"import.not_mapped", Grade::undecided, layer->name, "", "",
                   fmt::format("{} of {} features", left, layer->features.size()),
                   "no entry of the mapping takes them; they were left out", "", false});
    }
  }

  void check_two_way();

  const Input& in_;
  const Mapping& mapping_;
  Report& report_;
  network::Network net_;
  std::vector<Main> mains_;
  Joined joined_;
  std::vector<Piece> pieces_;
  std::vector<Index> node_of_;
  std::size_t far_ = 0;
};

/// A map's flag that a main is fed from both ends is compared with the joints, and otherwise not
/// used.
void Builder::check_two_way() {
  const auto feeds = feeds_of(net_);
  std::size_t agreed = 0;
  for (std::size_t i = 0; i < pieces_.size(); ++i) {
    const Main& main = mains_[pieces_[i].main];
    if (main.two_way == network::Ternary::unknown || feeds[i] == Feed::none) continue;
    const bool claimed = main.two_way == network::Ternary::yes;
    if (claimed == (feeds[i] == Feed::two_way)) {
      ++agreed;
      continue;
    }
    report_.add({"import.two_way", claimed ? Grade::warn : Grade::info, main.layer, main.label,
                 "two_way", claimed ? "yes" : "no",
                 claimed ? "the map calls it fed from both ends; by its joints it is fed from one: "
                           "the flag was not used"
                         : "the map calls it fed from one end; by its joints it is fed from both: "
                           "the flag was not used",
                 "pipe " + net_.pipes.id[i], false});
  }
  if (agreed > 0) {
    say("import.two_way_agrees", Grade::info, "two_way", fmt::format("{} pipes", agreed),
        "the map's flag agrees with the joints; it was not used", false);
  }
}

}  // namespace

Result<network::Network> build_network(const Input& input, Report& report) {
  return Builder(input, report).run();
}

void take_notes(const Report& report,
                const std::function<std::vector<std::string>(const std::string&)>& elements,
                network::Network& network) {
  for (const Row& row : report.rows()) {
    std::string says = row.done;
    if (!row.value.empty()) says = row.value + ": " + says;
    if (!row.field.empty()) says = row.field + " " + says;
    for (const std::string& element : elements(row.element)) {
      network.notes.rule.push_back(row.rule);
      network.notes.element.push_back(element);
      network.notes.says.push_back(says);
      network.notes.assumed.push_back(row.assumed ? 1 : 0);
    }
  }
}

}  // namespace bellhole::maps
