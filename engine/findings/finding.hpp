// What every answer carries: findings (a rule looked at a value) and troubles (the input cannot be
// used).
#pragma once

#include <expected>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bellhole {

/// How far a finding weighs, worst first. There is no grade that says go: a verdict without
/// findings reads "nothing found against it".
enum class Grade { halt, undecided, warn, info };

std::string_view to_string(Grade grade);

/// How well a value's source is known. Printed beside the value, so that nobody takes memory for a
/// standard.
enum class Evidence {
  seen,             ///< stood in a text that was read; the source names it
  from_memory,      ///< recalled, to be confirmed by a person before anybody leans on it
  derived,          ///< arithmetic or mechanics from stated inputs
  common_practice,  ///< what crews do; no published source
  company,          ///< set by the company's procedure
  maker,            ///< stands in the record of this tool or this pipe
  entered,          ///< typed for this question
};

std::string_view to_string(Evidence evidence);
std::optional<Evidence> evidence_from(std::string_view text);
std::optional<Grade> grade_from(std::string_view text);

/// One thing that a rule has to say. Values are SI; `unit_si` names the unit of `value_si` and
/// `limit_si`
/// ("m", "Pa (gauge)", "1"). A missing value or limit is a missing number, never zero.
struct Finding {
  std::string rule;  ///< id, as in profiles and in docs/rules.md: "squeeze.compression"
  Grade grade = Grade::info;
  std::string
      says;  ///< one sentence for a person, in the units asked for where the door can print them
  std::string quantity;  ///< what was measured: "wall compression at the thinnest wall"
  std::optional<double> value_si;
  std::optional<double> limit_si;
  std::string unit_si;
  std::string source;  ///< of the limit or of the rule
  Evidence evidence = Evidence::derived;
  std::string action;  ///< what to do, and who decides
  std::string about;   ///< element, feature or field: "main M-12", "stop S-8-11", "--pressure"
};

/// The worst grade, or nothing where there are no findings.
enum class Verdict { halt, undecided, warn, info, nothing_found };

std::string_view to_string(Verdict verdict);
Verdict verdict_of(const std::vector<Finding>& findings);

/// A list of findings with the shorthand that rules use.
using Findings = std::vector<Finding>;
void append(Findings& to, Findings from);

}  // namespace bellhole
