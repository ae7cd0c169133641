#include "maps/facts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "maps/roughness_table.hpp"
#include "pipe/materials.hpp"
#include "pipe/sizes.hpp"
#include "pipe/walls.hpp"
#include "units/print.hpp"

namespace bellhole::maps {
namespace {

using network::Material;
using network::Ternary;
constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

/// A size as people write it for steel: the outside diameters of NPS and of IPS are one table (ASME
/// B36.10M, ASTM D3035).
std::string as_ips(const std::string& size) {
  return size.starts_with("NPS") ? "IPS" + size.substr(3) : size;
}

}  // namespace

/// The fields of one pipe: its column first, then its code; both and different is said.
class FactReader::Row {
 public:
  Row(Cells& cells, const Mapping& mapping) : cells_(cells) {
    if (!cells.has("code")) return;
    const auto value = cells.text("code");
    if (!value) return;
    for (const auto& [name, table] : mapping.pipe_codes) {
      if (const auto found = table.find(*value); found != table.end()) code_ = &found->second;
    }
    odd_code_ = code_ == nullptr;
    if (odd_code_) {
      cells.say("import.unknown_code", Grade::undecided, "code", *value,
                "no table of pipe codes has it; size and material stay unknown unless other "
                "columns say them");
    }
  }

  /// The map has a code that no table explains; that is said, and what follows from it need not be.
  [[nodiscard]] bool odd_code() const { return odd_code_; }
  std::optional<std::string> text(const char* field) {
    const auto column = cells_.written(field);
    const auto coded = from_code(field);
    if (column && coded && *column != *coded) {
      cells_.say("import.contradiction", Grade::undecided, field, *column,
                 fmt::format("the code says {}; the column was believed", *coded));
    }
    if (column) return column;
    return coded ? coded : fill(field);
  }
  std::optional<double> number(const char* field) {
    const auto value = text(field);
    if (!value) return std::nullopt;
    const auto number = units::parse_number(*value, field);
    if (number) return *number;
    unreadable(field, *value, number.error());
    return std::nullopt;
  }
  /// As written or coded; not filled, since a length may still follow from others.
  Length length(const char* field) {
    if (const auto column = cells_.written(field)) {
      return parsed(field, cells_.with_unit(field, *column));
    }
    const auto coded = from_code(field);
    return coded ? parsed(field, *coded) : Length::from_si(unknown);
  }
  Length filled_length(const char* field) {
    const auto value = fill(field);
    return value ? parsed(field, cells_.with_unit(field, *value)) : Length::from_si(unknown);
  }
  Ternary ternary(const char* field) {
    const Ternary column = cells_.ternary(field);
    if (column != Ternary::unknown) return column;
    const auto coded = from_code(field);
    if (!coded) return column;
    return *coded == "yes" ? Ternary::yes : *coded == "no" ? Ternary::no : Ternary::unknown;
  }

