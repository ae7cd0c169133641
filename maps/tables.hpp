// What is written as a map: tables of features, free of any file format.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

#include "maps/geometry.hpp"
#include "maps/raw.hpp"

namespace bellhole::maps {

enum class Holds : std::uint8_t { text, number, whole };

struct OutColumn {
  std::string name;
  Holds holds = Holds::text;
};

/// monostate: nothing is known, written as null.
using OutCell = std::variant<std::monostate, std::string, double, std::int64_t>;

struct OutRow {
  std::vector<OutCell> cells;  ///< as the columns
  std::vector<Line> parts;     ///< none: a row without a place
  bool heights = false;        ///< 3-D: each point is as high as its number in the line
};

struct OutTable {
  std::string name;
  Shape shape = Shape::none;  ///< point, line; none: a table without geometry; other: mixed lines
  std::vector<OutColumn> columns;
  std::vector<OutRow> rows;
  std::string crs;  ///< "": that of the file
};

/// "" becomes null.
OutCell text_cell(const std::string& text);
/// Not finite becomes null.
OutCell number_cell(double number);

}  // namespace bellhole::maps
