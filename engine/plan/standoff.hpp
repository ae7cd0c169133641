// How far a squeeze must stay from the work, or in an emergency from the gas.
#pragma once

#include <optional>
#include <vector>

#include "findings/finding.hpp"
#include "network/columns.hpp"
#include "plan/work.hpp"
#include "procedure/profile.hpp"
#include "squeeze/windows.hpp"
#include "units/print.hpp"

namespace bellhole::plan {

class Standoff {
 public:
  /// The distance is plan.standoff of the profile for this kind of work; not set, it is taken as
  /// none and is an undecided finding.
  Standoff(const network::Network& network, const Work& work, const procedure::Case& in,
           const procedure::Profile& profile);

  /// Straight-line distance from a station of a main to the nearest of the work.
  [[nodiscard]] Length away(network::Index pipe, Length station) const;

  /// The parts of a window that keep the stand-off. Found by stepping along the main, never past a
  /// place that could change sides, at least 0.05 m at a time; so a part may end up to that much
  /// early.
  [[nodiscard]] std::vector<squeeze::Window> outside(network::Index pipe,
                                                     const squeeze::Window& window) const;

  [[nodiscard]] Findings findings(units::System system) const;
  [[nodiscard]] std::optional<Length> distance() const { return distance_; }

 private:
  const network::Network& network_;
  procedure::Ruling ruling_;
  std::optional<Length> distance_;
  std::vector<std::vector<network::Point>> lines_;  ///< the work as drawn
};

}  // namespace bellhole::plan
