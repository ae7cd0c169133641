#include "maps/tables.hpp"

#include <cmath>

namespace bellhole::maps {

OutCell text_cell(const std::string& text) { return text.empty() ? OutCell() : OutCell(text); }
OutCell number_cell(double number) { return std::isfinite(number) ? OutCell(number) : OutCell(); }

}  // namespace bellhole::maps
