// Gates, steps, prompts, and readings against the limits of their step.
#include <fmt/format.h>

#include <algorithm>

#include "job/audit_work.hpp"
#include "units/print.hpp"

namespace bellhole::job {
namespace {

std::string list_of(const Findings& reasons) {
  std::string text;
  for (const Finding& finding : reasons) text += (text.empty() ? "" : "; ") + finding.says;
  return text;
}

std::string_view gate_words(Gate gate) {
  switch (gate) {
    case Gate::cut:
      return "the main was cut";
    case Gate::open_after_cut:
      return "a shut-off was opened after the cut";
    case Gate::put_back:
      break;
  }
  return "gas went back to customers";
}

void gates(const AuditWork& work) {
  for (const Breach& breach : work.state.breaches)
    work.add(
        AuditWork::said("job.gate", Grade::halt,
                        fmt::format("{} although this stood against it: {}",
                                    gate_words(breach.gate), list_of(breach.reasons)),
                        "the person in charge answers for it", std::string(to_string(breach.gate))),
        breach.act.stamp);
  for (const Passing& passing : work.state.passings) {
    const auto& [what, stamp] = passing.said;
    const bool two = !stamp.by.empty() && what.second != stamp.by;
    work.add(
        AuditWork::said(
            two ? "job.gate_passed" : "job.gate_one_name", two ? Grade::warn : Grade::halt,
            two ? fmt::format("gate {} was passed by {} and {}: {}. Passed: {}",
                              to_string(what.gate), stamp.by, what.second, what.reason,
                              list_of(passing.reasons))
                : fmt::format("gate {} was to be passed without two persons: it was not passed",
                              to_string(what.gate)),
            "read the reason", std::string(to_string(what.gate))),
        stamp);
  }
  const State& state = work.state;
  if (state.found_since)
    work.add(AuditWork::said("job.plan_differs", Grade::undecided,
                             fmt::format("found {} at {}, and no plan with it was accepted by name",
                                         pipe_words(state.found_since->what.found),
                                         state.found_since->what.about),
                             "the lead accepts a plan with the pipe found",
                             "pipe at " + state.found_since->what.about),
             state.found_since->stamp);
}

void found_versus_map(const AuditWork& work) {
  for (const ShutoffState& shutoff : work.state.shutoffs) {
    if (!shutoff.found || !shutoff.planned || !shutoff.planned->mapped) continue;
    const auto& found = *shutoff.found;
    const std::string by = differs(*shutoff.planned->mapped, found.what.found);
    if (by.empty()) continue;
    const auto& accepted = work.state.accepted;
    const bool later = accepted && !work.state.found_since;
    work.add(
        AuditWork::said(
            "job.found_other", Grade::info,
            fmt::format("map said {}, found {} at {} ({}){}", pipe_words(*shutoff.planned->mapped),
                        pipe_words(found.what.found), local_clock(found.stamp.happened_at), by,
                        later ? fmt::format(", accepted by {} at {}",
                                            accepted->stamp.by.empty() ? "nobody named"
                                                                       : accepted->stamp.by,
                                            local_clock(accepted->stamp.happened_at))
                              : ", not accepted"),
            "the map is corrected by its owner", "pipe at " + shutoff.letter),
        found.stamp);
  }
}

void answers(const AuditWork& work) {
  const Stamp none;
  for (const StepState& step : work.state.steps) {
    const std::string& id = step.step.id;
    if (!step.answer) {
      work.add(AuditWork::said("job.step_unanswered", Grade::warn,
                               fmt::format("step {} was not answered: {}", id, step.step.does),
                               "say what was done, as typed from memory", "step " + id),
               none);
    } else if (!step.behind()) {
      work.add(
          AuditWork::said(
              "job.step_not_done", Grade::warn,
              fmt::format("step {} was answered {}: {}", id, to_string(step.answer->what.answer),
                          step.answer->what.says.empty() ? step.step.does : step.answer->what.says),
              "the person in charge answers for it", "step " + id),
          step.answer->stamp);
    }
  }
  for (const PromptState& prompt : work.state.prompts) {
    if (prompt.answer && prompt.answer->what.answer == Answer::yes) continue;
    if (prompt.answer && prompt.answer->what.answer == Answer::not_needed) continue;
    work.add(AuditWork::said("job.prompt", Grade::warn,
                             fmt::format("{}: {}", prompt.says,
                                         prompt.answer ? to_string(prompt.answer->what.answer)
                                                       : "not answered"),
                             "say what was done, as typed from memory", "prompt"),
             prompt.answer ? prompt.answer->stamp : none);
  }
}

/// A reading in a step against the limits that the plan gives its gauge there.
void readings(const AuditWork& work) {
  for (const auto& [what, stamp] : work.state.readings) {
    if (what.scale != Scale::gauge || what.step.empty()) continue;
    const auto step = std::ranges::find(work.state.steps, what.step,
                                        [](const StepState& s) { return s.step.id; });
    if (step == work.state.steps.end()) continue;
    for (const plan::Gauge& gauge : step->step.gauges) {
      if (gauge.point != what.point) continue;
      const auto value = GaugePressure::from_si(what.si);
      const auto hold = [&](const std::optional<GaugePressure>& limit, bool under) {
        if (!limit || (under ? value >= *limit : value <= *limit)) return;
        Finding finding = AuditWork::said(
            "job.reading", Grade::halt,
            fmt::format("{} read {} in step {}; {} {}", what.point,
                        units::print(value, work.question.units,
                                     under ? units::Toward::down : units::Toward::up),
                        what.step, under ? "at least" : "at most",
                        units::print(*limit, work.question.units)),
            gauge.to.empty() ? "the person in charge answers for it" : "it was for " + gauge.to,
            what.point);
        finding.quantity = under ? "lowest pressure" : "highest pressure";
        finding.value_si = what.si;
        finding.limit_si = limit->si();
        finding.unit_si = "Pa (gauge)";
        finding.source =
            "step " + what.step + " of plan " + work.state.plan->what.plan_id.substr(0, 12);
        work.add(std::move(finding), stamp);
      };
      hold(gauge.low, true);
      hold(gauge.high, false);
    }
  }
}

}  // namespace

void audit_steps(const AuditWork& work) {
  gates(work);
  found_versus_map(work);
  answers(work);
  readings(work);
}

}  // namespace bellhole::job