 private:
  /// What the map says and nobody can read is not filled in.
  std::optional<std::string> fill(const char* field) {
    return cells_.silent(field) ? cells_.filled(field) : std::nullopt;
  }
  Length parsed(const char* field, const std::string& value) {
    const auto read = units::parse<kinds::Length>(value, field);
    if (read) return read->value;
    unreadable(field, value, read.error());
    return Length::from_si(unknown);
  }
  void unreadable(const char* field, const std::string& value, const Trouble& trouble) {
    cells_.say("import.unreadable", Grade::undecided, field, value,
               "taken as unknown: " + trouble.fix);
  }
  std::optional<std::string> from_code(const char* field) const {
    if (code_ == nullptr) return std::nullopt;
    const auto found = code_->fields.find(field);
    return found == code_->fields.end() ? std::nullopt : std::optional(found->second);
  }
  Cells& cells_;
  const PipeCode* code_ = nullptr;
  bool odd_code_ = false;
};

namespace {

Material material_of(const std::optional<std::string>& word, const std::string& grade,
                     Cells& cells) {
  if (word) {
    if (const auto known = network::from_word<Material>(*word)) return *known;
    cells.say("import.unknown_material", Grade::undecided, "material", *word,
              "taken as unknown; the words are: " + network::all_words<Material>());
    return Material::unknown;
  }
  if (!grade.empty() && pipe::read_material(grade, "grade")) return Material::pe;
  return Material::unknown;
}

/// The grade as the tables spell it. A grade of PE that stands in no table is kept and said.
std::string grade_of(const std::optional<std::string>& text, Cells& cells,
                     const std::optional<std::string>& material) {
  if (!text) return "";
  const auto known = pipe::read_material(*text, "grade");
  if (known) return std::string((*known)->name);
  if (!material || *material == "pe") {
    cells.say("import.unknown_grade", Grade::undecided, "grade", *text,
              "kept as written; it stands in no table of PE materials: " + known.error().fix);
  }
  return *text;
}

std::int16_t year_of(const std::optional<std::string>& text, Cells& cells) {
  if (!text) return 0;
  const auto number = units::parse_number(std::string_view(*text).substr(0, 4), "year");
  constexpr double first = 1800.0, last = 2200.0;  // nothing laid for gas lies outside
  const bool good = number && *number >= first && *number <= last && *number == std::floor(*number);
  if (good) return static_cast<std::int16_t>(*number);
  cells.say("import.unreadable", Grade::undecided, "year", *text,
            "taken as unknown: a year or a date that begins with one is wanted");
  return 0;
}

std::optional<pipe::Size> size_of(PipeFacts& facts, const std::optional<std::string>& text,
                                  Cells& cells) {
  if (!text) return std::nullopt;
  const auto size = pipe::read_size(as_ips(*text), "size");
  if (!size) {
    cells.say("import.unknown_size", Grade::undecided, "size", *text,
              "taken as unknown: " + size.error().fix);
    return std::nullopt;
  }
  facts.size = text->starts_with("NPS") ? *text : size->name;
  return *size;
}

/// Bore for flow: as given, or between the walls of the size.
Length bore_of(const PipeFacts& facts, const std::optional<pipe::Size>& size, Length wall,
               Cells& cells) {
  const auto nothing = Length::from_si(unknown);
  if (!size) return nothing;
  if (std::isfinite(wall.si())) {
    const Length bore = size->od - 2.0 * wall;
    if (bore.si() > 0.0) return bore;
    cells.say("import.contradiction", Grade::undecided, "wall",
              fmt::format("{:.1f} mm", 1e3 * wall.si()),
              "the wall leaves no bore; the bore is unknown");
    return nothing;
  }
  if (!std::isfinite(facts.ratio)) return nothing;
  const auto walls = pipe::walls_by_ratio(*size, facts.ratio, "ratio");
  if (!walls) {
    cells.say("import.unknown_ratio", Grade::undecided, "ratio", fmt::format("{}", facts.ratio),
              "the bore is unknown: " + walls.error().fix);
    return nothing;
  }
  return size->od - 2.0 * walls->nominal;
}

}  // namespace

PipeFacts FactReader::read(Cells& cells) {
  Row row(cells, mapping_);
  PipeFacts facts;
  const auto material = row.text("material");
  facts.grade = grade_of(row.text("grade"), cells, material);
  facts.material = material_of(material, facts.grade, cells);
  const auto ratio = row.number("ratio");
  facts.ratio = ratio && *ratio > 1.0 ? *ratio : unknown;
  const auto size_text = row.text("size");
  const auto size = size_of(facts, size_text, cells);
  const Length wall = row.length("wall"), bore = row.length("bore");
  facts.bore = std::isfinite(bore.si()) ? bore : bore_of(facts, size, wall, cells);
  if (!std::isfinite(facts.bore.si())) facts.bore = row.filled_length("bore");
  if (!size_text && !row.odd_code()) {
    cells.say("import.missing_size", Grade::undecided, "size", "",
              "the map gives no size; it stays unknown");
  }
  facts.roughness = row.length("roughness");
  if (!std::isfinite(facts.roughness.si())) facts.roughness = row.filled_length("roughness");
  if (!std::isfinite(facts.roughness.si())) facts.roughness = roughness(facts.material, cells);
  facts.year = year_of(cells.text("year"), cells);
  facts.lining = {row.ternary("inserted"), row.ternary("cased"), row.ternary("layered"),
                  row.ternary("lined")};
  facts.street = cells.text("street").value_or("");
  facts.surface = cells.text("surface").value_or("");
  facts.depth = cells.quantity<kinds::Length>("depth");
  return facts;
}

Length FactReader::roughness(Material material, Cells& cells) {
  const auto word = network::word(material);
  const auto given = std::ranges::find(mapping_.roughness, word, &Roughness::material);
  if (given != mapping_.roughness.end()) {
    ++assumed_roughness_[material];
    return given->value;
  }
  const auto table = std::ranges::find(roughness_table, material, &RoughnessRow::material);
  if (table != roughness_table.end()) {
    ++assumed_roughness_[material];
    return table->value;
  }
  cells.say("import.unknown_roughness", Grade::undecided, "roughness", std::string(word),
            "no roughness is known for this material");
  return Length::from_si(unknown);
}

void FactReader::finish() {
  for (const auto& [material, count] : assumed_roughness_) {
    const auto word = network::word(material);
    const auto given = std::ranges::find(mapping_.roughness, word, &Roughness::material);
    const auto table = std::ranges::find(roughness_table, material, &RoughnessRow::material);
    const bool from_mapping = given != mapping_.roughness.end();
    const Length value = from_mapping ? given->value : table->value;
    report_.add({"import.roughness", Grade::info, "", "", "roughness",
                 fmt::format("{} mains of {}", count, word),
                 fmt::format("took {:.4g} mm: {}", 1e3 * value.si(),
                             from_mapping ? given->because : std::string(table->source)),
                 "", true});
  }
  assumed_roughness_.clear();
}

}  // namespace bellhole::maps
