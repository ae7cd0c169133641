// What the parts of a pressure test share. Internal to restore/.
#pragma once

#include "procedure/judge.hpp"
#include "restore/pressure_test.hpp"

namespace bellhole::restore {

struct TestWork {
  const TestQuestion& question;
  const procedure::Profile& profile;
  procedure::Case in;
  units::System system;
  Tested& tested;

  void add(Finding finding) const { tested.findings.push_back(std::move(finding)); }
  void add(Findings findings) const { append(tested.findings, std::move(findings)); }
  [[nodiscard]] procedure::Ruling ruling(std::string_view rule) const {
    return profile.ruling(rule, in);
  }
  void judge(std::string_view rule, const procedure::Held& held) const {
    add(procedure::judge(ruling(rule), held, system));
  }
  /// The value of a rule that is used rather than compared; its absence and its caveats become
  /// findings.
  template <class Kind>
  [[nodiscard]] std::optional<Quantity<Kind>> used(std::string_view rule,
                                                   const std::string& about) const {
    const auto found = ruling(rule);
    const auto value = found.template as<Kind>();
    if (value)
      add(procedure::caveats(found, about, system));
    else
      add(procedure::not_set(found, {std::string(found.rule->asks), std::nullopt, about, "", ""},
                             system));
    return value;
  }
  /// The warmest that the pipe was or is to be: nothing where no reading has a temperature.
  [[nodiscard]] std::optional<Temperature> warmest() const;
};

/// A finding of this room: arithmetic on what was entered.
Finding test_finding(std::string rule, Grade grade, std::string says, std::string action,
                     std::string about);

Result<bool> set_window(const TestWork& work);  ///< test_window.cpp: least and most
void finish_window(const TestWork& work);       ///< the same: fill, and the readings against it
void judge_ends(const TestWork& work);          ///< test_ends.cpp: what closes the length
void judge_readings(const TestWork& work);      ///< test_readings.cpp: what is missing, and why
void judge_other_way(const TestWork& work);     ///< test_other_way.cpp: pre-tested pipe, tie-ins
void find_energy(const TestWork& work);         ///< test_energy.cpp: what the gas holds, keep off
void find_duration(const TestWork& work);       ///< test_duration.cpp: how long, how small a leak

/// Whether the profile allows something that is either allowed or not: its row's grade where not,
/// undecided where nobody set it.
void must_allow(const TestWork& work, std::string_view rule, const std::string& what,
                const std::string& refused, std::string action, std::string about);

/// Pressure of gas in the length counted at base conditions. REQUIRES: a volume.
double base_volume(const TestQuestion& q, double pressure_pa, double temperature_k);

}  // namespace bellhole::restore
