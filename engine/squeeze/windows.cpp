#include "squeeze/windows.hpp"

#include <algorithm>

namespace bellhole::squeeze {
namespace {

/// Two edges that meet but for the last bits of their conversion leave one position, not none.
constexpr double hair_m = 1e-9;

void keep(std::vector<Window>& out, Length low, Length high) {
  if (high.si() < low.si() - hair_m) return;
  out.emplace_back(low, std::max(low, high));
}

/// Cuts the open interval (low, high) out of the windows.
std::vector<Window> without(const std::vector<Window>& windows, Length low, Length high) {
  std::vector<Window> out;
  for (const auto& [from, to] : windows) {
    if (to.si() <= low.si() + hair_m || from.si() >= high.si() - hair_m) {
      out.emplace_back(from, to);
      continue;
    }
    if (from <= low) keep(out, from, low);
    if (to >= high) keep(out, high, to);
  }
  return out;
}

}  // namespace

std::vector<Window> windows(const Hole& hole, Length clearance, Length half_width) {
  std::vector<Window> out;
  keep(out, hole.exposed.first + half_width, hole.exposed.second - half_width);
  const Length reach = std::max(clearance, half_width);
  for (const Feature& feature : hole.features)
    out = without(out, feature.from - reach, feature.to + reach);
  return out;
}

std::vector<Window> seen_windows(const Hole& hole, std::span<const Window> windows,
                                 Length clearance) {
  std::vector<Window> out;
  const Length low = hole.exposed.first + clearance;
  const Length high = hole.exposed.second - clearance;
  for (const auto& [from, to] : windows) {
    if (to.si() < low.si() - hair_m || from.si() > high.si() + hair_m) continue;
    keep(out, std::max(from, low), std::min(to, high));
  }
  return out;
}

std::vector<Length> places(std::span<const Window> windows, Length apart) {
  std::vector<Length> out;
  // More places than anyone squeezes in one hole say nothing more, and a vanishing distance would
  // never end.
  constexpr std::size_t enough = 8;
  for (const auto& [from, to] : windows) {
    Length at = out.empty() ? from : std::max(from, out.back() + apart);
    while (at.si() <= to.si() + hair_m && out.size() < enough) {
      out.push_back(std::min(at, to));
      at = out.back() + apart;
      if (apart.si() <= 0.0) break;
    }
  }
  return out;
}

Length hole_length(int count, Length apart, Length clearance, Length half_width) {
  return apart * static_cast<double>(count - 1) + 2.0 * std::max(clearance, half_width);
}

Length hole_beside_joint(int count, Length apart, Length clearance, Length half_width) {
  return std::max(clearance, half_width) + apart * static_cast<double>(count - 1) + half_width;
}

}  // namespace bellhole::squeeze
