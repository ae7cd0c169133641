// Inside of step_check: a list of steps made easy to ask.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "plan/step_check.hpp"

namespace bellhole::plan {

class StepView {
 public:
  StepView(const Checked& list, Findings& findings) : list_(list), findings_(findings) {}

  [[nodiscard]] const Checked& list() const { return list_; }
  [[nodiscard]] const std::vector<Step>& steps() const { return list_.steps; }
  [[nodiscard]] bool planned() const { return list_.kind == Kind::planned; }

  /// Positions of a kind, in order; of one subject where `about` is given.
  [[nodiscard]] std::vector<std::size_t> of(
      StepKind kind, std::optional<std::string_view> about = std::nullopt) const {
    std::vector<std::size_t> positions;
    for (std::size_t i = 0; i < list_.steps.size(); ++i) {
      if (list_.steps[i].kind == kind && (!about || list_.steps[i].about == *about))
        positions.push_back(i);
    }
    return positions;
  }
  [[nodiscard]] bool has(StepKind kind) const { return !of(kind).empty(); }
  [[nodiscard]] const CheckedShutoff* shutoff(std::string_view letter) const {
    for (const CheckedShutoff& shutoff : list_.shutoffs)
      if (shutoff.letter == letter) return &shutoff;
    return nullptr;
  }
  [[nodiscard]] bool squeeze(std::string_view letter) const {
    const CheckedShutoff* found = shutoff(letter);
    return found != nullptr && found->squeeze;
  }
  /// "step hold-A (number 12)".
  [[nodiscard]] std::string name(std::size_t position) const {
    return "step " + list_.steps[position].id + " (number " + std::to_string(position + 1) + ")";
  }

  Finding& say(std::string_view rule, Grade grade, std::string says, std::string action,
               std::string about) {
    Finding finding;
    finding.rule = rule;
    finding.grade = grade;
    finding.says = std::move(says);
    finding.quantity = "order and contract of the steps";
    finding.source = "the list of steps as written";
    finding.evidence = Evidence::derived;
    finding.action = std::move(action);
    finding.about = std::move(about);
    return findings_.emplace_back(std::move(finding));
  }
  void halt(std::string_view rule, std::string says, std::string action, std::string about) {
    say(rule, Grade::halt, std::move(says), std::move(action), std::move(about));
  }

 private:
  const Checked& list_;
  Findings& findings_;
};

/// What must come before what, and what may not be missing (step_order.cpp).
void check_step_order(StepView& view);
/// What each step must hold: words, gauges, names (step_contract.cpp).
void check_step_contract(StepView& view);
/// Who stands where (step_people.cpp).
void check_step_people(StepView& view);

}  // namespace bellhole::plan
