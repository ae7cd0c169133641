// Loads onto a skeleton, and the solution back onto every point and segment.
//
// Internal to network/.
#pragma once

#include <vector>

#include "network/prepared.hpp"

namespace bellhole::network {

/// One scenario's loads on a skeleton, kg/s.
struct FoldedLoads {
  std::vector<double> hanging;    ///< per point: its own load and that of the trees on it
  std::vector<double> tree_flow;  ///< per leaf, towards it
  std::vector<double> core;       ///< per unknown
  std::vector<double> passed;     ///< per link: drawn since the beginning of its chain
  std::vector<double> drawn;      ///< per chain: drawn between its ends
  std::vector<char> active;       ///< per chain: whole and live
};
FoldedLoads fold_loads(const Skeleton& skeleton, const Case& laid);

/// Reduced potentials of all points (nan where no gas is) and flows of all segments (positive from
/// a to b).
struct Settled {
  std::vector<double> potential, flow;
  std::vector<double> source_flow, regulator_flow;
  std::vector<char> source_mode, regulator_mode;
};

/// Fills potential and flow from the unknowns' potentials and the chains' flows at their
/// beginnings.
void unfold(const Model::Prepared& prepared, const Skeleton& skeleton, const Case& laid,
            const FoldedLoads& loads, const std::vector<double>& core_potential,
            const std::vector<double>& chain_flow, Settled& settled);

/// Gas that nobody draws and nothing feeds keeps whatever pressure it was left with, and a solver
/// leaves it at some pressure or other. Such parts are put to the highest that the sources and
/// regulators on them would hold.
void rest_idle_parts(const Model::Prepared& prepared, const Case& laid, Settled& settled);

}  // namespace bellhole::network
