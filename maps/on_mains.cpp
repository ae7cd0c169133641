// Valves, sensing taps, customers, features, fixed points and what is only drawn.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "maps/elements.hpp"
#include "maps/lines.hpp"
#include "maps/mapping_fields.hpp"

namespace bellhole::maps {
namespace {

using network::Index;
constexpr double unknown = std::numeric_limits<double>::quiet_NaN();
std::size_t at(Index i) { return static_cast<std::size_t>(i); }

/// Calls `read(cells, feature, id, placer)` for every feature of a kind.
template <class Read>
Result<bool> each(Build build, std::string_view kind, const char* what, Length reach,
                  const Read& read) {
  BELLHOLE_TRY(all, readers(build.mapping, build.layers, kind, what, build.report));
  Ids ids(what);
  for (std::size_t i = 0; i < all.size(); ++i) {
    const LayerEntry& entry = build.mapping.entries(kind)[i];
    Placer placer(build, entry, reach);
    for (const RawFeature* feature : all[i].taken()) {
      all[i].at(*feature);
      const std::string id = ids.next(all[i], entry.layer);
      read(all[i], *feature, id, placer);
    }
    placer.finish(entry.layer);
  }
  return true;
}

/// "2021-06-14" or "2021.4" or "2021": the year with its fraction; a bare year counts as its
/// beginning, which is the older and so the safer reading.
double year_with_fraction(const std::optional<std::string>& text, Cells& cells, const char* field) {
  if (!text) return unknown;
  int year = 0, month = 1, day = 1;
  if (text->size() >= 10 &&
      std::sscanf(text->c_str(), "%4d%*1[-/.]%2d%*1[-/.]%2d", &year, &month, &day) == 3) {
    const bool good =
        year >= 1800 && year < 2200 && month >= 1 && month <= 12 && day >= 1 && day <= 31;
    if (good) return year + (month - 1) / 12.0 + (day - 1) / 372.0;
  }
  const auto number = units::parse_number(*text, field);
  if (number && *number >= 1800.0 && *number < 2200.0) return *number;
  cells.say("import.unreadable", Grade::undecided, field, *text,
            "taken as unknown: a date as 2021-06-14 or a year is wanted");
  return unknown;
}

}  // namespace

Result<bool> read_taps(Build build, const Stations& stations) {
  network::Regulators& r = build.network.regulators;
  for (std::size_t i = 0; i < r.size(); ++i) {
    if (stations.tap_pipe[i].empty()) continue;
    const auto place = std::isfinite(stations.tap_station[i])
                           ? build.places.on(stations.tap_pipe[i], stations.tap_station[i])
                           : std::nullopt;
    if (place) {
      r.tap_pipe[i] = place->pipe;
      r.tap_station[i] = place->station;
    } else {
      build.report.add({"import.unknown_tap", Grade::undecided, "", r.id[i], "tap_pipe",
                        stations.tap_pipe[i],
                        "the place of the sensing tap is unknown: no such station on such a main",
                        "regulator " + r.id[i], false});
    }
  }
  BELLHOLE_TRY(all, readers(build.mapping, build.layers, "taps", "tap", build.report));
  for (std::size_t i = 0; i < all.size(); ++i) {
    Cells& cells = all[i];
    for (const RawFeature* feature : cells.taken()) {
      cells.at(*feature);
      const std::string id = cells.text("regulator").value_or("");
      cells.about("regulator " + id);
      const auto found = std::ranges::find(r.id, id);
      if (found == r.id.end()) {
        cells.say("import.unknown_regulator", Grade::undecided, "regulator", id,
                  "left out: the map has no such regulator");
        continue;
      }
      const auto k = static_cast<std::size_t>(found - r.id.begin());
      LayerEntry entry = build.mapping.entries("taps")[i];
      const Index tier = build.network.nodes.tier[at(r.outlet[k])];
      if (entry.tiers.empty() && tier != network::none)
        entry.tiers.push_back(build.network.tiers.id[at(tier)]);
      Placer placer(build, entry, build.mapping.report_gap);
      const auto place = placer.place(cells, *feature, "station");
      if (!place) continue;
      r.tap_pipe[k] = place->pipe;
      r.tap_station[k] = place->station;
    }
  }
  return true;
}

Result<bool> read_valves(Build build) {
  network::Valves& v = build.network.valves;
  return each(
      build, "valves", "valve", build.mapping.report_gap,
      [&](Cells& cells, const RawFeature& feature, const std::string& id, Placer& placer) {
        const auto place = placer.place(cells, feature, "station");
        if (!place) return;
        if (place->shared) {
          cells.say(
              "import.valve_at_joint", Grade::undecided, "geometry", "",
              fmt::format("drawn on a joint; taken to be on main {}: find out which leg it shuts",
                          build.network.pipes.id[at(place->pipe)]),
              true);
        }
        v.id.push_back(id);
        v.pipe.push_back(place->pipe);
        v.station.push_back(place->station);
        v.position.push_back(cells.word("position", network::Position::unknown));
        v.normal.push_back(cells.word("normal", network::Position::unknown));
        v.last_operated_year.push_back(
            year_with_fraction(cells.text("last_operated"), cells, "last_operated"));
        v.operable.push_back(cells.ternary("operable"));
        v.reachable.push_back(cells.ternary("reachable"));
      });
}

namespace {

class CustomerReader {
 public:
  explicit CustomerReader(Build build) : build_(build), c_(build.network.customers) {}

