#include "plan/costs.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include "procedure/judge.hpp"

namespace bellhole::plan {
namespace {

constexpr std::int64_t hour_s = 3600;

}  // namespace

void Costs::note(const procedure::Ruling& ruling, std::string quantity, std::string action) {
  const auto same = [&](const Finding& finding) { return finding.rule == ruling.rule->id; };
  if (std::ranges::any_of(findings_, same)) return;
  findings_.push_back(procedure::not_set(ruling,
                                         {.quantity = std::move(quantity),
                                          .about = "profile " + profile_.id(),
                                          .action = std::move(action)},
                                         system_));
}

std::int64_t Costs::crew_s(std::string_view rule, const procedure::Case& in) {
  const procedure::Ruling ruling = profile_.ruling(rule, in);
  if (const auto value = ruling.number()) return static_cast<std::int64_t>(std::ceil(*value));
  note(ruling, std::string(ruling.rule->asks),
       "set it in the company's profile; until then every act counts one crew-hour and the order "
       "of the plans means little");
  return hour_s;
}

double Costs::value(std::string_view rule, const procedure::Case& in) {
  const procedure::Ruling ruling = profile_.ruling(rule, in);
  if (const auto value = ruling.number()) return *value;
  note(ruling, std::string(ruling.rule->asks),
       "set it in the company's profile; until then no time to stop the gas is given");
  return std::numeric_limits<double>::quiet_NaN();
}

}  // namespace bellhole::plan
