#include "squeeze/gauge.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "flatten/closed_form.hpp"
#include "flatten/grades.hpp"
#include "pipe/walls.hpp"

namespace bellhole::squeeze {
namespace {

constexpr double coldest_k = 253.15, warmest_k = 323.15, step_k = 1.0;

Finding finding_of(std::string rule, Grade grade, std::string says, std::string action) {
  Finding finding;
  finding.rule = std::move(rule);
  finding.grade = grade;
  finding.says = std::move(says);
  finding.action = std::move(action);
  finding.quantity = "pump pressure";
  finding.source = "closed form; no measured pipe";
  finding.about = "gauge";
  return finding;
}

bool explains(const GaugeQuestion& q, const pipe::Walls& walls, const flatten::Strength& strength) {
  const flatten::Jaws jaws{q.size.od,      walls.nominal,    q.bar_radius,
                           strength.yield, strength.modulus, q.line};
  return std::ranges::all_of(q.readings, [&](const GaugeReading& reading) {
    const auto band =
        flatten::band_at(jaws, {walls.minimum, walls.nominal, walls.maximum}, reading.gap);
    const double pump = reading.pump.si(), near = q.read_to.si(), ram = q.ram.si();
    return pump >= band.low.si() / ram - near && pump <= band.high.si() / ram + near;
  });
}

std::optional<Fitting> fitting(const GaugeQuestion& q, double ratio, const pipe::Walls& walls,
                               const std::vector<std::string_view>& grades) {
  const double from = q.pipe_between ? q.pipe_between->first.si() : coldest_k;
  const double to = q.pipe_between ? q.pipe_between->second.si() : warmest_k;
  std::optional<Fitting> found;
  const int steps = std::max(1, static_cast<int>((to - from) / step_k + 0.5));
  for (int i = 0; i <= steps; ++i) {
    const auto at = Temperature::from_si(from + (to - from) * i / steps);
    const auto strength = flatten::strength_of(grades.front(), at, q.closing);
    if (!strength || !explains(q, walls, *strength)) continue;
    if (!found) found = Fitting{ratio, grades, at, at};
    found->warmest = at;
  }
  return found;
}

Result<bool> check(const GaugeQuestion& q) {
  if (q.readings.empty())
    return trouble(Code::missing_value, "readings", "", "give gap and pump pressure of a moment");
  if (!(q.ram.si() > 0.0))
    return trouble(Code::out_of_range, "ram_area", fmt::format("{:g} m2", q.ram.si()),
                   "give the area of the ram");
  if (!(q.bar_radius.si() > 0.0 && q.closing.si() > 0.0))
    return trouble(Code::out_of_range, "bar_radius", fmt::format("{:g} m", q.bar_radius.si()),
                   "bar radius and closing time are above nought");
  for (const GaugeReading& reading : q.readings)
    if (!(reading.gap.si() > 0.0 && reading.gap < q.size.od))
      return trouble(Code::out_of_range, "readings", fmt::format("{:g} m", reading.gap.si()),
                     "a gap is less than the outside diameter");
  if (q.pipe_between && q.pipe_between->second < q.pipe_between->first)
    return trouble(Code::out_of_range, "pipe_temperature",
                   fmt::format("{:g} K", q.pipe_between->second.si()), "coldest first");
  return true;
}

bool is_of_map(const Fitting& fit, const GaugeQuestion& q) {
  return (!q.map_ratio || fit.ratio == *q.map_ratio) &&
         (!q.map_material ||
          std::ranges::find(fit.materials, *q.map_material) != fit.materials.end());
}

void say(GaugeAnswer& answer) {
  answer.findings.push_back(finding_of(
      "gauge.set_only", Grade::info,
      "these are pipes that would have read like this; that a pipe is among them says nothing for "
      "it: wall, grade and temperature make up for each other",
      "measure the wall and the wall's temperature, read the print line"));
  if (answer.fitting.empty())
    answer.findings.push_back(finding_of(
        "gauge.nothing_fits", Grade::undecided, "no pipe of this size on record reads like this",
        "stop; check gauge, ram, bars and gap, then size, wall and material: the qualified person "
        "decides"));
  if (answer.map == MapSays::contradicted)
    answer.findings.push_back(finding_of(
        "gauge.map_contradicted", Grade::undecided,
        "the pipe of the map does not read like this at any temperature that was allowed",
        "stop; measure the wall, read the print line and choose the stops anew: the qualified "
        "person decides"));
}

}  // namespace

Result<GaugeAnswer> read_gauge(const GaugeQuestion& q, units::System units) {
  BELLHOLE_TRY(checked, check(q));
  static_cast<void>(checked);
  GaugeAnswer answer;
  for (const double ratio : pipe::ratios(q.size)) {
    BELLHOLE_TRY(walls, pipe::walls_by_ratio(q.size, ratio, "dr"));
    for (const auto& grades : flatten::grades_alike())
      if (const auto fit = fitting(q, ratio, walls, grades)) answer.fitting.push_back(*fit);
  }
  if (q.map_ratio || q.map_material) {
    const bool any =
        std::ranges::any_of(answer.fitting, [&](const Fitting& fit) { return is_of_map(fit, q); });
    answer.map = any ? MapSays::fits : MapSays::contradicted;
  }
  if (!q.pipe_between)
    answer.assumed.push_back(
        fmt::format("the pipe's wall may be anywhere from {} to {}, since no temperature was given",
                    units::print(Temperature::from_si(coldest_k), units),
                    units::print(Temperature::from_si(warmest_k), units)));
  answer.assumed.emplace_back("the readings are of bars that moved: a held pipe reads lower");
  say(answer);
  return answer;
}

}  // namespace bellhole::squeeze