  void read(Cells& cells, const RawFeature& feature, const std::string& id, Placer& placer) {
    const auto place = placer.place(cells, feature, "station");
    if (!place) return;
    const std::string street = cells.text("street").value_or("");
    const std::string& of_main = build_.network.pipes.street[at(place->pipe)];
    if (!street.empty() && !of_main.empty() && street != of_main) {
      cells.say("import.other_street", Grade::info, "street", street,
                fmt::format("put on main {} in {}, {:.0f} m away",
                            build_.network.pipes.id[at(place->pipe)], of_main, place->away));
    }
    c_.id.push_back(id);
    c_.pipe.push_back(place->pipe);
    c_.station.push_back(place->station);
    c_.must_not_lose.push_back(cells.ternary("must_not_lose") == network::Ternary::yes ? 1 : 0);
    c_.why_not.push_back(cells.text("why_not").value_or(""));
    c_.street.push_back(street);
    c_.excess_flow_valve.push_back(cells.ternary("excess_flow_valve"));
    load(cells);
  }
  void finish() {
    for (const auto& [name, count] : by_class_) {
      build_.report.add({"import.load_class", Grade::info, "", "", "class",
                         fmt::format("{} customers of class {}", count, name),
                         fmt::format("took the loads of the class: {}",
                                     build_.mapping.load_classes.find(name)->second.because),
                         "", true});
    }
  }

 private:
  void load(Cells& cells) {
    const LoadClass* load_class = find_class(cells);
    std::string shape = cells.text("shape").value_or("");
    if (shape.empty() && load_class != nullptr) shape = load_class->shape;
    c_.shape.push_back(shape_index(shape, cells));
    StdFlow base = cells.quantity<kinds::StdFlow>("base");
    if (!std::isfinite(base.si()) && load_class != nullptr) base = load_class->base;
    c_.base.push_back(base);
    double per_k = slope(cells);
    if (!std::isfinite(per_k) && load_class != nullptr) per_k = load_class->per_k;
    c_.per_k.push_back(per_k);
    GaugePressure least = cells.quantity<kinds::GaugePressure>("least");
    if (!std::isfinite(least.si()) && load_class != nullptr) least = load_class->least;
    c_.least.push_back(least);
    const bool whole =
        std::isfinite(base.si()) && std::isfinite(per_k) && c_.shape.back() != network::none;
    if (!whole)
      cells.say("import.unknown_load", Grade::undecided, "class", "", "its load is not known");
  }
  const LoadClass* find_class(Cells& cells) {
    const auto name = cells.text("class");
    if (!name) return nullptr;
    const auto found = build_.mapping.load_classes.find(*name);
    if (found == build_.mapping.load_classes.end()) {
      cells.say("import.unknown_code", Grade::undecided, "class", *name,
                "the mapping has no such class of load");
      return nullptr;
    }
    ++by_class_[*name];
    return &found->second;
  }
  Index shape_index(const std::string& shape, Cells& cells) {
    if (shape.empty()) return network::none;
    const auto& ids = build_.network.shapes.id;
    const auto found = std::ranges::find(ids, shape);
    if (found != ids.end()) return static_cast<Index>(found - ids.begin());
    cells.say("import.unknown_code", Grade::undecided, "shape", shape,
              "the mapping has no such load shape");
    return network::none;
  }
  static double slope(Cells& cells) {
    const auto text = cells.text("slope");
    if (!text) return unknown;
    const auto read = parse_slope(cells.with_unit("slope", *text), "slope");
    if (read) return *read;
    cells.say("import.unreadable", Grade::undecided, "slope", *text,
              "taken as unknown: " + read.error().fix);
    return unknown;
  }

