#include "linepack/readings.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace bellhole::linepack {
namespace {

/// A reading that moved by a whole step but for the last bits of its conversion did move by it.
constexpr double hair = 1e-6;

bool at_least(PressureDifference moved, PressureDifference needed) {
  return moved.si() >= needed.si() * (1.0 - hair);
}

Needle needle_of(const Judged& judged, PressureDifference step, int steps,
                 const std::optional<Duration>& enough) {
  const PressureDifference all = step * static_cast<double>(steps);
  const bool fell = at_least(judged.fell, all), rose = at_least(judged.rose, all);
  if (fell && rose) return Needle::both_ways;
  if (fell) return Needle::fell;
  if (rose) return Needle::rose;
  if (at_least(judged.fell, step) || at_least(judged.rose, step)) return Needle::moved;
  if (judged.count < 2 || !enough || judged.watched < *enough) return Needle::too_soon;
  return Needle::held;
}

}  // namespace

Judged judge(const Closed& closed, const std::vector<Reading>& readings, PressureDifference step,
             int steps, std::optional<Duration> enough) {
  Judged judged;
  judged.count = readings.size();
  if (readings.empty()) return judged;
  const Reading &first = readings.front(), &last = readings.back();
  judged.watched = last.at - first.at;
  judged.last = last.pressure;
  judged.change = last.pressure - first.pressure;
  GaugePressure highest = first.pressure, lowest = first.pressure;
  for (const Reading& reading : readings) {
    judged.fell = std::max(judged.fell, highest - reading.pressure);
    judged.rose = std::max(judged.rose, reading.pressure - lowest);
    highest = std::max(highest, reading.pressure);
    lowest = std::min(lowest, reading.pressure);
  }
  judged.needle = needle_of(judged, step, steps, enough);
  const PressureDifference moved = PressureDifference::from_si(std::abs(judged.change.si()));
  if (at_least(moved, step) && judged.watched.si() > 0.0) {
    judged.rate = judged.change / judged.watched;
    const StdVolume gained = held(closed, last.pressure) - held(closed, first.pressure);
    judged.flow = StdFlow::from_si(gained.si() / judged.watched.si());
  }
  return judged;
}

Result<bool> check_readings(const std::vector<Reading>& readings, AbsolutePressure barometer) {
  for (std::size_t i = 0; i < readings.size(); ++i) {
    const std::string where = fmt::format("reading {}", i + 1);
    if (!(absolute(readings[i].pressure, barometer).si() >= 0.0)) {
      return trouble(Code::out_of_range, where,
                     fmt::format("{:g} Pa (gauge)", readings[i].pressure.si()),
                     "no gauge can read that: correct the value or its unit");
    }
    if (i > 0 && !(readings[i].at > readings[i - 1].at)) {
      return trouble(Code::contradiction, where,
                     fmt::format("{:g} s after the first reading",
                                 (readings[i].at - readings.front().at).si()),
                     "each reading must be later than the one before it: put them in order; past "
                     "midnight write the date, 2026-11-25T23:50");
    }
  }
  return true;
}

}  // namespace bellhole::linepack
