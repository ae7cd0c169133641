// Who loses gas by a plan, as meters to be shut and lit again.
#pragma once

#include "ask/conditions.hpp"
#include "ask/plan_given.hpp"
#include "network/along.hpp"
#include "restore/relight.hpp"

namespace bellhole::ask {

struct LostCustomer {
  network::Index customer = network::none;
  restore::Lost why = restore::Lost::isolated;
  std::size_t closing = 0;  ///< in the order of closing, the first that leaves him short
};

/// Those that the plan puts out, and those who fall short in a state between two of its closings or
/// openings; ascending. In planned work those whom the plan puts out draw nothing meanwhile.
/// Errors: unknown_element (a customer or a shut-off that the network has not), those of
/// plan::affected.
Result<std::vector<LostCustomer>> lost_by(const Question& question, const network::Model& model,
                                          const Weather& weather, const PlanGiven& given);

/// Every shut-off of a plan shut.
Result<network::Scenario> all_shut(const network::Network& network, network::Scenario scenario,
                                   const wire::GivenPlan& plan);

/// Position of a customer by id. Errors: unknown_element, naming `where`.
Result<network::Index> customer_named(const network::Network& network, const std::string& id,
                                      const std::string& where);

/// Distances along the mains from the shut-off that is opened first; nothing where no place on a
/// main tells.
std::optional<network::Along> along_from(const network::Network& network,
                                         const wire::GivenPlan& plan);

restore::Meter meter_of(const network::Network& network, network::Index customer, restore::Lost why,
                        const std::optional<network::Along>& along);

}  // namespace bellhole::ask
