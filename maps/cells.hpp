// Reading the fields of one element from the columns of its layer, as the mapping says, with a row
// in the report for whatever had to be taken for granted.
#pragma once

#include <limits>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>

#include "findings/trouble.hpp"
#include "maps/mapping.hpp"
#include "maps/raw.hpp"
#include "maps/report.hpp"
#include "network/words.hpp"
#include "units/parse.hpp"

namespace bellhole::maps {

/// Whether the feature has one of the values that are meant. REQUIRES: the column is in the layer.
bool meant(const Only& only, const RawLayer& layer, const RawFeature& feature);

/// The fields of the rows of one layer entry. `what` names its elements: "pipe", "valve".
class Cells {
 public:
  /// Errors: bad_mapping when a column that the mapping names is not in the layer. All references
  /// must outlive this.
  static Result<Cells> of(const RawLayer& layer, const LayerEntry& entry, std::string what,
                          const std::string& where, Report& report);

  /// The features that the entry takes, in the order of the map. Those that it leaves out are
  /// counted in a row.
  [[nodiscard]] std::vector<const RawFeature*> taken();

  /// Moves to a feature. Fields read after this are its fields.
  void at(const RawFeature& feature) { feature_ = &feature; }
  /// How the map names the feature: its id, or "row 17".
  [[nodiscard]] std::string label() const;
  /// Id of the element in the network that rows are about from now on: "pipe M-12".
  void about(std::string element) { element_ = std::move(element); }

  [[nodiscard]] bool has(std::string_view field) const { return entry_->fields.contains(field); }

  /// What the map says of a field, or nothing: it is silent, or says what no code explains.
  std::optional<std::string> written(std::string_view field);
  [[nodiscard]] bool silent(std::string_view field) const;
  /// What the mapping says to take where the map is silent, with a row that says so; or nothing.
  std::optional<std::string> filled(std::string_view field);

  // The value of a field: as written, or filled where the map is silent.
  std::optional<std::string> text(std::string_view field);
  /// A bare number gets the mapping's unit behind it; a value that brings its own keeps it.
  [[nodiscard]] std::string with_unit(std::string_view field, std::string value) const;
  std::optional<double> number(std::string_view field);
  template <class Kind>
  Quantity<Kind> quantity(std::string_view field);  ///< nan: nothing
  network::Ternary ternary(std::string_view field);
  template <class E>
  E word(std::string_view field, E unknown);

  /// Adds a row about the current feature.
  void say(std::string rule, Grade grade, std::string_view field, std::string value,
           std::string done, bool assumed = false);

 private:
  Cells() = default;
  std::optional<std::string> constant(const std::string& name, const Field& field);
  void unreadable(std::string_view field, const std::string& value, const Trouble& trouble);

  const RawLayer* layer_ = nullptr;
  const LayerEntry* entry_ = nullptr;
  Report* report_ = nullptr;
  std::string what_;
  std::map<std::string, std::size_t, std::less<>> columns_;  ///< field -> column of the layer
  std::set<std::string, std::less<>> said_once_;  ///< fields whose constant or reading is reported
  const RawFeature* feature_ = nullptr;
  std::string element_;
};

template <class Kind>
Quantity<Kind> Cells::quantity(std::string_view field) {
  const auto nothing = Quantity<Kind>::from_si(std::numeric_limits<double>::quiet_NaN());
  const auto value = text(field);
  if (!value) return nothing;
  auto read = units::parse<Kind>(with_unit(field, *value), field);
  if (!read) {
    unreadable(field, *value, read.error());
    return nothing;
  }
  if (!read->assumed.empty() && said_once_.insert(std::string(field) + ": unit").second) {
    report_->add({"import.read_as", Grade::info, layer_->name, "", std::string(field), *value,
                  read->assumed, "", true});
  }
  return read->value;
}

template <class E>
E Cells::word(std::string_view field, E unknown) {
  const auto value = text(field);
  if (!value) return unknown;
  if (const auto known = network::from_word<E>(*value)) return *known;
  unreadable(field, *value,
             {Code::unreadable_value, "", *value,
              "give a code for it; the words are: " + network::all_words<E>()});
  return unknown;
}

}  // namespace bellhole::maps
