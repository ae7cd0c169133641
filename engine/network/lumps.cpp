#include "network/lumps.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "network/bore.hpp"

namespace bellhole::network {
namespace {

/// m3 at every point, so that one without any main still has a pressure.
constexpr double thimble = 1e-6;

/// Stations of the shut places inside one segment, nearest and farthest from its `a`.
struct Parted {
  double first = HUGE_VAL, last = -HUGE_VAL;
};

std::vector<Parted> parted_segments(const Points& points, const std::vector<Closure>& places) {
  std::vector<Parted> parted(points.segments());
  for (const Closure& place : places) {
    Parted& here = parted[at(points.segment_at(place.pipe, place.station.si()))];
    here.first = std::min(here.first, place.station.si());
    here.last = std::max(here.last, place.station.si());
  }
  return parted;
}

}  // namespace

Lumps::Lumps(const Model::Prepared& prepared, const std::vector<Closure>& places,
             std::span<const Index> row)
    : k_(prepared.gas.k_per_pa) {
  const Points& points = prepared.points;
  const double rt = prepared.gas.specific_constant * prepared.gas.temperature_k;
  std::vector<double> volume(points.size(), thimble);
  const std::vector<Bore> bores = bores_of(prepared.network->pipes, prepared.network->nodes.size());
  const std::vector<Parted> parted = parted_segments(points, places);
  for (std::size_t p = 0; p < bores.size(); ++p) {
    const auto pipe = static_cast<Index>(p);
    const double bore = bores[p].value.si();
    const double section = std::numbers::pi / 4.0 * bore * bore;
    for (Index k = 0; k < points.segment_count(pipe); ++k) {
      const std::size_t s = at(points.first_segment(pipe) + k);
      const double begin = points.station[at(points.first[p] + k)];
      double near = 0.5 * points.length[s], far = near;
      if (parted[s].first <= parted[s].last) {
        near = std::clamp(parted[s].first - begin, 0.0, points.length[s]);
        far = std::clamp(begin + points.length[s] - parted[s].last, 0.0, points.length[s]);
      }
      volume[at(points.a[s])] += section * near;
      volume[at(points.b[s])] += section * far;
    }
  }
  places_.resize(points.size());
  for (std::size_t i = 0; i < points.size(); ++i) {
    const double fall = std::exp(-gas::standard_gravity * points.height[i] / rt);
    places_[at(row[i])] = {volume[i] / rt, fall, k_ * (1.0 - fall)};
  }
}

}  // namespace bellhole::network
