#include <fmt/format.h>

#include <algorithm>
#include <unordered_map>

#include "job/cells.hpp"
#include "job/state.hpp"

namespace bellhole::job {
namespace {

Stamp stamp_of(const Event& event) {
  return {event.happened_at, event.entered_at, event.by, event.device, event.source, event.hash};
}

/// The one of `list` under this key, made where there is none.
template <class T, class Key>
T& one(std::vector<T>& list, Key T::* key, const Key& wanted) {
  const auto found = std::ranges::find(list, wanted, key);
  if (found != list.end()) return *found;
  list.emplace_back().*key = wanted;
  return list.back();
}

/// Puts one fact into the state.
struct Applied {
  State& state;
  const Stamp stamp;

  void operator()(const Opened& fact) const { state.opened = {fact, stamp}; }
  void operator()(const Closed& fact) const { state.closed = {fact, stamp}; }
  void operator()(const Planned& fact) const {
    state.plan = {fact, stamp};
    state.accepted.reset();
    std::vector<StepState> steps;
    for (const plan::Step& step : fact.steps) {
      StepState made{step, {}};
      const auto old =
          std::ranges::find(state.steps, step.id, [](const StepState& s) { return s.step.id; });
      if (old != state.steps.end()) made.answer = old->answer;
      steps.push_back(std::move(made));
    }
    state.steps = std::move(steps);
    for (const PlannedShutoff& shutoff : fact.shutoffs)
      one(state.shutoffs, &ShutoffState::letter, shutoff.letter).planned = shutoff;
    for (const std::string& says : fact.prompts) one(state.prompts, &PromptState::says, says);
  }
  void operator()(const PlanAccepted& fact) const {
    state.accepted = {fact, stamp};
    state.found_since.reset();
  }
  void operator()(const PipeFound& fact) const {
    ShutoffState& shutoff = one(state.shutoffs, &ShutoffState::letter, fact.about);
    shutoff.found = {fact, stamp};
    const bool other = shutoff.planned && shutoff.planned->mapped &&
                       !differs(*shutoff.planned->mapped, fact.found).empty();
    if (other) state.found_since = shutoff.found;
  }
  PersonState& person(const std::string& id) const {
    return one(state.people, &PersonState::id, id);
  }
  void operator()(const Joined& fact) const { person(fact.person).roles.push_back({fact, stamp}); }
  void operator()(const Left& fact) const { person(fact.person).left = {fact, stamp}; }
  void operator()(const Qualified& fact) const {
    person(fact.person).qualifications.push_back({fact, stamp});
  }
  void operator()(const Signed& fact) const { person(stamp.by).signs.push_back({fact, stamp}); }
  void operator()(const Instrument& fact) const {
    state.instruments.insert_or_assign(fact.id, Said<Instrument>{fact, stamp});
  }
  void operator()(const Kit& fact) const { state.kit.push_back({fact, stamp}); }
  void operator()(const Prompt& fact) const {
    one(state.prompts, &PromptState::says, fact.says).answer = {fact, stamp};
  }
  void operator()(const StepAnswer& fact) const {
    for (StepState& step : state.steps)
      if (step.step.id == fact.step) step.answer = {fact, stamp};
  }
  void operator()(const Reading& fact) const { state.readings.push_back({fact, stamp}); }
  void operator()(const Bars& fact) const {
    one(state.shutoffs, &ShutoffState::letter, fact.about).bars.push_back({fact, stamp});
  }
  void operator()(const Act& fact) const {
    state.acts.push_back({fact, stamp});
    if (fact.did != Did::cut && fact.did != Did::put_back)
      one(state.shutoffs, &ShutoffState::letter, fact.about).acts.push_back({fact, stamp});
  }
  void operator()(const HandedOver& fact) const { state.handovers.push_back({fact, stamp}); }
  void operator()(const Tested& fact) const { state.tests.push_back({fact, stamp}); }
  void operator()(const Purged& fact) const { state.purges.push_back({fact, stamp}); }
  void operator()(const Meter& fact) const { state.meters[fact.meter].push_back({fact, stamp}); }
  void operator()(const Laid& fact) const { state.laid.push_back({fact, stamp}); }
  void operator()(const ResultRecorded& fact) const { state.results.push_back({fact, stamp}); }
  void operator()(const Photo& fact) const { state.photos.push_back({fact, stamp}); }
  void operator()(const Note& fact) const { state.notes.push_back({fact, stamp}); }
  void operator()(const Unknown& fact) const { state.unknown.push_back({fact, stamp}); }
  void operator()(const GatePassed&) const {}  // Folder keeps passings: they outlive a refolding
  void operator()(const Corrected&) const {}
};

std::optional<Gate> gate_of(const State& state, Did did) {
  switch (did) {
    case Did::shut:
      return {};
    case Did::cut:
      return Gate::cut;
    case Did::put_back:
      return Gate::put_back;
    case Did::undone:
    case Did::opened:
      break;
  }
  if (!state.cut()) return {};  // undoing before a cut is free
  return Gate::open_after_cut;
}

/// Goes through the log once. A correction folds what came before it anew, so that each act is held
/// against what was known when it was done.
class Folder {
 public:
  explicit Folder(const Log& log) : log_(log) {}

