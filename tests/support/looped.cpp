#include "tests/support/looped.hpp"

namespace bellhole::support {

using network::Index;

LoopedTown looped_town(double scale) {
  const bool low = scale < 0.5;
  LoopedTown made;
  Town& town = made.town;
  const Index tier = town.tier(low ? "LP" : "MP", 60 * psi, low ? 5 * inch_of_water : psi);
  std::vector<Index> node;
  for (int i = 1; i <= 7; ++i) node.push_back(town.node(std::to_string(i), tier));
  struct Main {
    std::size_t a, b;
    double inches, feet, cfh;  ///< drawn at b
  };
  const Main mains[] = {{1, 2, 3.682, 1200, 6000}, {2, 3, 1.943, 900, 5000},
                        {1, 4, 1.943, 1000, 4000}, {4, 5, 1.943, 1100, 0},
                        {2, 5, 1.943, 800, 5500},  {5, 6, 1.943, 700, 3500},
                        {3, 6, 1.943, 1000, 0},    {6, 7, 1.077, 400, 900}};
  for (const Main& main : mains) {
    const std::string id = std::to_string(main.a) + "-" + std::to_string(main.b);
    const Index pipe =
        town.pipe(id, node[main.a - 1], node[main.b - 1], main.feet * foot, main.inches * inch);
    if (main.cfh > 0)
      town.customer("at " + id, pipe, main.feet * foot, scale * main.cfh * cubic_foot_per_hour);
  }
  town.source("S", node[0], low ? 10 * inch_of_water : 45 * psi);
  made.wanted = low ? std::vector{10.0, 9.8512, 9.5327, 9.6318, 9.5599, 9.4981, 9.3917}
                    : std::vector{45.0, 44.60541, 43.66961, 43.98532, 43.79889, 43.60205, 43.38335};
  return made;
}

network::Conditions looped_conditions() {
  return {.gas = *gas::from_gravity(0.6), .ground = Temperature::from_si(288.7055556)};
}

}  // namespace bellhole::support
