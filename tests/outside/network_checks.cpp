// Networks that were solved once by other means.
#include <fmt/format.h>

#include <cmath>

#include "network/steady.hpp"
#include "tests/outside/ledger.hpp"
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
}

}  // namespace
}  // namespace bellhole