  State run() {
    const auto& events = log_.events();
    if (!events.empty()) state_.job = events.front().job;
    for (at_ = 0; at_ < events.size(); ++at_) {
      const Event& event = events[at_];
      hold_gate(event);
      if (const auto* correction = std::get_if<Corrected>(&event.fact.is)) {
        corrected_[correction->event] = at_;
        again();
      } else {
        apply(event);
      }
    }
    state_.events = events.size();
    note_corrections();
    state_.conflicts = conflicts_in(log_, [&](const Event& event) { return counts(event); });
    return std::move(state_);
  }

 private:
  /// The fact that counts for an event; null where it was taken back.
  const Fact* counts(const Event& event) const {
    const auto found = corrected_.find(event.hash);
    if (found == corrected_.end()) return &event.fact;
    return std::get<Corrected>(log_.events()[found->second].fact.is).instead.get();
  }

  void apply(const Event& event) {
    if (const Fact* fact = counts(event)) std::visit(Applied{state_, stamp_of(event)}, fact->is);
  }

  void again() {
    State fresh;
    fresh.job = state_.job;
    fresh.breaches = std::move(state_.breaches);
    fresh.passings = std::move(state_.passings);
    state_ = std::move(fresh);
    for (std::size_t i = 0; i < at_; ++i) apply(log_.events()[i]);
  }

  /// Holds an act against its gate as things stood before it, and notes what a passing passes.
  void hold_gate(const Event& event) {
    if (const auto* act = std::get_if<Act>(&event.fact.is)) {
      const auto gate = gate_of(state_, act->did);
      if (!gate) return;
      Findings reasons = gate_reasons(state_, *gate, act->about);
      if (!reasons.empty())
        state_.breaches.push_back({*gate, {*act, stamp_of(event)}, std::move(reasons)});
    } else if (const auto* passed = std::get_if<GatePassed>(&event.fact.is)) {
      state_.passings.push_back({{*passed, stamp_of(event)}, gate_reasons(state_, passed->gate)});
    }
  }

  void note_corrections() {
    for (const Event& event : log_.events()) {
      const auto* correction = std::get_if<Corrected>(&event.fact.is);
      if (correction == nullptr) continue;
      const auto target = log_.find(correction->event);
      state_.corrections.push_back(
          {target ? std::string(kind_of(log_.events()[*target].fact.is)) : "",
           {*correction, stamp_of(event)}});
    }
  }

  const Log& log_;
  State state_;
  std::size_t at_ = 0;
  std::unordered_map<Hash, std::size_t> corrected_;  ///< event -> position of its last correction
};

}  // namespace

bool StepState::behind() const {
  return answer &&
         (answer->what.answer == Answer::yes || answer->what.answer == Answer::not_needed);
}

bool ShutoffState::shut() const { return !acts.empty() && acts.back().what.did == Did::shut; }

bool State::cut() const {
  return std::ranges::any_of(acts, [](const Said<Act>& act) { return act.what.did == Did::cut; });
}

const ShutoffState* State::shutoff(const std::string& letter) const {
  const auto found = std::ranges::find(shutoffs, letter, &ShutoffState::letter);
  return found == shutoffs.end() ? nullptr : &*found;
}

State fold(const Log& log) { return Folder(log).run(); }

Findings reasons_against(const State& state, Did did, const std::string& about) {
  const auto gate = gate_of(state, did);
  return gate ? gate_reasons(state, *gate, about) : Findings{};
}

}  // namespace bellhole::job
