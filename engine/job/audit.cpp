#include "job/audit.hpp"

#include <algorithm>

#include "job/audit_work.hpp"

namespace bellhole::job {

void AuditWork::add(Finding finding, const Hash& event) const {
  const auto found = log.find(event);
  if (!found) {
    audit.deviations.push_back({std::move(finding), {}, "", "", event});
    return;
  }
  const Event& at = log.events()[*found];
  audit.deviations.push_back({std::move(finding), at.happened_at, at.by, at.device, event});
}

Finding AuditWork::said(std::string rule, Grade grade, std::string says, std::string action,
                        std::string about) {
  return {.rule = std::move(rule),
          .grade = grade,
          .says = std::move(says),
          .source = "the log of this job",
          .evidence = Evidence::entered,
          .action = std::move(action),
          .about = std::move(about)};
}

Findings Audit::findings() const {
  Findings all;
  for (const Deviation& deviation : deviations) all.push_back(deviation.finding);
  return all;
}

Result<Audit> audit(const Log& log, const State& state, const AuditQuestion& question) {
  Audit audit;
  const AuditWork work{log, state, question, audit};
  audit_record(work);
  audit_steps(work);
  audit_people(work);
  BELLHOLE_TRY(paces, audit_paces(work));
  static_cast<void>(paces);
  std::ranges::stable_sort(audit.deviations, [](const Deviation& a, const Deviation& b) {
    if (a.finding.grade != b.finding.grade) return a.finding.grade < b.finding.grade;
    return a.at.value_or(Moment{}).at < b.at.value_or(Moment{}).at;
  });
  return audit;
}

}  // namespace bellhole::job
