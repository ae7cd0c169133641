// The gates: what must be behind a cut, an opening after a cut, and gas going back.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "job/state.hpp"
#include "procedure/date.hpp"

namespace bellhole::job {
namespace {

using plan::StepKind;

Finding reason(std::string rule, Grade grade, std::string says, std::string action,
               std::string about) {
  return {.rule = std::move(rule),
          .grade = grade,
          .says = std::move(says),
          .quantity = "what must be behind it",
          .source = "the plan of this job",
          .evidence = Evidence::entered,
          .action = std::move(action),
          .about = std::move(about)};
}

constexpr auto decide = "do it, or pass the gate by a named reason and a second person";

StepKind step_at(Gate gate) {
  switch (gate) {
    case Gate::cut:
      return StepKind::cut;
    case Gate::open_after_cut:
      return StepKind::open;
    case Gate::put_back:
      break;
  }
  return StepKind::relight;
}

/// The step at which the gate stands: the one about this shut-off where there is one, else the
/// first. Openings before the cut are no gate.
std::size_t step_of(const State& state, Gate gate, const std::string& about) {
  const auto& steps = state.steps;
  std::size_t from = 0;
  if (gate == Gate::open_after_cut)
    while (from < steps.size() && steps[from].step.kind != StepKind::cut) ++from;
  std::size_t first = steps.size();
  for (std::size_t i = from; i < steps.size(); ++i) {
    if (steps[i].step.kind != step_at(gate)) continue;
    if (!about.empty() && steps[i].step.about == about) return i;
    first = std::min(first, i);
  }
  return first;
}

/// Steps before `gate` in the list that it needs: those that it follows, and every hold point.
std::vector<const StepState*> needed(const State& state, std::size_t gate) {
  std::set<std::string> follows(state.steps[gate].step.after.begin(),
                                state.steps[gate].step.after.end());
  std::vector<const StepState*> list;
  for (std::size_t i = gate; i-- > 0;) {
    const plan::Step& step = state.steps[i].step;
    const bool follow = follows.contains(step.id);
    if (follow) follows.insert(step.after.begin(), step.after.end());
    if (follow || step.hold_point || step.names_needed > 0) list.push_back(&state.steps[i]);
  }
  std::ranges::reverse(list);
  return list;
}

void look_at_step(const StepState& step, Findings& reasons) {
  const std::string& id = step.step.id;
  if (!step.behind()) {
    const std::string answered =
        step.answer ? fmt::format("answered {}", to_string(step.answer->what.answer))
                    : "not answered";
    reasons.push_back(reason("job.step_open", Grade::halt,
                             fmt::format("step {} is {}: {}", id, answered, step.step.does), decide,
                             "step " + id));
    return;
  }
  if (step.answer->what.answer == Answer::not_needed && step.step.hold_point)
    reasons.push_back(reason("job.hold_point", Grade::undecided,
                             fmt::format("hold point {} was answered not needed", id), decide,
                             "step " + id));
  const std::string& first = step.answer->stamp.by;
  const std::string& second = step.answer->what.second;
  const int names = (first.empty() ? 0 : 1) + (second.empty() || second == first ? 0 : 1);
  if (names < std::min(step.step.names_needed, 2))
    reasons.push_back(
        reason("job.names", Grade::halt,
               fmt::format("step {} wants {} names and has {}", id, step.step.names_needed, names),
               "the second person answers for it by name", "step " + id));
}

void look_at_plan(const State& state, Findings& reasons) {
  if (!state.plan) {
    reasons.push_back(reason("job.no_plan", Grade::undecided,
                             "no plan is on the table: nothing says what must be behind this",
                             "the person in charge decides, by name", "plan"));
    return;
  }
  if (!state.accepted)
    reasons.push_back(reason("job.plan_not_accepted", Grade::halt,
                             "nobody has accepted the plan by name", "the lead accepts it, or not",
                             "plan"));
  else if (state.accepted->what.result != state.plan->what.result)
    reasons.push_back(reason("job.plan_other", Grade::halt,
                             "the plan that was accepted is not the one on the table",
                             "the lead accepts the plan on the table", "plan"));
  if (state.found_since)
    reasons.push_back(reason(
        "job.plan_differs", Grade::halt,
        fmt::format("plan differs from the pipe found at {}: found {}",
                    state.found_since->what.about, pipe_words(state.found_since->what.found)),
        "plan again with the pipe found; the lead accepts that plan by name",
        "pipe at " + state.found_since->what.about));
}

void look_at_shutoffs(const State& state, Findings& reasons) {
  for (const ShutoffState& shutoff : state.shutoffs)
    if (shutoff.planned && !shutoff.shut())
      reasons.push_back(reason("job.not_shut", Grade::halt,
                               fmt::format("shut-off {} is not recorded as shut", shutoff.letter),
                               decide, "shut-off " + shutoff.letter));
}

bool passes(const Passing& passing, Gate gate) {
  const auto& [what, stamp] = passing.said;
  return what.gate == gate && !stamp.by.empty() && !what.second.empty() && what.second != stamp.by;
}

}  // namespace

Findings gate_reasons(const State& state, Gate gate, const std::string& about) {
  Findings reasons;
  look_at_plan(state, reasons);
  if (state.plan) {
    const std::size_t at = step_of(state, gate, about);
    if (at == state.steps.size())
      reasons.push_back(reason("job.no_step", Grade::undecided,
                               fmt::format("the plan has no step {}: it does not say what must be "
                                           "behind it",
                                           plan::to_string(step_at(gate))),
                               "the person in charge decides, by name", "plan"));
    else
      for (const StepState* step : needed(state, at)) look_at_step(*step, reasons);
  }
  if (gate == Gate::cut) look_at_shutoffs(state, reasons);
  for (const Conflict& conflict : state.conflicts)
    reasons.push_back(reason("job.conflict", Grade::halt,
                             fmt::format("two devices say different things of {}", conflict.about),
                             "settle it by one more entry, by somebody who has seen both",
                             conflict.about));
  std::erase_if(reasons, [&](const Finding& finding) {
    return std::ranges::any_of(state.passings, [&](const Passing& passing) {
      return passes(passing, gate) &&
             std::ranges::any_of(passing.reasons, [&](const Finding& passed) {
               return passed.rule == finding.rule && passed.about == finding.about &&
                      passed.says == finding.says;
             });
    });
  });
  return reasons;
}

std::string pipe_words(const squeeze::Question& pipe) {
  std::string words = pipe.pipe.size.name;
  if (pipe.pipe.ratio) words += fmt::format(" DR {:g}", *pipe.pipe.ratio);
  if (pipe.pipe.material != nullptr) words += " " + std::string(pipe.pipe.material->name);
  for (const Length wall : pipe.pipe.readings) words += fmt::format(", wall {:.5g} m", wall.si());
  return words;
}

std::string differs(const squeeze::Question& mapped, const squeeze::Question& found) {
  std::string text;
  const auto say = [&](std::string_view what) {
    text += (text.empty() ? "" : ", ") + std::string(what);
  };
  if (mapped.pipe.size.od != found.pipe.size.od) say("size");
  if (mapped.pipe.ratio != found.pipe.ratio) say("ratio");
  if (mapped.pipe.material != found.pipe.material) say("material");
  if (!found.pipe.readings.empty() && !found.pipe.ratio) say("wall measured");
  return text;
}

}  // namespace bellhole::job
