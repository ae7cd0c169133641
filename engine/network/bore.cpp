#include "network/bore.hpp"

#include <array>
#include <cmath>
#include <limits>

namespace bellhole::network {

std::vector<Bore> bores_of(const Pipes& pipes, std::size_t nodes) {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  std::vector<double> smallest_at(nodes, nan);
  double smallest = nan;
  const auto ends = [&](std::size_t p) {
    return std::array{static_cast<std::size_t>(pipes.from[p]),
                      static_cast<std::size_t>(pipes.to[p])};
  };
  for (std::size_t p = 0; p < pipes.size(); ++p) {
    const double bore = pipes.bore[p].si();
    for (const std::size_t end : ends(p)) smallest_at[end] = std::fmin(smallest_at[end], bore);
    smallest = std::fmin(smallest, bore);  // fmin passes over nan
  }
  std::vector<Bore> bores;
  for (std::size_t p = 0; p < pipes.size(); ++p) {
    if (!std::isnan(pipes.bore[p].si())) {
      bores.push_back({pipes.bore[p], false});
      continue;
    }
    const double near = std::fmin(smallest_at[ends(p)[0]], smallest_at[ends(p)[1]]);
    bores.push_back({Length::from_si(std::isnan(near) ? smallest : near), true});
  }
  return bores;
}

}  // namespace bellhole::network
