// What the parts of an assessment share: the question, the profile, the sheet being filled.
// Internal to squeeze/; each function adds values and findings to the sheet.
#pragma once

#include <algorithm>

#include "procedure/judge.hpp"
#include "squeeze/forces.hpp"
#include "squeeze/sheet.hpp"

namespace bellhole::squeeze {

struct Work {
  const Question& question;
  const procedure::Profile& profile;
  procedure::Case in;
  units::System units;
  Sheet& sheet;
  Forces& forces;

  /// The row that governs; it is shown beside the answer.
  [[nodiscard]] procedure::Ruling ruling(std::string_view rule) const {
    const auto found = profile.ruling(rule, in);
    note(found.used() != nullptr ? found.used() : found.row);
    return found;
  }
  void add(Finding finding) const { sheet.findings.push_back(std::move(finding)); }
  void add(Findings findings) const { append(sheet.findings, std::move(findings)); }
  void note(const procedure::Row* row) const {
    if (row == nullptr || std::holds_alternative<std::monostate>(row->value)) return;
    const auto same = [&](const procedure::Row& other) { return other.place == row->place; };
    if (std::ranges::none_of(sheet.limits, same)) sheet.limits.push_back(*row);
  }
  /// Holds a value against a rule and adds what that says.
  void judge(std::string_view rule, const procedure::Held& held) const {
    add(procedure::judge(ruling(rule), held, units));
  }
  /// The value of a rule that is used rather than compared; its absence and its caveats become
  /// findings.
  template <class Kind>
  [[nodiscard]] std::optional<Quantity<Kind>> used(std::string_view rule,
                                                   const std::string& about) const {
    const auto found = ruling(rule);
    const auto value = found.template as<Kind>();
    if (!value) {
      add(procedure::not_set(found, {std::string(found.rule->asks), std::nullopt, about, "", ""},
                             units));
    } else {
      add(procedure::caveats(found, about, units));
    }
    return value;
  }
};

void rate_pipe(const Work& work);   ///< rate.cpp: design pressure and its limits
void judge_pipe(const Work& work);  ///< pipe_rules.cpp: vintage, lining, temperature, size, wall
void judge_pressure(const Work& work);    ///< limits.cpp: line pressure, one squeeze or two
void choose_gap(const Work& work);        ///< limits.cpp: gap, stop, compression
Result<bool> set_pace(const Work& work);  ///< limits.cpp: closing, waiting, opening
void judge_tool(const Work& work);        ///< tool_rules.cpp
void expect_force(const Work& work);      ///< force.cpp: force, pump gauge, hold
void find_places(const Work& work);       ///< hole.cpp
/// doubt.cpp: says so once when a line pressure over `limit` would keep it in the unit that is
/// easily taken for the typed one, such as psi typed where kPa is meant.
void doubt_unit(const Work& work, GaugePressure limit);

}  // namespace bellhole::squeeze
