// The roughness of a main's wall, recorded or by its material.
#pragma once

#include <string_view>

#include "findings/finding.hpp"
#include "network/columns.hpp"

namespace bellhole::network {

struct Roughness {
  Length value;
  bool assumed = false;  ///< the map gives none; `source` is of the material's usual value
  std::string_view source;
  Evidence evidence = Evidence::entered;
};

/// Recorded, else the usual one of its material; of an unknown material, that of steel.
Roughness roughness_of(const Pipes& pipes, Index pipe);

}  // namespace bellhole::network
