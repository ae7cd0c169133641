#include "pipe/sizes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "units/unit.hpp"

namespace bellhole::pipe {
namespace {

struct Inch {
  const char* name;
  double nominal, od, tolerance;  // inches; tolerance 0: not on record
};

// Diameters and tolerances to 12 in: ASTM D3035 / D2513, read in tables that quote them.
constexpr std::array ips_seen{Inch{"1/2", 0.5, 0.840, 0.004},   Inch{"3/4", 0.75, 1.050, 0.004},
                              Inch{"1", 1.0, 1.315, 0.005},     Inch{"1-1/4", 1.25, 1.660, 0.005},
                              Inch{"1-1/2", 1.5, 1.900, 0.006}, Inch{"2", 2.0, 2.375, 0.006},
                              Inch{"3", 3.0, 3.500, 0.008},     Inch{"4", 4.0, 4.500, 0.009},
                              Inch{"6", 6.0, 6.625, 0.011},     Inch{"8", 8.0, 8.625, 0.013},
                              Inch{"10", 10.0, 10.750, 0.015},  Inch{"12", 12.0, 12.750, 0.017}};
constexpr std::array ips_recalled{Inch{"14", 14.0, 14.000, 0.0}, Inch{"16", 16.0, 16.000, 0.0},
                                  Inch{"18", 18.0, 18.000, 0.0}, Inch{"20", 20.0, 20.000, 0.0},
                                  Inch{"24", 24.0, 24.000, 0.0}};
// Diameters: ASTM D2737 / D2513, read in a utility's specification. Tolerances from memory.
constexpr std::array cts{Inch{"1/2", 0.5, 0.625, 0.004},   Inch{"3/4", 0.75, 0.875, 0.004},
                         Inch{"1", 1.0, 1.125, 0.005},     Inch{"1-1/4", 1.25, 1.375, 0.005},
                         Inch{"1-1/2", 1.5, 1.625, 0.006}, Inch{"2", 2.0, 2.125, 0.006}};

struct Millimetre {
  int dn;
  double od_high;  // 0: not on record
};
// Greatest mean diameter, ISO 11922-1 grade B, read in MS 1058-2:2005 and a maker's chart; dn 280
// and 315 from the chart of MS 1058 alone. dn 355 and 400 without a tolerance on record.
constexpr std::array iso{
    Millimetre{20, 20.3},   Millimetre{25, 25.3},   Millimetre{32, 32.3},   Millimetre{40, 40.4},
    Millimetre{50, 50.4},   Millimetre{63, 63.4},   Millimetre{75, 75.5},   Millimetre{90, 90.6},
    Millimetre{110, 110.7}, Millimetre{125, 125.8}, Millimetre{140, 140.9}, Millimetre{160, 161.0},
    Millimetre{180, 181.1}, Millimetre{200, 201.1}, Millimetre{225, 226.4}, Millimetre{250, 251.5},
    Millimetre{280, 281.7}, Millimetre{315, 316.9}, Millimetre{355, 0.0},   Millimetre{400, 0.0}};

Length inches(double value) { return Length::from_si(value * units::inch_m); }
Length millimetres(double value) { return Length::from_si(value * 1e-3); }

Size inch_size(System system, const Inch& row, std::string source, Evidence evidence) {
  Size size{.system = system,
            .name = fmt::format("{} {}", to_string(system), row.name),
            .nominal = row.nominal,
            .od = inches(row.od),
            .source = std::move(source),
            .evidence = evidence};
  if (row.tolerance > 0.0) {
    size.od_low = inches(row.od - row.tolerance);
    size.od_high = inches(row.od + row.tolerance);
  }
  return size;
}

std::vector<Size> make_sizes() {
  std::vector<Size> all;
  for (const Inch& row : ips_seen)
    all.push_back(inch_size(System::ips, row, "ASTM D3035 / D2513", Evidence::seen));
  for (const Inch& row : ips_recalled) {
    all.push_back(inch_size(System::ips, row, "ASTM D3035 / D2513", Evidence::from_memory));
  }
  for (const Inch& row : cts)
    all.push_back(inch_size(System::cts, row, "ASTM D2737 / D2513", Evidence::seen));
  for (const Millimetre& row : iso) {
    Size size{.system = System::iso,
              .name = fmt::format("dn {}", row.dn),
              .nominal = static_cast<double>(row.dn),
              .od = millimetres(row.dn),
              .source = "ISO 11922-1 grade B",
              .evidence = row.od_high > 0.0 ? Evidence::seen : Evidence::from_memory};
    size.od_low = size.od;
    if (row.od_high > 0.0) size.od_high = millimetres(row.od_high);
    all.push_back(std::move(size));
  }
  return all;
}

}  // namespace

const std::vector<Size>& sizes() {
  static const std::vector<Size> all = make_sizes();
  return all;
}

std::string nearest_sizes(System system, double nominal, std::size_t count) {
  std::vector<const Size*> near;
  for (const Size& size : sizes()) {
    if (size.system == system) near.push_back(&size);
  }
  std::ranges::stable_sort(near, {},
                           [&](const Size* size) { return std::abs(size->nominal - nominal); });
  near.resize(std::min(count, near.size()));
  std::ranges::sort(near, {}, [](const Size* size) { return size->nominal; });
  std::string text;
  for (const Size* size : near) text += (text.empty() ? "" : ", ") + size->name;
  return text;
}

std::string_view to_string(System system) {
  switch (system) {
    case System::ips:
      return "IPS";
    case System::cts:
      return "CTS";
    case System::iso:
      return "dn";
  }
  return "";
}

}  // namespace bellhole::pipe
