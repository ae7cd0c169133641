#include "pipe/wall_tables.hpp"

#include <algorithm>
#include <array>
#include <cmath>

namespace bellhole::pipe::tables {
namespace {

constexpr std::array printed{
    InchWall{"CTS 1/2", 7, 0.090, "49 CFR 192.121(c)(2)(iv); a utility's specification",
             Evidence::seen, ""},
    InchWall{"CTS 3/4", 9.7, 0.090, "49 CFR 192.121(c)(2)(iv)", Evidence::from_memory, ""},
    InchWall{"CTS 1", 11, 0.099, "49 CFR 192.121(c)(2)(iv); a utility's specification",
             Evidence::seen,
             "tables print 0.099, 0.101 and 0.102 in for this pipe: measure the wall"},
    InchWall{"IPS 1", 11, 0.120, "ASTM D3035, OD / DR to the nearest 0.001 in", Evidence::derived,
             "tables print 0.119 and 0.120 in for this pipe: measure the wall"},
};

// Ratios that ASTM D2513 and D3035 pipe is made in.
constexpr std::array ips{7.0, 9.0, 9.3, 10.0, 11.0, 11.5, 13.5, 15.5, 17.0, 21.0, 26.0, 32.5};
constexpr std::array cts{6.0, 7.0, 9.0, 9.3, 9.7, 11.0, 11.5, 12.5, 13.5};

constexpr std::string_view grade_v = "MS 1058-2:2005 (ISO 4427, ISO 11922-1 grade V)";
constexpr std::array columns{
    IsoColumn{7.4, grade_v, Evidence::seen},
    IsoColumn{9, grade_v, Evidence::seen},
    IsoColumn{11, grade_v, Evidence::seen},
    IsoColumn{13.6, grade_v, Evidence::seen},
    IsoColumn{17, grade_v, Evidence::seen},
    IsoColumn{17.6, "ISO 4437", Evidence::from_memory},
    IsoColumn{21, "ISO 4427", Evidence::from_memory},
    IsoColumn{26, "ISO 4427", Evidence::from_memory},
};

struct Row {
  int dn;
  std::array<double, columns.size()> minimum;  // mm; 0: not in the table
};
// Columns as above: 7.4, 9, 11, 13.6, 17, 17.6, 21, 26. dn 355 and 400 from memory.
constexpr std::array rows{
    Row{20, {3.0, 2.3, 2.0, 0, 0, 0, 0, 0}},
    Row{25, {3.5, 3.0, 2.3, 2.0, 0, 0, 0, 0}},
    Row{32, {4.4, 3.6, 3.0, 2.4, 2.0, 0, 0, 0}},
    Row{40, {5.5, 4.5, 3.7, 3.0, 2.4, 0, 0, 0}},
    Row{50, {6.9, 5.6, 4.6, 3.7, 3.0, 0, 0, 0}},
    Row{63, {8.6, 7.1, 5.8, 4.7, 3.8, 3.6, 3.0, 0}},
    Row{75, {10.3, 8.4, 6.8, 5.6, 4.5, 0, 3.6, 0}},
    Row{90, {12.3, 10.1, 8.2, 6.7, 5.4, 5.2, 4.3, 3.5}},
    Row{110, {15.1, 12.3, 10.0, 8.1, 6.6, 6.3, 5.3, 4.2}},
    Row{125, {17.1, 14.0, 11.4, 9.2, 7.4, 7.1, 6.0, 4.8}},
    Row{140, {19.2, 15.7, 12.7, 10.3, 8.3, 0, 6.7, 5.4}},
    Row{160, {21.9, 17.9, 14.6, 11.8, 9.5, 9.1, 7.7, 6.2}},
    Row{180, {24.6, 20.1, 16.4, 13.3, 10.7, 10.3, 8.6, 6.9}},
    Row{200, {27.4, 22.4, 18.2, 14.7, 11.9, 11.4, 9.6, 7.7}},
    Row{225, {30.8, 25.2, 20.5, 16.6, 13.4, 12.8, 10.8, 8.6}},
    Row{250, {34.2, 27.9, 22.7, 18.4, 14.8, 14.2, 11.9, 9.6}},
    Row{280, {38.3, 31.3, 25.4, 20.6, 16.6, 0, 13.4, 10.7}},
    Row{315, {43.1, 35.2, 28.6, 23.2, 18.7, 17.9, 15.0, 12.1}},
    Row{355, {0, 0, 32.2, 0, 21.1, 20.2, 16.9, 13.6}},
    Row{400, {0, 0, 36.3, 0, 23.7, 22.8, 19.1, 15.3}},
};

}  // namespace

std::span<const InchWall> inch_walls() { return printed; }
std::span<const double> ips_ratios() { return ips; }
std::span<const double> cts_ratios() { return cts; }
std::span<const IsoColumn> iso_columns() { return columns; }

std::optional<double> iso_minimum(int dn, double ratio) {
  const auto row = std::ranges::find(rows, dn, &Row::dn);
  if (row == rows.end()) return std::nullopt;
  for (std::size_t i = 0; i < columns.size(); ++i) {
    if (std::abs(columns[i].ratio - ratio) < 1e-9 && row->minimum[i] > 0.0) return row->minimum[i];
  }
  return std::nullopt;
}

}  // namespace bellhole::pipe::tables
