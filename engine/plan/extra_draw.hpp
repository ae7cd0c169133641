// A copy of a network with one more draw on it, as its last customer: an open end, the gas of a
// purge.
#pragma once

#include <memory>
#include <string>

#include "network/columns.hpp"

namespace bellhole::plan {

struct ExtraDraw {
  std::string id;
  network::Index pipe = network::none;
  Length station;
  StdFlow flow;         ///< the same at every temperature, hour and load
  GaugePressure least;  ///< below it the draw falls off, as that of any customer does
};

std::unique_ptr<network::Network> with_draw(const network::Network& network, const ExtraDraw& draw);

}  // namespace bellhole::plan
