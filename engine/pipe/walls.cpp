#include "pipe/walls.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "pipe/wall_tables.hpp"
#include "units/print.hpp"
#include "units/unit.hpp"

namespace bellhole::pipe {
namespace {

bool same(double a, double b) { return std::abs(a - b) < 1e-9; }

double to_inches(Length length) { return length.si() / units::inch_m; }

double inch_minimum(const Size& size, double ratio) {
  return std::round(to_inches(size.od) / ratio * 1000.0) / 1000.0;
}

Walls inch_walls(const Size& size, double ratio) {
  Walls walls;
  walls.source = size.system == System::ips ? "ASTM D3035 / D2513, OD / DR to the nearest 0.001 in"
                                            : "ASTM D2737 / D2513, OD / DR to the nearest 0.001 in";
  double minimum = inch_minimum(size, ratio);
  for (const auto& printed : tables::inch_walls()) {
    if (printed.size != size.name || !same(printed.ratio, ratio)) continue;
    minimum = printed.minimum;
    walls.source = printed.source;
    walls.evidence = printed.evidence;
    walls.note = printed.note;
  }
  walls.minimum = Length::from_si(minimum * units::inch_m);
  walls.nominal = walls.minimum * 1.06;
  walls.maximum = walls.minimum * 1.12;
  return walls;
}

Walls iso_walls(double minimum_mm, double ratio) {
  Walls walls;
  const auto tenths = std::lround(minimum_mm * 10.0);
  const auto most =
      (11 * tenths + 10 + 9) / 10;  // ceiling of 1.1 e_min + 0.1, in tenths, exact in integers
  walls.minimum = Length::from_si(static_cast<double>(tenths) * 1e-4);
  walls.maximum = Length::from_si(static_cast<double>(most) * 1e-4);
  walls.nominal = Length::from_si(static_cast<double>(tenths + most) * 0.5e-4);
  for (const auto& column : tables::iso_columns()) {
    if (!same(column.ratio, ratio)) continue;
    walls.source = column.source;
    walls.evidence = column.evidence;
  }
  return walls;
}

std::unexpected<Trouble> no_such_ratio(const Size& size, double ratio, std::string_view where) {
  std::vector<double> near = ratios(size);
  std::ranges::stable_sort(near, {}, [&](double known) { return std::abs(known - ratio); });
  near.resize(std::min<std::size_t>(near.size(), 4));
  std::ranges::sort(near);
  std::string text;
  for (const double known : near) text += fmt::format("{}{:g}", text.empty() ? "" : ", ", known);
  return trouble(
      Code::unknown_ratio, std::string(where), fmt::format("{:g}", ratio),
      fmt::format("{} is not made in it; nearest are {}; or measure the wall and give that",
                  size.name, text));
}

}  // namespace

std::vector<double> ratios(const Size& size) {
  std::vector<double> out;
  if (size.system == System::iso) {
    for (const auto& column : tables::iso_columns()) {
      if (tables::iso_minimum(static_cast<int>(size.nominal), column.ratio))
        out.push_back(column.ratio);
    }
    return out;
  }
  for (const double ratio :
       size.system == System::ips ? tables::ips_ratios() : tables::cts_ratios()) {
    if (inch_minimum(size, ratio) >= tables::thinnest_made_in) out.push_back(ratio);
  }
  return out;
}

Result<Walls> walls_by_ratio(const Size& size, double ratio, std::string_view where) {
  const std::vector<double> known = ratios(size);
  if (std::ranges::none_of(known, [&](double one) { return same(one, ratio); }))
    return no_such_ratio(size, ratio, where);
  if (size.system != System::iso) return inch_walls(size, ratio);
  return iso_walls(*tables::iso_minimum(static_cast<int>(size.nominal), ratio), ratio);
}

Result<Walls> walls_measured(const Size& size, std::span<const Length> readings,
                             std::string_view where) {
  const auto system = size.system == System::iso ? units::System::metric : units::System::us;
  for (const Length reading : readings) {
    const double ratio = reading.si() > 0.0 ? size.od / reading : 0.0;
    if (!(ratio >= tables::thickest_ratio && ratio <= tables::thinnest_ratio)) {
      return trouble(
          Code::out_of_range, std::string(where), units::print(reading, system),
          fmt::format("no PE pipe of {} outside has such a wall: it lies between {} and {}",
                      units::print(size.od, system),
                      units::print(size.od / tables::thinnest_ratio, system),
                      units::print(size.od / tables::thickest_ratio, system)));
    }
  }
  const auto [thin, thick] = std::ranges::minmax(readings);
  const double sum =
      std::accumulate(readings.begin(), readings.end(), 0.0,
                      [](double total, Length reading) { return total + reading.si(); });
  Walls walls;
  walls.minimum = thin;
  walls.maximum = thick;
  walls.nominal =
      readings.size() == 1 ? thin : Length::from_si(sum / static_cast<double>(readings.size()));
  walls.measured = true;
  walls.source = "measured";
  walls.evidence = Evidence::entered;
  return walls;
}

}  // namespace bellhole::pipe
