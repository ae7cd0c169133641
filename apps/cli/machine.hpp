// The machine's clocks, its boot and its random bits: what a store is told by the door.
#pragma once

#include "store/store.hpp"

namespace bellhole::cli {

store::Machine this_machine(const std::string& device);

}  // namespace bellhole::cli
