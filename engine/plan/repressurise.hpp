// Gas back into the part without a surge: which end is opened first and how far, what each gauge
// then reads, whether anybody who is on falls short meanwhile, and what the excess-flow valves
// stand.
//
// End by end in the plan's order of opening. One with gas on one side alone fills the mains on the
// other through a small opening (a rider valve, a bypass, the valve itself, at worst the squeeze)
// until both its gauges read alike; then it is opened at its pace: the first end, and of further
// parts the first of each. One with gas on both sides waits until its gauges read alike, or stand
// still apart: then it opens on that difference. All of it runs as one course of the network
// through time (network/transient.hpp) at the high load, with the meters of the part shut.
//
// Excess-flow valves. A service fills through its valve while the main rises; the flow is
//
//   q = V_service / p_base x T_base / T x dp/dt,
//
// so the main may rise by no more than what makes q the flow at which the first valve shuts:
// repressurise.valve_trip, service_length and service_bore give the limit. Of it and the part's
// volume follows the most gas that may go in, and of that the opening of the throttle (the slot of
// gas/flattened.hpp with its least loss: the most gas). Where somebody falls short while it fills,
// or a gauge of the part rises faster than the limit (beside the throttle it does), half as much is
// tried, and half again.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "findings/watch.hpp"
#include "plan/part.hpp"

namespace bellhole::plan {

/// What one gauge reads over a step.
struct RefillReading {
  GaugePressure ends, lowest, highest;
};

struct RefillStep {
  std::size_t end = 0;                  ///< of Part::ends
  bool fills = false;                   ///< through the throttle; else opened at its pace
  Duration begins, done;                ///< on a clock that starts with the first movement
  std::vector<RefillReading> readings;  ///< in the order of Refill::points
  std::optional<StdFlow> flow_most;     ///< into the part while it fills
  std::optional<double> throttle;       ///< opening of the throttle, as a share of the bore
};

struct Refill {
  std::vector<std::string> points;  ///< where gauges hang
  std::vector<RefillStep> steps;
  std::optional<PressureRate> rise_most;  ///< that the excess-flow valves stand; missing: not set
  PressureRate rise;                      ///< fastest on the part
  std::vector<network::Index> valves;     ///< services of the part with an excess-flow valve
  std::vector<network::Index> not_known;  ///< services where that is not recorded
  std::vector<network::Index> short_of_gas;  ///< who fall short though they stay on
  std::string says;
  std::vector<std::string> cautions;
  Findings findings;
  std::vector<std::string> assumed;
};

struct RefillQuestion {
  const network::Model& model;
  const procedure::Profile& profile;
  network::Scenario conditions;  ///< air and hour; nothing of the work is shut
  const Part& part;
  units::System system = units::System::us;
};

/// REQUIRES: nothing of `conditions` is shut on a main. Errors: those of WithAdded::node_at,
/// Model::solve and Model::follow; cancelled.
Result<Refill> repressurise(const RefillQuestion& question, Watch& watch);

}  // namespace bellhole::plan
