#include "maps/mapping.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "maps/mapping_fields.hpp"
#include "maps/mapping_parts.hpp"
#include "units/parse.hpp"
#include "wire/json.hpp"

namespace bellhole::maps {
namespace {

using wire::Json;
using wire::Object;
using namespace mapping;

constexpr wire::Cap mapping_cap{std::size_t{16} << 20, 16};
constexpr double not_given = std::numeric_limits<double>::quiet_NaN();

template <class Kind>
Result<bool> optional_quantity(const Object& object, std::string_view key, Quantity<Kind>& out) {
  BELLHOLE_TRY(value, object.quantity<Kind>(key));
  out = value ? *value : Quantity<Kind>::from_si(not_given);
  return true;
}

// --- tables of the mapping
// ----------------------------------------------------------------------------
Result<bool> read_tiers(const Object& document, Mapping& mapping) {
  BELLHOLE_TRY(tiers, document.objects("tiers"));
  if (tiers.empty())
    return bad(document.at("tiers"), "", "list the pressure tiers, each with id, maop and least");
  for (const Object& object : tiers) {
    TierEntry tier;
    BELLHOLE_TRY(id, object.need_text("id", "name the tier"));
    tier.id = id;
    BELLHOLE_TRY(maop, optional_quantity(object, "maop", tier.maop));
    BELLHOLE_TRY(least, optional_quantity(object, "least", tier.least));
    static_cast<void>(maop);
    static_cast<void>(least);
    BELLHOLE_TRY(done, object.done());
    static_cast<void>(done);
    if (tier.id.empty() || mapping.tier(tier.id))
      return bad(object.at("id"), tier.id, "every tier needs an id of its own");
    mapping.tiers.push_back(tier);
  }
  return true;
}

Result<ShapeEntry> read_shape(const Object& object) {
  ShapeEntry shape;
  BELLHOLE_TRY(id, object.need_text("id", "name the shape"));
  BELLHOLE_TRY(reference,
               object.need<kinds::Temperature>(
                   "reference", "give the temperature above which nothing is drawn for heating"));
  BELLHOLE_TRY(low, object.number("low"));
  BELLHOLE_TRY(high, object.number("high"));
  if (!low || !high) {
    return bad(object.at(low ? "high" : "low"), "",
               "give the range of the draw as multipliers on its expected value: low, high");
  }
  shape.id = id;
  shape.reference = reference;
  shape.low = *low;
  shape.high = *high;
  if (!(shape.low >= 0.0 && shape.low <= 1.0 && shape.high >= 1.0)) {
    return bad(object.at("low"), fmt::format("{} to {}", *low, *high),
               "low lies between 0 and 1, high is 1 or more");
  }
  object.know("hour_factor");
  const auto factors = object.json().find("hour_factor");
  if (factors == object.json().end() || !factors->is_array() || factors->size() != 24) {
    return bad(object.at("hour_factor"), "",
               "give 24 numbers, one for each hour of the day from midnight");
  }
  double sum = 0.0;
  for (std::size_t hour = 0; hour < 24; ++hour) {
    const Json& factor = (*factors)[hour];
    if (!factor.is_number() || !(factor.get<double>() >= 0.0))
      return bad(object.at("hour_factor"), factor.dump(), "give numbers from 0");
    shape.hour_factor[hour] = factor.get<double>();
    sum += shape.hour_factor[hour];
  }
  if (!std::isfinite(sum) || std::abs(sum / 24.0 - 1.0) > 1e-9) {
    return bad(object.at("hour_factor"), fmt::format("mean {:.6g}", sum / 24.0),
               "the 24 factors average 1: divide them by their mean");
  }
  BELLHOLE_TRY(done, object.done());
  static_cast<void>(done);
  return shape;
}

bool has_shape(const Mapping& mapping, std::string_view id) {
  return std::ranges::find(mapping.shapes, id, &ShapeEntry::id) != mapping.shapes.end();
}

Result<bool> read_shapes(const Object& document, Mapping& mapping) {
  BELLHOLE_TRY(shapes, document.objects("shapes"));
  for (const Object& object : shapes) {
    BELLHOLE_TRY(shape, read_shape(object));
    if (has_shape(mapping, shape.id))
      return bad(object.at("id"), shape.id, "every shape needs an id of its own");
    mapping.shapes.push_back(shape);
  }
  return true;
}

Result<LoadClass> read_class(const Object& object, const Mapping& mapping) {
  LoadClass load;
  BELLHOLE_TRY(shape, object.need_text("shape", "name a shape that stands in `shapes`"));
  BELLHOLE_TRY(base, object.need<kinds::StdFlow>("base", "give the draw without heating"));
  BELLHOLE_TRY(slope, object.need_text(
                          "slope", "give the draw for each degree of cold, as \"1.2 scfh/degF\""));
  BELLHOLE_TRY(because,
               object.need_text("because",
                                "say where these loads come from: it is printed as an assumption"));
  BELLHOLE_TRY(per_k, parse_slope(slope, object.at("slope")));
  BELLHOLE_TRY(least, optional_quantity(object, "least", load.least));
  static_cast<void>(least);
  load.shape = shape;
  load.base = base;
  load.per_k = per_k;
  load.because = because;
  if (!has_shape(mapping, shape)) {
    return bad(object.at("shape"), shape, "name a shape that stands in `shapes`");
  }
  if (!(load.base.si() >= 0.0)) return bad(object.at("base"), "", "a draw is not negative");
  BELLHOLE_TRY(done, object.done());
  static_cast<void>(done);
  return load;
}

Result<bool> read_classes(const Object& document, Mapping& mapping) {
  BELLHOLE_TRY(classes, document.object("load_classes"));
  if (!classes) return true;
  for (const auto& [name, json] : classes->json().items()) {
    BELLHOLE_TRY(object, Object::of(json, classes->at(name), classes->assumed()));
    BELLHOLE_TRY(load, read_class(object, mapping));
    mapping.load_classes.emplace(name, load);
  }
  return true;
}

Result<bool> read_codes(const Object& document, Mapping& mapping) {
  BELLHOLE_TRY(tables, document.object("pipe_codes"));
  if (!tables) return true;
  for (const auto& [name, json] : tables->json().items()) {
    BELLHOLE_TRY(table, Object::of(json, tables->at(name), tables->assumed()));
    for (const auto& [code, meaning] : table.json().items()) {
      BELLHOLE_TRY(object, Object::of(meaning, table.at(code), table.assumed()));
      PipeCode entry;
      for (const auto& [field, value] : object.json().items()) {
        const auto text = scalar(value);
        if (!is_code_field(field) || !text) {
          return bad(object.at(field), value.dump(),
                     "a code gives these fields: " + code_field_list());
        }
        entry.fields.emplace(field, *text);
      }
      mapping.pipe_codes[name].emplace(code, entry);
    }
  }
  return true;
}

Result<bool> read_roughness(const Object& document, Mapping& mapping) {
  BELLHOLE_TRY(table, document.object("roughness"));
  if (!table) return true;
  for (const auto& [material, json] : table->json().items()) {
    BELLHOLE_TRY(object, Object::of(json, table->at(material), table->assumed()));
    BELLHOLE_TRY(value, object.need<kinds::Length>(
                            "value", "give the roughness of the wall, as \"0.0015mm\""));
    BELLHOLE_TRY(
        because,
        object.need_text("because", "say where it comes from: it is printed as an assumption"));
    BELLHOLE_TRY(done, object.done());
    static_cast<void>(done);
    mapping.roughness.push_back({material, value, because});
  }
  return true;
}

Result<bool> read_base(const Object& document, Mapping& mapping) {
  BELLHOLE_TRY(base, document.object("base"));
  mapping.base_pressure = AbsolutePressure::from_si(not_given);
  mapping.base_temperature = Temperature::from_si(not_given);
  if (!base) return true;
  BELLHOLE_TRY(pressure, base->need<kinds::AbsolutePressure>(
                             "pressure", "give the base pressure, as \"14.73psia\""));
  BELLHOLE_TRY(temperature, base->need<kinds::Temperature>(
                                "temperature", "give the base temperature, as \"60degF\""));
  BELLHOLE_TRY(done, base->done());
  static_cast<void>(done);
  mapping.base_pressure = pressure;
  mapping.base_temperature = temperature;
  return true;
}

Result<bool> read_distances(const Object& document, Mapping& mapping) {
  BELLHOLE_TRY(
      snap, document.need<kinds::Length>(
                "snap_tolerance", "say how near two ends must lie to be one joint, as \"0.5m\""));
  BELLHOLE_TRY(gap, document.quantity<kinds::Length>("report_gap"));
  BELLHOLE_TRY(reach, document.quantity<kinds::Length>("station_reach"));
  BELLHOLE_TRY(most, document.quantity<kinds::Fraction>("most_not_snapping"));
  BELLHOLE_TRY(crossings, document.flag("join_crossings"));
  mapping.snap = snap;
  if (!(snap.si() > 0.0))
    return bad(document.at("snap_tolerance"), "", "a tolerance is above zero");
  mapping.report_gap = gap.value_or(10.0 * snap);
  mapping.station_reach = reach.value_or(mapping.report_gap);
  mapping.most_not_snapping = most ? most->si() : 0.1;
  mapping.join_crossings = crossings.value_or(false);
  if (mapping.report_gap < snap)
    return bad(document.at("report_gap"), "", "it is at least the snap tolerance");
  if (!(mapping.most_not_snapping > 0.0 && mapping.most_not_snapping <= 1.0)) {
    return bad(document.at("most_not_snapping"), "", "give a fraction above 0 and up to 1");
  }
  return true;
}

Result<bool> read_head(const Object& document, Mapping& mapping) {
  BELLHOLE_TRY(
      kind,
      document.need_text(
          "document", "a mapping begins with \"document\": \"bellhole.mapping\", \"version\": 1"));
  BELLHOLE_TRY(version, document.whole("version"));
  if (kind != "bellhole.mapping" || version != 1) {
    return bad(document.at("document"), kind,
               "a mapping begins with \"document\": \"bellhole.mapping\", \"version\": 1");
  }
  BELLHOLE_TRY(name, document.text("name"));
  BELLHOLE_TRY(date, document.text("map_date"));
  BELLHOLE_TRY(crs, document.text("crs"));
  mapping.name = name.value_or("");
  mapping.map_date = date.value_or("");
  mapping.crs = crs.value_or("");
  BELLHOLE_TRY(already, document.flag("already_imported"));
  BELLHOLE_TRY(from, document.text("imported_from"));
  mapping.already_imported = already.value_or(false);
  mapping.imported_from = from.value_or("");
  BELLHOLE_TRY(barometer, optional_quantity(document, "barometer", mapping.barometer));
  BELLHOLE_TRY(altitude, optional_quantity(document, "datum_altitude", mapping.datum_altitude));
  static_cast<void>(barometer);
  static_cast<void>(altitude);
  BELLHOLE_TRY(ignore, document.texts("ignore"));
  mapping.ignore = ignore;
  return true;
}

}  // namespace

const std::vector<LayerEntry>& Mapping::entries(std::string_view kind) const {
  static const std::vector<LayerEntry> nothing;
  const auto found = layers.find(kind);
  return found == layers.end() ? nothing : found->second;
}

std::optional<std::size_t> Mapping::tier(std::string_view id) const {
  const auto found = std::ranges::find(tiers, id, &TierEntry::id);
  if (found == tiers.end()) return std::nullopt;
  return static_cast<std::size_t>(found - tiers.begin());
}

Result<Mapping> read_mapping(std::string_view bytes, std::string_view file) {
  Mapping mapping;
  mapping.file = file;
  BELLHOLE_TRY(json, wire::parse_json(bytes, file, mapping_cap));
  BELLHOLE_TRY(document, Object::of(json, std::string(file), &mapping.assumed));
  using Part = Result<bool> (*)(const Object&, Mapping&);
  for (const Part part : {read_head, read_base, read_distances, read_tiers, read_shapes,
                          read_classes, read_codes, read_roughness, read_layers}) {
    BELLHOLE_TRY(done, part(document, mapping));
    static_cast<void>(done);
  }
  BELLHOLE_TRY(done, document.done());
  static_cast<void>(done);
  return mapping;
}

}  // namespace bellhole::maps
