// What a gauge of a step may read: expected value, limits and range, from the state of the network
// and from what has been done to the part.
#pragma once

#include <vector>

#include "plan/plan.hpp"
#include "plan/step.hpp"

namespace bellhole::plan {

/// What has become of the part that is to lose its gas.
enum class PartState : std::uint8_t {
  live,     ///< nothing is shut yet
  shut_in,  ///< at least one shut-off is closed; not vented
  vented,   ///< vented down, or cut open
  purging,  ///< gas runs through it to the stack
  filled,   ///< at line pressure again
};

class Gauges {
 public:
  Gauges(const Question& question, const ShutoffPlan& plan, const StepList& list,
         const std::vector<StageNumbers>& numbers);

  /// One gauge in a state. `stage` indexes the list's states.
  [[nodiscard]] Gauge gauge(std::size_t point, std::size_t stage, PartState part) const;

  /// Limits and ranges that nobody set: once for each point and tier. Rules steps.gauge_limits,
  /// steps.gauge_range, steps.vented_gauge_range, steps.vented_most.
  [[nodiscard]] Findings not_set() const;

 private:
  struct Limits {
    std::optional<GaugePressure> low, high;
  };
  [[nodiscard]] Limits limits_of(const GaugePoint& point) const;
  [[nodiscard]] bool empties(std::size_t point) const;
  void expect(Gauge& gauge, std::size_t point, std::size_t stage, PartState part) const;
  [[nodiscard]] std::optional<GaugePressure> row(std::string_view rule, network::Index tier) const;

  const Question& question_;
  const network::Network& network_;
  const ShutoffPlan& plan_;
  const StepList& list_;
  const std::vector<StageNumbers>& numbers_;
  std::vector<Limits> limits_;  ///< of each point while it has its gas
};

}  // namespace bellhole::plan
