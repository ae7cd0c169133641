// Fewer samples of a rehearsal, with every turn of every curve kept: Ramer 1972, Douglas and
// Peucker 1973, over all curves at once.
#include <algorithm>
#include <cmath>
#include <utility>

#include "plan/rehearse.hpp"

namespace bellhole::plan {
namespace {

using Curves = std::vector<const std::vector<double>*>;

/// How far a curve lies off the line between two samples at one in between; nought where nothing is
/// read.
double off(const std::vector<Duration>& times, const std::vector<double>& curve, std::size_t from,
           std::size_t to, std::size_t here) {
  const double share = (times[here] - times[from]) / (times[to] - times[from]);
  const double line = curve[from] + share * (curve[to] - curve[from]);
  return std::isnan(line) || std::isnan(curve[here]) ? 0.0 : std::abs(curve[here] - line);
}

/// The highest and the lowest value of a curve, and where it begins or ends being read: between two
/// samples that are kept it is then read all along or not at all. On a level stretch the first of
/// what differs by less than `margin` counts, so that the last bits of a number decide nothing.
void keep_turns(const std::vector<double>& curve, double margin, std::vector<char>& keep) {
  std::size_t least = curve.size(), most = curve.size();
  for (std::size_t i = 0; i < curve.size(); ++i) {
    if (i > 0 && std::isnan(curve[i]) != std::isnan(curve[i - 1])) keep[i] = keep[i - 1] = 1;
    if (std::isnan(curve[i])) continue;
    if (least == curve.size() || curve[i] < curve[least] - margin) least = i;
    if (most == curve.size() || curve[i] > curve[most] + margin) most = i;
  }
  if (least == curve.size()) return;
  keep[least] = keep[most] = 1;
}

}  // namespace

std::vector<std::size_t> thinned(const std::vector<Duration>& times, const Curves& curves,
                                 double within) {
  if (times.empty()) return {};
  std::vector<char> keep(times.size(), 0);
  keep.front() = keep.back() = 1;
  for (const auto* curve : curves) keep_turns(*curve, 0.01 * within, keep);
  std::vector<std::pair<std::size_t, std::size_t>> spans;
  for (std::size_t i = 1, before = 0; i < times.size(); ++i) {
    if (keep[i] == 0) continue;
    spans.emplace_back(before, i);
    before = i;
  }
  while (!spans.empty()) {
    const auto [from, to] = spans.back();
    spans.pop_back();
    double worst = within;
    std::size_t where = from;
    for (std::size_t i = from + 1; i < to; ++i) {
      double here = 0.0;
      for (const auto* curve : curves) here = std::max(here, off(times, *curve, from, to, i));
      if (!(here > worst)) continue;
      worst = here;
      where = i;
    }
    if (where == from) continue;
    keep[where] = 1;
    spans.emplace_back(from, where);
    spans.emplace_back(where, to);
  }
  std::vector<std::size_t> kept;
  for (std::size_t i = 0; i < keep.size(); ++i)
    if (keep[i] != 0) kept.push_back(i);
  return kept;
}

}  // namespace bellhole::plan
