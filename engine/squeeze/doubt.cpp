// A number that makes no sense in the unit typed and good sense in the one beside it.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "squeeze/work.hpp"

namespace bellhole::squeeze {
namespace {

/// Pairs that are mistaken for each other, with what one of the first is in the second's Pa.
struct Slip {
  std::string_view typed;
  double typed_pa;
  std::string_view meant;
  double meant_pa;
};
constexpr double psi_pa = 6894.757293168361;
constexpr std::array slips{
    Slip{"psi", psi_pa, "kPa", 1e3},
    Slip{"bar", 1e5, "psi", psi_pa},
    Slip{"bar", 1e5, "kPa", 1e3},
    Slip{"bar", 1e5, "mbar", 1e2},
};

bool is_unit(std::string_view typed, std::string_view unit) {
  const auto letter = [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  };
  if (typed.size() < unit.size()) return false;
  for (std::size_t i = 0; i < unit.size(); ++i) {
    if (letter(typed[i]) != letter(unit[i])) return false;
  }
  const auto rest = typed.substr(unit.size());
  return rest.empty() || rest == "g" || rest == "G" || rest.starts_with("(");
}

}  // namespace

void doubt_unit(const Work& work, GaugePressure limit) {
  const auto& pressure = work.sheet.pipe.pressure;
  if (!pressure || *pressure <= limit) return;
  const auto doubted = [](const Finding& finding) { return finding.rule == "entry.unit_doubt"; };
  if (std::ranges::any_of(work.sheet.findings, doubted)) return;
  for (const Slip& slip : slips) {
    if (!is_unit(work.sheet.pipe.pressure_unit, slip.typed)) continue;
    const double number = pressure->si() / slip.typed_pa;
    const auto other = GaugePressure::from_si(number * slip.meant_pa);
    if (other > limit) continue;
    Finding finding;
    finding.rule = "entry.unit_doubt";
    finding.grade = Grade::undecided;
    finding.says = fmt::format(
        "{:g} {} is over a limit here; {:g} {} would be {} and keep it. Was that meant?", number,
        slip.typed, number, slip.meant, units::print(other, work.units));
    finding.quantity = "line pressure";
    finding.value_si = pressure->si();
    finding.limit_si = limit.si();
    finding.unit_si = kinds::GaugePressure::symbol;
    finding.source = "the same number in the unit beside it";
    finding.evidence = Evidence::derived;
    finding.about = "pressure";
    finding.action = "read the gauge's dial again and type number and unit";
    work.add(std::move(finding));
    return;
  }
}

}  // namespace bellhole::squeeze
