// A second opinion on a steady state: whether it keeps the laws, looked at pipe by pipe without the
// solver's means. Pressures are marched along each main in small steps of the differential equation
// with height and all; customers, regulators, sources and shut places are held against what is
// recorded.
#pragma once

#include <string>
#include <vector>

#include "network/steady.hpp"

namespace bellhole::support {

/// What is wrong, in words; empty when all laws are kept. `pressure_pa` is how far a pressure may
/// be off.
std::vector<std::string> judge(const network::Model& model, const network::Scenario& scenario,
                               const network::SteadyState& state, double pressure_pa = 0.5);

}  // namespace bellhole::support
