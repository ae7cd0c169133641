// Small random networks, and shapes of them that are rich in pockets.
#pragma once

#include <cstdint>
#include <random>

#include "sketch.hpp"

namespace bellhole::isolate::test {

enum class Shape : std::uint8_t {
  any,         ///< edges between any two vertices, parallels, self loops and islands included
  ladder,      ///< two mains side by side, joined by rungs
  twin_mains,  ///< two mains between the same two crossings, with services' loops between
  loops,       ///< cul-de-sac loops that hang on one crossing each
  village,     ///< a meshed village that a single main feeds
};
inline constexpr int shapes = 5;

/// At most 7 vertices, 10 edges and 3 supplies.
Sketch draw(Shape shape, std::mt19937& random);

/// A street grid of 3 by 3 or 3 by 4 with gaps, parallels and a court or two; one or two supplies.
Sketch draw_grid(std::mt19937& random);

/// One to three vertices, now and then the same twice.
std::vector<Vertex> draw_work(const Sketch& sketch, std::mt19937& random);

/// Costs for one question only: some edges near the work forbidden, some vertices and supplies
/// dearer or free.
void draw_costs(const Sketch& sketch, std::mt19937& random, Query& query);

/// An integer in [least, most], the same on every platform.
int pick(std::mt19937& random, int least, int most);

}  // namespace bellhole::isolate::test
