// Is the record whole, do its clocks agree, was it written at the time.
#include <fmt/format.h>

#include <algorithm>

#include "job/audit_work.hpp"
#include "procedure/judge.hpp"
#include "units/print.hpp"

namespace bellhole::job {
namespace {

void chain(const AuditWork& work) {
  for (ChainFault& fault : check_log(work.log)) {
    const bool late = fault.how == Broken::removed;
    work.add(AuditWork::said(late                          ? "job.event_missing"
                             : fault.how == Broken::forked ? "job.event_forked"
                                                           : "job.event_edited",
                             late ? Grade::undecided : Grade::halt, std::move(fault.says),
                             late ? "fetch the log of every device and merge it"
                                  : "the record does not stand: find out who changed it",
                             "the record"),
             fault.event);
  }
  for (ClockFault& fault : check_clocks(work.log, work.question.profile, work.question.units))
    work.add(std::move(fault.finding), fault.event);
}

/// What was typed long after it happened, each person's worst once.
void late(const AuditWork& work) {
  const auto ruling = work.question.profile.ruling("job.entered_late", {});
  const auto limit = ruling.as<kinds::Duration>();
  std::map<std::string, const Event*> worst;
  std::map<std::string, int> count;
  const auto lag = [](const Event& event) { return event.entered_at.at - event.happened_at.at; };
  for (const Event& event : work.log.events()) {
    if (event.source == Source::imported || lag(event).si() <= 0.0) continue;
    if (limit && lag(event) <= *limit) continue;
    ++count[event.by];
    const Event*& one = worst[event.by];
    if (one == nullptr || lag(event) > lag(*one)) one = &event;
  }
  for (const auto& [by, event] : worst) {
    Findings held = procedure::judge(
        ruling,
        {.quantity = "time from the event until it was entered",
         .value_si = lag(*event).si(),
         .about = by.empty() ? "nobody named" : by,
         .action = "what was typed from memory counts as that; a person says how sure it is"},
        work.question.units);
    for (Finding& finding : held) {
      if (limit)
        finding.says =
            fmt::format("{} of {} were entered late, the worst ({}) after {}; at most {}",
                        count[by], by.empty() ? "nobody named" : by, kind_of(event->fact.is),
                        units::print(lag(*event), work.question.units, units::Toward::up),
                        units::print(*limit, work.question.units));
      work.add(std::move(finding), event->hash);
    }
  }
}

void corrections(const AuditWork& work) {
  for (const Correction& correction : work.state.corrections)
    work.add(
        AuditWork::said(correction.kind.empty() ? "job.correction_of_nothing" : "job.corrected",
                        correction.kind.empty() ? Grade::undecided : Grade::info,
                        correction.kind.empty()
                            ? fmt::format("a correction names an event that is not in the log: {}",
                                          correction.said.what.event)
                            : fmt::format("{} was corrected{}: {}", correction.kind,
                                          correction.said.what.instead ? "" : " (taken back)",
                                          correction.said.what.because),
                        "read both", "the record"),
        correction.said.stamp);
  for (const Conflict& conflict : work.state.conflicts) {
    std::string says =
        fmt::format("devices that were apart say different things of {}:", conflict.about);
    for (const auto& side : conflict.sides)
      says +=
          fmt::format(" {} by {} on {};", side.says,
                      side.stamp.by.empty() ? "nobody named" : side.stamp.by, side.stamp.device);
    work.add(AuditWork::said("job.conflict", Grade::undecided, says + " nobody has settled it",
                             "settle it by one more entry, by somebody who has seen both",
                             conflict.about),
             conflict.sides.back().stamp);
  }
  for (const Said<Unknown>& event : work.state.unknown)
    work.add(
        AuditWork::said("job.not_understood", Grade::undecided,
                        fmt::format("an event of kind {} is of a later version: kept, not read",
                                    event.what.kind),
                        "audit again with the version that wrote it", "the record"),
        event.stamp);
}

}  // namespace

void audit_record(const AuditWork& work) {
  chain(work);
  late(work);
  corrections(work);
}

}  // namespace bellhole::job
