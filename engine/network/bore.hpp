// The bore of a main for flow, recorded or taken on the unsafe side.
#pragma once

#include <vector>

#include "network/columns.hpp"

namespace bellhole::network {

struct Bore {
  Length value;
  bool assumed = false;  ///< the map gives none
};

/// Bores of all mains. One that the map does not give is taken as the smallest recorded bore of the
/// mains that meet it, else as the smallest of the network: the unsafe side for supply. Nothing
/// recorded anywhere: nan.
std::vector<Bore> bores_of(const Pipes& pipes, std::size_t nodes);

}  // namespace bellhole::network
