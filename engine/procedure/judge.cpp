#include "procedure/judge.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace bellhole::procedure {
namespace {

constexpr std::string_view decide = "decide: the company's engineer sets the limit in the profile";

Finding blank(const Ruling& ruling, const std::string& about, Grade grade) {
  Finding finding;
  finding.rule = ruling.rule->id;
  finding.grade = grade;
  finding.unit_si = unit_si(ruling.rule->dimension);
  finding.about = about;
  return finding;
}

/// "; published for reference: 50 degF (ASTM F1734 …), and this is below it"
std::string beside(const Ruling& ruling, const Held& held, units::System system) {
  if (ruling.row == nullptr || !ruling.row->reference) return {};
  const Reference& reference = *ruling.row->reference;
  std::string text = fmt::format("; published, for reference only: {} ({})",
                                 print(*ruling.rule, reference.value, system), reference.source);
  const auto* number = std::get_if<double>(&reference.value);
  if (number != nullptr && held.value_si && tighter(*ruling.rule, *number, *held.value_si)) {
    text += fmt::format(", which {} does not keep",
                        print(ruling.rule->dimension, *held.value_si, system));
  }
  return text;
}

std::string joined(const std::vector<std::string_view>& words) {
  std::string text;
  for (const auto word : words) text += (text.empty() ? "" : ", ") + std::string(word);
  return text;
}

}  // namespace

Finding not_set(const Ruling& ruling, const Held& held, units::System system) {
  Finding finding = blank(ruling, held.about, Grade::undecided);
  finding.quantity = held.quantity;
  finding.value_si = held.value_si;
  finding.says =
      fmt::format("no limit set for {}: decide{}", ruling.rule->asks, beside(ruling, held, system));
  finding.action = decide;
  if (!held.value_si && !held.to_know.empty()) {
    finding.says += fmt::format("; {} is not known either", held.quantity);
    finding.action = fmt::format("{}; {}", held.to_know, decide);
  }
  finding.source = ruling.row != nullptr ? ruling.row->place : "no row in the profile";
  finding.evidence = Evidence::company;
  if (ruling.row != nullptr && ruling.row->reference) {
    finding.source = ruling.row->reference->source;
    finding.evidence = ruling.row->reference->evidence;
  }
  return finding;
}

Findings caveats(const Ruling& ruling, const std::string& about, units::System system) {
  Findings findings;
  const Row* row = ruling.used() != nullptr ? ruling.used() : ruling.row;
  if (row == nullptr) return findings;
  const auto fill = [&](Grade grade, std::string says, std::string action) {
    Finding finding = blank(ruling, about, grade);
    finding.quantity = ruling.rule->asks;
    finding.says = std::move(says);
    finding.action = std::move(action);
    finding.limit_si = ruling.number();
    finding.source = row->source;
    finding.evidence = row->evidence;
    findings.push_back(std::move(finding));
  };
  const std::string value = print(*row->rule, row->value, system);
  if (ruling.unconfirmed_law()) {
    fill(
        Grade::undecided,
        fmt::format("{} of {} is law from memory, confirmed by nobody yet", ruling.rule->asks,
                    value),
        fmt::format("read {} and enter text, date and name in the row's 'confirmed'", row->source));
  }
  if (!ruling.doubtful.empty()) {
    fill(
        Grade::undecided,
        fmt::format("{} depends on what is not known ({}); the tightest that may apply is used: {}",
                    ruling.rule->asks, joined(ruling.missing), value),
        fmt::format("find out: {}", joined(ruling.missing)));
  }
  if (row->loosens) {
    fill(Grade::info,
         fmt::format("{} of {} is looser than the profile that this one extends; {} answers for it",
                     ruling.rule->asks, value, row->approved_by),
         "");
  }
  return findings;
}

namespace {

/// Doubt about which row governs is settled by a value that keeps every row that may.
bool settled(const Ruling& ruling, double limit, const std::optional<double>& value) {
  const auto numbered = [](const Row* row) { return std::holds_alternative<double>(row->value); };
  return value && !tighter(*ruling.rule, limit, *value) && ruling.row != nullptr &&
         numbered(ruling.row) && std::ranges::all_of(ruling.doubtful, numbered);
}

}  // namespace

Findings judge(const Ruling& ruling, const Held& held, units::System system) {
  const auto limit = ruling.number();
  if (!limit) return {not_set(ruling, held, system)};
  Ruling spoken = ruling;
  if (settled(ruling, *limit, held.value_si)) spoken.doubtful.clear();
  Findings findings = caveats(spoken, held.about, system);
  const Row& row = *ruling.used();
  Finding finding = blank(ruling, held.about, row.grade);
  finding.quantity = held.quantity;
  finding.value_si = held.value_si;
  finding.limit_si = limit;
  finding.source = row.source;
  finding.evidence = row.evidence;
  finding.action = held.action;
  const std::string bound =
      fmt::format("{} {}", ruling.rule->sense == Sense::most ? "at most" : "at least",
                  print(ruling.rule->dimension, *limit, system));
  if (!held.value_si) {
    finding.grade = Grade::undecided;
    finding.says = fmt::format("{} is not known; it must be {}", held.quantity, bound);
    finding.action = held.to_know;
    findings.push_back(std::move(finding));
  } else if (tighter(*ruling.rule, *limit, *held.value_si)) {
    finding.says = fmt::format("{} is {}; it must be {}", held.quantity,
                               print(ruling.rule->dimension, *held.value_si, system), bound);
    findings.push_back(std::move(finding));
  }
  return findings;
}

}  // namespace bellhole::procedure