  Build build_;
  network::Customers& c_;
  std::map<std::string, std::size_t, std::less<>> by_class_;
};

/// How far from its main a customer may be mapped when the mapping does not say. Common practice,
/// no source: a service longer than this is rare in a town.
constexpr Length customer_reach = Length::from_si(60.0);

}  // namespace

Result<bool> read_customers(Build build) {
  CustomerReader reader(build);
  BELLHOLE_TRY(done, each(build, "customers", "customer", customer_reach,
                          [&](Cells& cells, const RawFeature& feature, const std::string& id,
                              Placer& placer) { reader.read(cells, feature, id, placer); }));
  reader.finish();
  return done;
}

Result<bool> read_features(Build build) {
  network::Features& f = build.network.features;
  return each(build, "features", "feature", build.mapping.report_gap,
              [&](Cells& cells, const RawFeature& feature, const std::string& id, Placer& placer) {
                const bool from_to = cells.has("begin") && cells.has("end");
                const auto place = placer.place(cells, feature, from_to ? "begin" : "station");
                if (!place) return;
                const double whole = build.network.pipes.length[at(place->pipe)].si();
                double begin = place->station.si(), end = begin;
                if (from_to) {
                  // A feature stays as long as it is recorded, wherever its main was split.
                  const double first = cells.quantity<kinds::Length>("begin").si();
                  const double last = cells.quantity<kinds::Length>("end").si();
                  if (last > first)
                    end = std::min(begin == first ? last : begin + (last - first), whole);
                } else if (const double extent = cells.quantity<kinds::Length>("length").si();
                           extent > 0.0) {
                  begin = std::max(0.0, place->station.si() - extent / 2.0);
                  end = std::min(whole, place->station.si() + extent / 2.0);
                }
                f.id.push_back(id);
                f.kind.push_back(cells.word("kind", network::FeatureKind::other));
                f.pipe.push_back(place->pipe);
                f.begin.push_back(Length::from_si(begin));
                f.end.push_back(Length::from_si(end));
                f.says.push_back(cells.text("says").value_or(""));
              });
}

Result<bool> read_drawing(Build build) {
  network::Backdrop& b = build.network.backdrop;
  b.first.push_back(0);
  BELLHOLE_TRY(all, readers(build.mapping, build.layers, "backdrop", "drawing", build.report));
  for (Cells& cells : all) {
    for (const RawFeature* feature : cells.taken()) {
      cells.at(*feature);
      if (feature->broken || (feature->shape != Shape::line && feature->shape != Shape::area)) {
        cells.say("import.wrong_shape", Grade::info, "geometry", "",
                  "left out of the drawing: a line or an area is wanted here");
        continue;
      }
      for (const Line& part : feature->parts) {
        if (part.size() < 2) continue;
        b.kind.push_back(cells.word("kind", network::BackdropKind::other));
        b.says.push_back(cells.text("says").value_or(""));
        for (const XY& point : part) {
          b.vx.push_back(point.x);
          b.vy.push_back(point.y);
        }
        b.first.push_back(static_cast<std::int32_t>(b.vx.size()));
      }
    }
  }
  network::FixedPoints& p = build.network.fixed_points;
  return each(build, "fixed_points", "fixed point", build.mapping.report_gap,
              [&](Cells& cells, const RawFeature& feature, const std::string& id, Placer&) {
                const auto point = clean_point(feature, cells);
                if (!point) return;
                p.id.push_back(id);
                p.x.push_back(point->x);
                p.y.push_back(point->y);
                p.says.push_back(cells.text("says").value_or(""));
              });
}

Result<bool> read_notes(Build build) {
  network::Notes& n = build.network.notes;
  BELLHOLE_TRY(all, readers(build.mapping, build.layers, "notes", "note", build.report));
  for (Cells& cells : all) {
    for (const RawFeature* feature : cells.taken()) {
      cells.at(*feature);
      n.rule.push_back(cells.text("rule").value_or("import.note"));
      n.element.push_back(cells.text("element").value_or(""));
      n.says.push_back(cells.text("says").value_or(""));
      n.assumed.push_back(cells.ternary("assumed") == network::Ternary::yes ? 1 : 0);
    }
  }
  return true;
}

}  // namespace bellhole::maps
