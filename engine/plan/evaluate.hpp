// What a cut does to the town: who is out and why, and whether the rest holds.
#pragma once

#include <cstdint>
#include <vector>

#include "findings/trouble.hpp"
#include "isolate/cuts.hpp"
#include "network/steady.hpp"
#include "plan/places.hpp"

namespace bellhole::plan {

enum class OutCause : std::uint8_t {
  isolated,  ///< on the part that is shut off with the work
  pocket,    ///< cut off from every source behind it
  short_of,  ///< still connected, but under the least pressure at the load judged
};

struct CustomerOut {
  network::Index customer = network::none;
  OutCause cause = OutCause::isolated;
};

struct Evaluation {
  network::Scenario scenario;      ///< the shut places and the load judged, high
  network::SteadyState high_load;  ///< rules lowest pressures and who falls short
  std::vector<CustomerOut> out;    ///< ascending by customer
  isolate::Cost total = 0;         ///< the cut's cost and that of those who fall short besides
};

/// Solves the network with a cut's places shut, at the high load: the end that is unsafe for
/// supply. `base` holds air and hour; `before` is the state with nothing shut at that load: who has
/// no gas in it, or too little, is not put out by the cut unless he is on a part that it takes.
Result<Evaluation> evaluate(const network::Model& model, const Places& places,
                            const isolate::Cut& cut, const network::Scenario& base,
                            const std::vector<isolate::Cost>& customer_cost,
                            const network::SteadyState& before);

/// Shuts one place in a scenario.
void shut(network::Scenario& scenario, const Place& place);

/// The scenario of a cut: closures, valve settings, outlets shut.
network::Scenario scenario_of(const Places& places, const isolate::Cut& cut,
                              network::Scenario base);

/// The places that a cut shuts, in the order of Places::places.
std::vector<std::size_t> places_of(const Places& places, const isolate::Cut& cut);

/// Parts that are joined to the work once the cut is shut, ascending.
std::vector<isolate::Vertex> parts_with_work(const network::Network& network, const Places& places,
                                             const isolate::Cut& cut);

}  // namespace bellhole::plan
