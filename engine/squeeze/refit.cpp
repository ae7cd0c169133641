#include "squeeze/refit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "flatten/closed_form.hpp"

namespace bellhole::squeeze {
namespace {

Finding finding_of(std::string rule, Grade grade, std::string says, std::string action) {
  Finding finding;
  finding.rule = std::move(rule);
  finding.grade = grade;
  finding.says = std::move(says);
  finding.action = std::move(action);
  finding.quantity = "scale of the yield";
  finding.source = "the company's own pump log against the closed form";
  finding.about = "log";
  return finding;
}

RefitRow row_of(const LoggedSqueeze& squeeze) {
  RefitRow row{.where = squeeze.where};
  row.measured = Force::from_si(squeeze.pump.si() * squeeze.ram.si());
  const auto strength = flatten::strength_of(squeeze.material, squeeze.pipe, squeeze.closing);
  if (!strength) {
    row.left_out = "no yield is on record for this material and temperature";
    return row;
  }
  flatten::Jaws jaws{squeeze.od,      squeeze.wall,      squeeze.bar_radius,
                     strength->yield, strength->modulus, squeeze.line};
  row.expected = flatten::force_at(jaws, squeeze.gap);
  // The gas does not scale with the yield, all else does: what is left of both without it.
  jaws.pressure = GaugePressure();
  const Force by_wall = flatten::force_at(jaws, squeeze.gap);
  if (!(by_wall.si() > 0.0)) {
    row.left_out = "the bars do not touch the pipe at this gap";
    return row;
  }
  row.scale = (row.measured - (row.expected - by_wall)) / by_wall;
  if (!(row.scale > least_scale && row.scale < most_scale))
    row.left_out = "far from anything that yields can be: a unit, the ram or the gauge is wrong";
  return row;
}

/// Of sorted values, straight between them.
double quantile(const std::vector<double>& sorted, double share) {
  const double at = share * static_cast<double>(sorted.size() - 1);
  const auto i = static_cast<std::size_t>(at);
  if (i + 1 >= sorted.size()) return sorted.back();
  return sorted[i] + (at - static_cast<double>(i)) * (sorted[i + 1] - sorted[i]);
}

}  // namespace

Refit refit(const std::vector<LoggedSqueeze>& log) {
  Refit out;
  std::vector<double> scales;
  for (const LoggedSqueeze& squeeze : log) {
    out.rows.push_back(row_of(squeeze));
    if (!out.rows.back().left_out) scales.push_back(out.rows.back().scale);
  }
  std::ranges::sort(scales);
  out.used = scales.size();
  if (out.used < refit_least) {
    out.findings.push_back(
        finding_of("refit.too_few", Grade::undecided,
                   fmt::format("{} squeezes can be used and {} are the least: nothing is refitted",
                               out.used, refit_least),
                   "log more squeezes, each with wall, temperature, gap and pump pressure"));
    return out;
  }
  out.scale = quantile(scales, 0.5);
  out.low = quantile(scales, 0.1);
  out.high = quantile(scales, 0.9);
  if (out.used < refit_wanted)
    out.findings.push_back(
        finding_of("refit.few", Grade::warn,
                   fmt::format("only {} squeezes: the scale may move with the next ones", out.used),
                   "use it beside the one on record, and go on logging"));
  if (*out.high / *out.low > 1.5)
    out.findings.push_back(finding_of(
        "refit.wide", Grade::warn,
        fmt::format("the squeezes are {:.2f} to {:.2f} times the expected: something else than the "
                    "yield differs between them",
                    *out.low, *out.high),
        "look at wall, temperature and gauge of the outermost; an engineer decides on the scale"));
  return out;
}

}  // namespace bellhole::squeeze
