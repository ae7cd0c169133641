#include "squeeze/stops.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "squeeze/gap.hpp"

namespace bellhole::squeeze {
namespace {

/// Last bits of unit conversions decide nothing.
constexpr double hair = 1e-9;

bool same(double a, double b) { return std::abs(a - b) < hair; }

std::string listed(const std::vector<double>& ratios) {
  std::string text;
  for (const double ratio : ratios) text += fmt::format("{}{:g}", text.empty() ? "" : ", ", ratio);
  return text;
}

std::string listed(const std::vector<std::string>& words) {
  std::string text;
  for (const auto& word : words) text += (text.empty() ? "" : ", ") + word;
  return text;
}

bool named_size(const Stop& stop, const StopQuestion& q) {
  return std::ranges::find(stop.sizes, q.size.name) != stop.sizes.end();
}

bool named_ratio(const Stop& stop, const StopQuestion& q) {
  return q.ratio &&
         std::ranges::any_of(stop.ratios, [&](double ratio) { return same(ratio, *q.ratio); });
}

/// Another ratio of this size whose wanted gap is nearer to the stop's than the one wanted here. A
/// ratio that the found wall belongs to is not another one.
std::optional<double> nearer_ratio(const Stop& stop, const StopQuestion& q) {
  const Length wall = wall_of(q.basis, q.walls);
  const double here = std::abs((stop.gap - gap_for(q.most, wall)).si());
  const std::vector<double> known = pipe::ratios(q.size);
  const double found = q.ratio ? *q.ratio : q.size.od / wall;
  const auto own =
      std::ranges::min_element(known, {}, [&](double ratio) { return std::abs(ratio - found); });
  std::optional<double> nearest;
  double least = here;
  for (const double ratio : known) {
    if (own != known.end() && ratio == *own) continue;
    const auto walls = pipe::walls_by_ratio(q.size, ratio, "");
    if (!walls) continue;
    const double there = std::abs((stop.gap - gap_for(q.most, wall_of(q.basis, *walls))).si());
    if (there < least * (1.0 - hair)) {
      least = there;
      nearest = ratio;
    }
  }
  return nearest;
}

std::string why_too_little(const Stop& stop, const Compressions& does, const StopQuestion& q) {
  if (q.least && does.at_min.si() < q.least->si() - hair) {
    return fmt::format("squeezes the thinnest wall by {} only; {} is asked to shut",
                       units::print(does.at_min, q.units), units::print(*q.least, q.units));
  }
  if (named_size(stop, q) && named_ratio(stop, q)) return {};
  const auto other = nearer_ratio(stop, q);
  if (!other) return {};
  return fmt::format("its gap is the one for {} {:g}, not for this wall: {} on the thinnest",
                     q.size.system == pipe::System::iso ? "SDR" : "DR", *other,
                     units::print(does.at_min, q.units));
}

std::string why_not(const Stop& stop, const Compressions& does, const StopQuestion& q) {
  if (stop.gap >= q.size.od)
    return fmt::format("its gap of {} is not narrower than the pipe",
                       units::print(stop.gap, q.units));
  if (!stop.sizes.empty() && !named_size(stop, q))
    return fmt::format("it is for {}", listed(stop.sizes));
  if (!stop.ratios.empty() && q.ratio && !named_ratio(stop, q)) {
    return fmt::format("it is for DR {}; on this pipe it gives {} to {}", listed(stop.ratios),
                       units::print(does.at_min, q.units), units::print(does.at_max, q.units));
  }
  const Length wall = wall_of(q.basis, q.walls);
  const Fraction on_basis = compression(stop.gap, wall);
  if (on_basis.si() > q.most.si() + hair) {
    return fmt::format(
        "squeezes the wall of {} by {}, over the limit of {}", units::print(wall, q.units),
        units::print(on_basis, q.units, units::Toward::up), units::print(q.most, q.units));
  }
  if (does.at_min.si() <= 0.0) {
    const Length apart = stop.gap - 2.0 * q.walls.minimum;
    return fmt::format("the inner walls do not meet on the thinnest wall: {} apart",
                       units::print(apart, q.units));
  }
  return why_too_little(stop, does, q);
}

}  // namespace

Length wall_of(Basis basis, const pipe::Walls& walls) {
  switch (basis) {
    case Basis::nominal:
      return walls.nominal;
    case Basis::maximum:
      return walls.maximum;
    case Basis::minimum:
    case Basis::measured_else_minimum:
      break;
  }
  return walls.minimum;
}

Compressions compressions(Length gap, const pipe::Walls& walls) {
  return {compression(gap, walls.minimum), compression(gap, walls.nominal),
          compression(gap, walls.maximum)};
}

StopAnswer look_at(const Stop& stop, const StopQuestion& question) {
  StopAnswer answer{
      .stop = stop, .does = compressions(stop.gap, question.walls), .fits = false, .because = {}};
  answer.because = why_not(stop, answer.does, question);
  answer.fits = answer.because.empty();
  return answer;
}

std::optional<std::size_t> choose(std::span<const StopAnswer> answers) {
  std::optional<std::size_t> chosen;
  for (std::size_t i = 0; i < answers.size(); ++i) {
    if (!answers[i].fits) continue;
    if (!chosen || answers[i].stop.gap < answers[*chosen].stop.gap) chosen = i;
  }
  return chosen;
}

}  // namespace bellhole::squeeze
