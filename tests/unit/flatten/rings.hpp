// Small questions to the press, and what books say about rings.
#pragma once

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "flatten/press.hpp"

namespace bellhole::flatten {

inline constexpr double ring_modulus = 1e9, ring_poisson = 0.42;

/// A slice in plane strain of a ring with one branch that yields at `yield` whatever the rate.
inline Press plastic_ring(double ratio, int through, int around, double yield) {
  Press ring;
  ring.shape = {.od = 0.21908, .wall = 0.21908 / ratio, .through = through, .around = around};
  ring.material = {.branches = {{ring_modulus / (2.0 * (1.0 + ring_poisson)), yield}},
                   .bulk = ring_modulus / (3.0 * (1.0 - 2.0 * ring_poisson))};
  ring.samples = 24;
  return ring;
}

inline Press elastic_ring(double ratio, int through, int around) {
  Press ring = plastic_ring(ratio, through, around, 1e12);
  ring.damping = 2.0;
  ring.stages = {{Length::from_si(ring.shape.od * 0.99), Duration::from_si(60), 12.0}};
  return ring;
}

/// An IPS 8 pipe cut short, in few bricks, to its stops.
inline Press short_pipe() {
  Press question;
  question.shape = {.od = 0.21908,
                    .wall = 0.0199,
                    .half_length = 0.2,
                    .finest = 0.008,
                    .through = 3,
                    .around = 12,
                    .along = 8};
  question.material = pe_overlay();
  question.bar_radius = 0.0254;
  question.samples = 40;
  question.stages = {{Length::from_si(0.0279), Duration::from_si(120), 7.0}};
  return question;
}

inline Pressed pressed(const Press& question) {
  Unwatched unwatched;
  OneLane lane;
  auto out = press(question, unwatched, lane);
  EXPECT_TRUE(out) << (out ? "" : out.error().where + " " + out.error().value);
  return out ? std::move(*out) : Pressed{};
}

/// Force per length of pipe for the way of the bars, by a ring's samples while the bars' speed is
/// even and their first blow has died away: what is damped then is the same at each.
inline double ring_slope(const Press& ring) {
  const Pressed out = pressed(ring);
  double n = 0.0, x = 0.0, y = 0.0, xx = 0.0, xy = 0.0;
  const std::size_t all = out.samples.size();
  for (std::size_t i = all / 4; i < all * 6 / 10; ++i) {
    const double way = ring.shape.od - out.samples[i].gap.si(), force = out.samples[i].force.si();
    n += 1.0;
    x += way;
    y += force;
    xx += way * way;
    xy += way * force;
  }
  return (n * xy - x * y) / (n * xx - x * x) / out.thickness;
}

inline double thin_ring(const Press& ring) {
  const double t = ring.shape.wall, r = (ring.shape.od - t) / 2.0;
  return ring_modulus / (1.0 - ring_poisson * ring_poisson) * t * t * t / 12.0 /
         (r * r * r * (std::numbers::pi / 4.0 - 2.0 / std::numbers::pi));
}

/// A ring's stiffness between two opposite forces, with normal force and shear.
inline double roark_ring(const Press& ring) {
  const double t = ring.shape.wall, r = (ring.shape.od - t) / 2.0;
  const double off_centre = r - t / std::log((r + t / 2.0) / (r - t / 2.0));
  const double alpha = off_centre / r, beta = 1.2 * 2.0 / (1.0 - ring_poisson) * alpha;
  const double k1 = 1.0 - alpha + beta, k2 = 1.0 - alpha;
  return thin_ring(ring) * (std::numbers::pi / 4.0 - 2.0 / std::numbers::pi) /
         (std::numbers::pi / 4.0 * k1 - 2.0 * k2 * k2 / std::numbers::pi);
}

/// Force per length with four plastic hinges, in plane strain.
inline double four_hinges(const Press& ring, double yield) {
  const double t = ring.shape.wall, r = (ring.shape.od - t) / 2.0;
  return 4.0 * 2.0 / std::sqrt(3.0) * yield * t * t / 4.0 / r;
}

}  // namespace bellhole::flatten
