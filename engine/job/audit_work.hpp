// What the parts of the audit share. Internal to job/.
#pragma once

#include "job/audit.hpp"

namespace bellhole::job {

struct AuditWork {
  const Log& log;
  const State& state;
  const AuditQuestion& question;
  Audit& audit;

  void add(Finding finding, const Stamp& stamp) const {
    audit.deviations.push_back(
        {std::move(finding), stamp.happened_at, stamp.by, stamp.device, stamp.event});
  }
  void add(Finding finding, const Hash& event) const;
  /// A finding of the record itself, with where it rests.
  [[nodiscard]] static Finding said(std::string rule, Grade grade, std::string says,
                                    std::string action, std::string about);
};

void audit_record(const AuditWork& work);  ///< audit_record.cpp: chain, clocks, late entries
void audit_steps(const AuditWork& work);   ///< audit_steps.cpp: gates, steps, prompts, readings
void audit_people(const AuditWork& work);  ///< audit_people.cpp: qualifications, instruments, kit
Result<bool> audit_paces(const AuditWork& work);  ///< audit_paces.cpp: measured points

}  // namespace bellhole::job
