#include "maps/cells.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

namespace bellhole::maps {

bool meant(const Only& only, const RawLayer& layer, const RawFeature& feature) {
  const Cell& cell = feature.cells[*layer.column(only.column)];
  return cell && std::ranges::find(only.is, *cell) != only.is.end();
}

Result<Cells> Cells::of(const RawLayer& layer, const LayerEntry& entry, std::string what,
                        const std::string& where, Report& report) {
  Cells cells;
  cells.layer_ = &layer;
  cells.entry_ = &entry;
  cells.report_ = &report;
  cells.what_ = std::move(what);
  const auto find = [&](const std::string& column,
                        const std::string& place) -> Result<std::size_t> {
    if (const auto found = layer.column(column)) return *found;
    return trouble(Code::bad_mapping, place, column,
                   fmt::format("layer {} has no such column; it has: {}", layer.name,
                               fmt::join(layer.columns, ", ")));
  };
  for (const auto& [name, field] : entry.fields) {
    if (field.column.empty()) continue;
    BELLHOLE_TRY(column, find(field.column, fmt::format("{}.fields.{}", where, name)));
    cells.columns_.emplace(name, column);
  }
  for (const auto& [key, filter] :
       {std::pair("only", &entry.only), std::pair("leave_out", &entry.leave_out)}) {
    if (!*filter) continue;
    BELLHOLE_TRY(column, find((*filter)->column, fmt::format("{}.{}.column", where, key)));
    static_cast<void>(column);
  }
  return cells;
}

std::vector<const RawFeature*> Cells::taken() {
  std::vector<const RawFeature*> out;
  std::size_t left_out = 0;
  for (const RawFeature& feature : layer_->features) {
    if (entry_->only && !meant(*entry_->only, *layer_, feature)) continue;
    if (entry_->leave_out && meant(*entry_->leave_out, *layer_, feature)) {
      ++left_out;
    } else {
      out.push_back(&feature);
    }
  }
  if (left_out > 0) {
    report_->add({"import.left_out", Grade::info, layer_->name, "", entry_->leave_out->column,
                  fmt::format("{} features: {}", left_out, fmt::join(entry_->leave_out->is, ", ")),
                  "left out, as the mapping says", "", false});
  }
  return out;
}

std::string Cells::label() const {
  if (const auto column = columns_.find("id"); column != columns_.end()) {
    if (const Cell& cell = feature_->cells[column->second]) return *cell;
  }
  return fmt::format("row {}", feature_->fid);
}

void Cells::say(std::string rule, Grade grade, std::string_view field, std::string value,
                std::string done, bool assumed) {
  report_->add({std::move(rule), grade, layer_->name, label(), std::string(field), std::move(value),
                std::move(done), element_, assumed});
}

std::optional<std::string> Cells::constant(const std::string& name, const Field& field) {
  if (said_once_.insert(name).second) {
    report_->add({"import.same_for_all", Grade::info, layer_->name, "", name, *field.value,
                  field.because.empty()
                      ? fmt::format("the mapping gives this for every {} of the layer", what_)
                      : fmt::format("the mapping gives this for every {} of the layer: {}", what_,
                                    field.because),
                  "", true});
  }
  return field.value;
}

std::optional<std::string> Cells::filled(std::string_view name) {
  const auto found = entry_->fields.find(name);
  if (found == entry_->fields.end() || !found->second.if_missing) return std::nullopt;
  const Field& field = found->second;
  say("import.assumed", Grade::warn, name, "",
      fmt::format("took {}: {}", *field.if_missing, field.because), true);
  return field.if_missing;
}

bool Cells::silent(std::string_view name) const {
  const auto found = entry_->fields.find(name);
  if (found == entry_->fields.end()) return true;
  const Field& field = found->second;
  if (field.value) return false;
  if (field.column.empty()) return true;
  const Cell& cell = feature_->cells[columns_.find(name)->second];
  if (!cell) return true;
  const auto code = field.codes.find(*cell);
  return code != field.codes.end() && (code->second.empty() || code->second == "unknown");
}

std::optional<std::string> Cells::written(std::string_view name) {
  if (silent(name)) return std::nullopt;
  const auto found = entry_->fields.find(name);
  const Field& field = found->second;
  if (field.value) return constant(found->first, field);
  const Cell& cell = feature_->cells[columns_.find(name)->second];
  if (field.codes.empty()) return cell;
  const auto code = field.codes.find(*cell);
  if (code != field.codes.end()) return code->second;
  say("import.unknown_code", Grade::undecided, name, *cell,
      "the mapping has no such code; taken as unknown");
  return std::nullopt;
}

std::optional<std::string> Cells::text(std::string_view name) {
  return silent(name) ? filled(name) : written(name);
}

std::string Cells::with_unit(std::string_view field, std::string value) const {
  const std::string& unit = entry_->fields.find(field)->second.unit;
  const bool bare = !unit.empty() && units::parse_number(value, field).has_value();
  return bare ? value + " " + unit : value;
}

void Cells::unreadable(std::string_view field, const std::string& value, const Trouble& trouble) {
  say("import.unreadable", Grade::undecided, field, value,
      fmt::format("taken as unknown: {}", trouble.fix));
}

std::optional<double> Cells::number(std::string_view field) {
  const auto value = text(field);
  if (!value) return std::nullopt;
  const auto number = units::parse_number(*value, field);
  if (!number) {
    unreadable(field, *value, number.error());
    return std::nullopt;
  }
  return *number;
}

network::Ternary Cells::ternary(std::string_view field) {
  using network::Ternary;
  const auto value = text(field);
  if (!value) return Ternary::unknown;
  std::string word = *value;
  std::ranges::transform(word, word.begin(),
                         [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  for (const auto yes : {"yes", "y", "true", "t", "1"}) {
    if (word == yes) return Ternary::yes;
  }
  for (const auto no : {"no", "n", "false", "f", "0"}) {
    if (word == no) return Ternary::no;
  }
  unreadable(field, *value,
             {Code::unreadable_value, "", *value, "give codes for yes and no in the mapping"});
  return Ternary::unknown;
}

}  // namespace bellhole::maps
