#include "linepack/words.hpp"

#include <fmt/format.h>

#include <cmath>

namespace bellhole::linepack {
namespace {

/// Times from which minutes, hours and days are the smallest that is shown.
constexpr double minutes_from = 1800.0, hours_from = 48 * 3600.0;

}  // namespace

std::string spell(Duration time, units::Toward toward) {
  if (!std::isfinite(time.si())) return "not known";
  const double unit = time.si() < minutes_from ? 1.0 : time.si() < hours_from ? 60.0 : 3600.0;
  constexpr double hair = 1e-6;  // of the unit: the last bits of an exact time
  const double count = time.si() / unit;
  const double whole = toward == units::Toward::up     ? std::ceil(count - hair)
                       : toward == units::Toward::down ? std::floor(count + hair)
                                                       : std::round(count);
  const auto n = static_cast<long long>(whole);
  if (unit == 1.0) {
    return n < 60        ? fmt::format("{} s", n)
           : n % 60 == 0 ? fmt::format("{} min", n / 60)
                         : fmt::format("{} min {} s", n / 60, n % 60);
  }
  if (unit == 60.0) {
    return n < 60        ? fmt::format("{} min", n)
           : n % 60 == 0 ? fmt::format("{} h", n / 60)
                         : fmt::format("{} h {} min", n / 60, n % 60);
  }
  return n % 24 == 0 ? fmt::format("{} d", n / 24) : fmt::format("{} d {} h", n / 24, n % 24);
}

}  // namespace bellhole::linepack
