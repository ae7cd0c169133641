// How a rule of a stage speaks: the state, the station, the post.
//
// Internal to plan/.
#pragma once

#include <fmt/format.h>

#include <cmath>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "plan/stage_state.hpp"

namespace bellhole::plan {

inline bool known(GaugePressure pressure) { return std::isfinite(pressure.si()); }

class StageTeller {
 public:
  StageTeller(const StageView& view, std::vector<network::Index>& watch);

  Findings take() { return std::move(findings_); }

 protected:
  /// A pressure within this of a limit is at the limit, as in the steady findings.
  static constexpr double at_limit_pa = 1.0;

  static std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }
  static bool above(GaugePressure pressure, GaugePressure limit) {
    return known(pressure) && known(limit) && pressure.si() > limit.si() + at_limit_pa;
  }
  [[nodiscard]] const network::RegulatorState& high(std::size_t r) const {
    return view_.now.high.regulators[r];
  }
  [[nodiscard]] const network::RegulatorState& first(std::size_t r) const {
    return view_.first.high.regulators[r];
  }
  [[nodiscard]] bool anything_shut() const { return !view_.ask.shut.empty(); }
  [[nodiscard]] std::string station(std::size_t r) const { return station_words(network_, r); }
  [[nodiscard]] std::string print(GaugePressure p, units::Toward toward) const {
    return units::print(p, view_.question.system, toward);
  }

  Finding& say(std::string_view rule, Grade grade, std::string about, const std::string& says,
               std::string action);
  /// Of a station; it needs a person unless the finding is a remark.
  Finding& say_of(std::size_t r, std::string_view rule, Grade grade, const std::string& says,
                  std::string action);
  void must_be_watched(std::size_t r);
  template <class Kind>
  static void measure(Finding& finding, std::string quantity, Quantity<Kind> value,
                      Quantity<Kind> limit) {
    finding.quantity = std::move(quantity);
    if (std::isfinite(value.si())) finding.value_si = value.si();
    if (std::isfinite(limit.si())) finding.limit_si = limit.si();
    finding.unit_si = std::string(Kind::symbol);
  }
  /// Who must stand where, doing what, by when.
  [[nodiscard]] std::string post(std::size_t r, std::string_view gauge) const;
  /// The highest outlet pressure at any load.
  [[nodiscard]] GaugePressure worst_outlet(std::size_t r) const;
  /// Whether anybody draws from a region: customers who are to stay on, stations that lead on.
  [[nodiscard]] bool drawn_from(const StageState& state, std::int32_t region) const;

  const StageView& view_;
  const network::Network& network_;
  const network::Regulators& regulators_;
  std::vector<std::uint8_t> out_;  ///< one per customer, 1: the plan has it lose its gas
  std::string before_words_;

 private:
  std::vector<network::Index>& watch_;
  std::string state_words_;
  Findings findings_;
};

}  // namespace bellhole::plan
