// Tables of text: what a logger or a spreadsheet writes (comma, semicolon or tab between cells).
// The first line names the columns with their units: "time,gap (in),pump (psi)". Empty lines and
// lines that begin with # are passed over. Trouble names the line.
#pragma once

#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "findings/trouble.hpp"
#include "units/quantity.hpp"

namespace bellhole::wire {

/// A column that a table may have: its names in small letters, blanks for what joins words.
struct ColumnWanted {
  std::initializer_list<std::string_view> names;
  bool needed = true;
};

struct TextRow {
  std::string where;                              ///< "recording, line 4"
  std::vector<std::optional<std::string>> cells;  ///< in the order of the columns wanted
};

struct TextTable {
  std::vector<std::string> units;  ///< of each column wanted; empty: none in the head
  std::vector<TextRow> rows;
};

/// Errors: unreadable_document (no head, a column that nothing reads, a line with another number of
/// cells), missing_value (a needed column or cell), contradiction (a column twice), too_large.
Result<TextTable> read_table(std::string_view text, std::string_view where,
                             std::initializer_list<ColumnWanted> wanted);

/// A cell as a quantity: a plain number in the column's unit, or a number with its own unit where
/// the head names none. Errors: contradiction when both name one; those of units::parse.
template <class Kind>
Result<Quantity<Kind>> read_cell(const std::string& cell, const std::string& unit,
                                 const std::string& where);

/// Reads moments of one watch, all in one style: a clock ("12:00", "12:00:30"), a date with a clock
/// ("2026-11-25T12:00", with a blank for the T), or a time since the start ("90s", "1.5h").
class Moments {
 public:
  /// On a clock of its own; only differences mean something. `unit` is a column's, or empty.
  /// Errors: unreadable_value; contradiction when the style is another than before.
  Result<Duration> read(std::string_view text, const std::string& unit, const std::string& where);

 private:
  enum class Style { none, clock, dated, elapsed };
  Style style_ = Style::none;
};

/// Remembers the unit of the first value and refuses another: one gauge has one scale. psi and psig
/// are the same.
class OneUnit {
 public:
  Result<bool> hold(std::string_view typed, const std::string& where);

 private:
  std::string unit_, first_;
};

}  // namespace bellhole::wire
