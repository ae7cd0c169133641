// The 16-character component code (ASTM F2897) and the print line. Only what is sure is decoded;
// everything else is handed on as it stands. The tables of makers, materials, types and sizes are
// in the standard and are not public: those fields stay raw, and a size is never guessed.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "findings/trouble.hpp"
#include "pipe/materials.hpp"
#include "pipe/sizes.hpp"

namespace bellhole::pipe {

/// A base-62 number: 0-9, then a-z, then A-Z. The order of the letters follows from one published
/// example, lot 1234567 = "5ban". Errors: unreadable_value.
Result<std::int64_t> read_base62(std::string_view digits, std::string_view where);
/// REQUIRES: 0 <= number < 62^width.
std::string base62(std::int64_t number, std::size_t width);

/// A day that a code can mean.
struct CodeDay {
  int year = 0;  ///< 2012
  int day = 0;   ///< of the year, from 1
};

struct Component {
  std::string code;
  std::string maker, lot_text, date_text, material, type, size, reserved;  ///< raw
  std::int64_t lot = 0;
  std::int64_t date_number = 0;
  /// Day of the year and year, where one reading of the number alone is a day; with two readings,
  /// or none, nothing: `doubt` says which.
  std::optional<CodeDay> made;
  std::string doubt;
};

/// Errors: unreadable_value where it is not 16 letters and digits.
Result<Component> read_component(std::string_view code, std::string_view where);

/// What a print line says for sure. A field that stands twice with different values is a doubt and
/// nothing is taken.
struct PrintLine {
  std::optional<Size> size;
  std::optional<double> ratio;
  const Material* material = nullptr;
  std::vector<std::string> standards;  ///< "ASTM D2513"
  std::optional<Component> component;
  std::vector<std::string> rest;  ///< what was not understood, word by word
  std::vector<std::string> doubts;
};

/// Reads a print line of any length up to 500 characters. Errors: out_of_range.
Result<PrintLine> read_print_line(std::string_view text, std::string_view where);

}  // namespace bellhole::pipe
