// Networks that were solved once by other means.
#include <fmt/format.h>

#include <cmath>
#include <memory>

#include "network/steady.hpp"
#include "tests/outside/ledger.hpp"
#include "tests/support/eight_nodes.hpp"
#include "tests/support/looped.hpp"

namespace bellhole {
namespace {

/// Node pressures of the seven-node network, in psig at medium and in inWC at low pressure.
std::vector<double> solved(double scale) {
  const auto [town, wanted] = support::looped_town(scale);
  const auto model = network::Model::prepare(town.net, support::looped_conditions());
  const auto state = model->solve({.air = Temperature::from_si(288.15)});
  std::vector<double> pressures;
  for (const GaugePressure p : state->node_pressure)
    pressures.push_back(p.si() / (scale < 0.5 ? support::inch_of_water : support::psi));
  return pressures;
}

LEDGER(network) {
  const std::string source =
      "a plain Newton method in another language; its friction blends linearly from 2000 to 4000 "
      "and its Z and viscosity are its own, hence the tolerance";
  for (const double scale : {1.0, 0.04}) {
    const std::vector<double> wanted = support::looped_town(scale).wanted;
    for (std::size_t i = 1; i < wanted.size(); ++i) {
      ledger.check(
          {.quantity = fmt::format("pressure at node {} of seven in three loops, {} pressure",
                                   i + 1, scale < 0.5 ? "low" : "medium"),
           .expected = wanted[i],
           .tolerance = scale < 0.5 ? 0.01 : 0.005,
           .unit = scale < 0.5 ? "inWC" : "psig",
           .source = source,
           .evidence = Evidence::derived},
          [scale, i] { return solved(scale)[i]; });
    }
  }

  const std::string paper =
      "Srinivasan, Sundar, Gyrya, Zlotnik, IEEE Trans. Control of Network Systems 10 (2023) 1449, "
      "eight nodes, ideal gas; compressors matched from outside";
  const auto eight = std::make_shared<support::EightNodes>(support::solve_eight_nodes());
  struct Node {
    std::size_t node;
    double pa;
  };
  for (const Node& row : {Node{2, 3675365.138}, Node{3, 3035567.783}, Node{4, 3001178.687},
                          Node{5, 3001873.620}, Node{7, 4674232.347}, Node{8, 3659254.496}}) {
    ledger.check({.quantity = fmt::format("pressure at node {} of eight", row.node),
                  .expected = row.pa,
                  .tolerance = 1e-4 * row.pa,
                  .unit = "Pa (abs)",
                  .source = paper,
                  .evidence = Evidence::seen},
                 [eight, row] { return eight->pa_abs[row.node]; });
  }
  const auto flow = [&](std::string quantity, double expected, double got) {
    ledger.check({.quantity = std::move(quantity),
                  .expected = expected,
                  .tolerance = 1e-4 * expected,
                  .unit = "kg/s",
                  .source = paper,
                  .evidence = Evidence::seen},
                 [got] { return got; });
  };
  flow("flow from node 7 to 3 of eight", 226.98124042, eight->kg_per_s_7_to_3);
  flow("flow from node 3 to 4 of eight", 76.98124042, eight->kg_per_s_3_to_4);
  flow("flow from node 2 to 4 of eight", 48.01874238, eight->kg_per_s_2_to_4);
}

}  // namespace
}  // namespace bellhole
