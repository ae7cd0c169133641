// Layers, entries and fields of a mapping.
#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "maps/mapping_fields.hpp"
#include "maps/mapping_parts.hpp"

namespace bellhole::maps::mapping {

using wire::Json;
using wire::Object;

std::unexpected<Trouble> bad(std::string where, std::string value, std::string fix) {
  return trouble(Code::bad_mapping, std::move(where), std::move(value), std::move(fix));
}

std::optional<std::string> scalar(const Json& json) {
  if (json.is_string()) return json.get<std::string>();
  if (json.is_boolean()) return json.get<bool>() ? "yes" : "no";
  if (json.is_number()) return wire::canonical(json);
  return std::nullopt;
}

namespace {

Result<std::optional<std::string>> scalar_at(const Object& object, std::string_view key) {
  object.know(key);
  if (!object.has(key)) return std::optional<std::string>();
  const Json& json = *object.json().find(std::string(key));
  const auto text = scalar(json);
  if (!text) return bad(object.at(key), json.dump(), "give a text, a number, true or false");
  return std::optional<std::string>(*text);
}

Result<Field> read_field(const Json& json, const std::string& where,
                         std::vector<std::string>* assumed) {
  Field field;
  if (json.is_string()) {
    field.column = json.get<std::string>();
    if (field.column.empty()) return bad(where, "\"\"", "name a column of the layer");
    return field;
  }
  BELLHOLE_TRY(object, Object::of(json, where, assumed));
  BELLHOLE_TRY(column, object.text("column"));
  BELLHOLE_TRY(value, scalar_at(object, "value"));
  BELLHOLE_TRY(if_missing, scalar_at(object, "if_missing"));
  BELLHOLE_TRY(because, object.text("because"));
  BELLHOLE_TRY(unit, object.text("unit"));
  field.column = column.value_or("");
  field.value = value;
  field.if_missing = if_missing;
  field.because = because.value_or("");
  field.unit = unit.value_or("");
  BELLHOLE_TRY(codes, object.object("codes"));
  if (codes) {
    for (const auto& [code, meaning] : codes->json().items()) {
      const auto text = scalar(meaning);
      if (!text) return bad(codes->at(code), meaning.dump(), "give a word of ours, true or false");
      field.codes.emplace(code, *text);
    }
  }
  const bool only_if_missing = field.column.empty() && !field.value && field.if_missing;
  if (field.column.empty() == !field.value.has_value() && !only_if_missing) {
    return bad(where, json.dump(), "give either a column or a value that is the same for all rows");
  }
  if (field.if_missing && field.because.empty()) {
    return bad(
        where + ".because", "",
        "say why this may be taken where the map says nothing: it is printed as an assumption");
  }
  BELLHOLE_TRY(done, object.done());
  static_cast<void>(done);
  return field;
}

Result<std::optional<Only>> read_only(const Object& entry, std::string_view key) {
  BELLHOLE_TRY(object, entry.object(key));
  if (!object) return std::optional<Only>();
  Only only;
  BELLHOLE_TRY(column,
               object->need_text("column", "name the column that says which rows are meant"));
  only.column = column;
  object->know("is");
  const auto is = object->json().find("is");
  if (is == object->json().end() || !is->is_array() || is->empty()) {
    return bad(object->at("is"), "", "list the values of the column that are meant");
  }
  for (const Json& value : *is) {
    const auto text = scalar(value);
    if (!text) return bad(object->at("is"), value.dump(), "list texts or numbers");
    only.is.push_back(*text);
  }
  BELLHOLE_TRY(done, object->done());
  static_cast<void>(done);
  return std::optional<Only>(std::move(only));
}

Result<LayerEntry> read_entry(const Object& object, std::string_view kind) {
  LayerEntry entry;
  BELLHOLE_TRY(layer, object.need_text("layer", "name the layer of the map"));
  BELLHOLE_TRY(source, object.text("source"));
  BELLHOLE_TRY(crs, object.text("crs"));
  BELLHOLE_TRY(only, read_only(object, "only"));
  BELLHOLE_TRY(leave_out, read_only(object, "leave_out"));
  BELLHOLE_TRY(reach, object.quantity<kinds::Length>("reach"));
  BELLHOLE_TRY(tiers, object.texts("tiers"));
  entry.layer = layer;
  entry.source = source.value_or("");
  entry.crs = crs.value_or("");
  entry.only = only;
  entry.leave_out = leave_out;
  entry.reach = reach;
  entry.tiers = tiers;
  BELLHOLE_TRY(fields, object.object("fields"));
  if (fields) {
    for (const auto& [name, json] : fields->json().items()) {
      if (!is_field(kind, name)) {
        return bad(fields->at(name), "",
                   fmt::format("{} have these fields: {}", kind, field_list(kind)));
      }
      BELLHOLE_TRY(field, read_field(json, fields->at(name), object.assumed()));
      entry.fields.emplace(name, field);
    }
  }
  BELLHOLE_TRY(done, object.done());
  static_cast<void>(done);
  return entry;
}

}  // namespace

Result<bool> read_layers(const Object& document, Mapping& mapping) {
  BELLHOLE_TRY(layers, document.object("layers"));
  if (!layers) return bad(document.at("layers"), "", "say which layer of the map holds the mains");
  for (const auto& [kind, json] : layers->json().items()) {
    if (!is_kind(kind))
      return bad(layers->at(kind), "", "the kinds of elements are: " + kind_list());
    BELLHOLE_TRY(entries, layers->objects(kind));
    for (const Object& object : entries) {
      BELLHOLE_TRY(entry, read_entry(object, kind));
      for (const auto& tier : entry.tiers) {
        if (!mapping.tier(tier))
          return bad(object.at("tiers"), tier, "name a tier that stands in `tiers`");
      }
      mapping.layers[kind].push_back(entry);
    }
  }
  if (mapping.entries("mains").empty()) {
    return bad(layers->at("mains"), "", "say which layer of the map holds the mains");
  }
  for (const LayerEntry& entry : mapping.entries("mains")) {
    if (!entry.fields.contains("tier") && mapping.tiers.size() != 1) {
      return bad(layers->at("mains"), entry.layer,
                 "say by which field `tier` the pressure tier of a main is known");
    }
  }
  return true;
}

}  // namespace bellhole::maps::mapping
