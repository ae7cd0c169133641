// What shutting and losing costs, from the profile's rows.
#pragma once

#include <cstdint>
#include <string_view>

#include "findings/finding.hpp"
#include "procedure/profile.hpp"
#include "units/print.hpp"

namespace bellhole::plan {

/// Reads costs and times, and collects one finding for each that is not set. Where a cost is not
/// set every act counts the same hour, so that an order exists; the finding says so.
class Costs {
 public:
  Costs(const procedure::Profile& profile, units::System system)
      : profile_(profile), system_(system) {}

  /// Crew-seconds, rounded up. `rule` is one of plan.cost_…
  std::int64_t crew_s(std::string_view rule, const procedure::Case& in);
  /// Seconds from the order until it holds; nan where the profile sets none.
  double time_s(std::string_view rule, const procedure::Case& in) { return value(rule, in); }
  /// Of any rule that a time to stop the gas leans on, in SI; nan where the profile sets none.
  double value(std::string_view rule, const procedure::Case& in);

  [[nodiscard]] const Findings& findings() const { return findings_; }

 private:
  void note(const procedure::Ruling& ruling, std::string quantity, std::string action);

  const procedure::Profile& profile_;
  units::System system_;
  Findings findings_;
};

}  // namespace bellhole::plan
