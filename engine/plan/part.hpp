// The part that lost its gas, as putting it back sees it: its ends, the work in it, who is out.
#pragma once

#include <string>
#include <vector>

#include "plan/plan.hpp"

namespace bellhole::plan {

/// One shut-off of the part.
struct PartEnd {
  std::string letter;
  ShutKind kind = ShutKind::squeeze;
  network::Index element = network::none;  ///< valve, regulator or source
  network::Index pipe = network::none;     ///< on a main; none at a station's or source's outlet
  Length station;
  bool rider = false;  ///< gas can be let past it through a valve of its own
};

struct Part {
  std::vector<PartEnd> ends;
  std::vector<Piece> work;           ///< never empty
  std::vector<network::Index> out;   ///< customers without gas, their meters shut
  std::vector<std::size_t> opening;  ///< of `ends`, in the order of opening; may be empty
  bool bypass = false;               ///< one joins the mains outside the ends
};

Part part_of(const Work& work, const ShutoffPlan& plan);

/// The conditions with every end shut and the meters of `out` shut.
network::Scenario shut_scenario(const network::Network& network, const Part& part,
                                network::Scenario conditions);

/// "A, main M-12 at 863.7 ft", "B, valve V-06".
std::string end_words(const network::Network& network, const PartEnd& end, units::System system);

}  // namespace bellhole::plan
