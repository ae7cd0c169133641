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

Lumps::Lumps(const Model::Prepared& prepared, const std::vector<Closure>& places)
    : gas_(prepared.gas), per_volume_(1.0 / (gas_.specific_constant * gas_.temperature_k)) {
  const Points& points = prepared.points;
  volume_.assign(points.size(), thimble);
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
      volume_[at(points.a[s])] += section * near;
      volume_[at(points.b[s])] += section * far;
    }
  }
  for (double height : points.height) {
    fall_.push_back(
        std::exp(-gas::standard_gravity * height / (gas_.specific_constant * gas_.temperature_k)));
  }
}

Lumps::Held Lumps::held(std::size_t point, double reduced_pa) const {
  // p / (1 + k p) falls with height as exp(-g z / (R_s T)) (gas.cpp).
  const double k = gas_.k_per_pa, fall = fall_[point];
  const double below = 1.0 + k * reduced_pa;
  const double here = fall * reduced_pa / below;
  const double true_pa = here / (1.0 - k * here);
  const double scale = volume_[point] * per_volume_;
  const double above = 1.0 + k * true_pa;
  const double lifted = above / below;
  return {scale * true_pa * above, scale * (1.0 + 2.0 * k * true_pa) * fall * lifted * lifted};
}

}  // namespace bellhole::network
