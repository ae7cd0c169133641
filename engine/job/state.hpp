// The state of a job: its log, folded. It holds what was said last of each thing and by whom, and
// what contradicts itself; it computes nothing of gas.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "findings/finding.hpp"
#include "job/log.hpp"

namespace bellhole::job {

/// Who recorded it, when and how.
struct Stamp {
  Moment happened_at, entered_at;
  std::string by, device;
  Source source = Source::typed;
  Hash event;
};

template <class T>
struct Said {
  T what;
  Stamp stamp;
};

struct StepState {
  plan::Step step;
  std::optional<Said<StepAnswer>> answer;
  [[nodiscard]] bool behind() const;  ///< answered yes, or not needed
};

/// A shut-off of the plan, or one that somebody only spoke of.
struct ShutoffState {
  std::string letter;
  std::optional<PlannedShutoff> planned;
  std::optional<Said<PipeFound>> found;
  std::vector<Said<Bars>> bars;
  std::vector<Said<Act>> acts;
  [[nodiscard]] bool shut() const;  ///< the last thing that was done to it was to shut it
};

struct PromptState {
  std::string says;
  std::optional<Said<Prompt>> answer;
};

struct PersonState {
  std::string id;
  std::vector<Said<Joined>> roles;
  std::optional<Said<Left>> left;
  std::vector<Said<Qualified>> qualifications;
  std::vector<Said<Signed>> signs;
};

/// Two or more devices said different things of the same without knowing of each other. `used` is
/// the one that stands last in the log's order; nobody chose it.
struct Conflict {
  std::string about;
  struct Side {
    std::string says;
    Stamp stamp;
  };
  std::vector<Side> sides;
  std::string used;
};

/// What was corrected: the event stays in the log, the fact no longer counts.
struct Correction {
  std::string kind;  ///< of the corrected event; empty: it is not in the log
  Said<Corrected> said;
};

/// A thing was done before which a gate stands, and the gate was neither clear nor passed.
struct Breach {
  Gate gate = Gate::cut;
  Said<Act> act;
  Findings reasons;
};

/// A gate was passed by a named reason and a second person.
struct Passing {
  Said<GatePassed> said;
  Findings reasons;  ///< those that stood then: these are passed, later ones are not
};

struct State {
  std::string job;
  std::optional<Said<Opened>> opened;
  std::optional<Said<Closed>> closed;
  std::optional<Said<Planned>> plan;
  std::optional<Said<PlanAccepted>> accepted;
  std::vector<StepState> steps;
  std::vector<ShutoffState> shutoffs;
  std::vector<PromptState> prompts;
  std::vector<PersonState> people;
  std::map<std::string, Said<Instrument>> instruments;
  std::vector<Said<Kit>> kit;
  std::vector<Said<Reading>> readings;
  std::vector<Said<Act>> acts;
  std::vector<Said<HandedOver>> handovers;
  std::vector<Said<Tested>> tests;
  std::vector<Said<Purged>> purges;
  std::map<std::string, std::vector<Said<Meter>>> meters;  ///< by id, all visits
  std::vector<Said<Laid>> laid;
  std::vector<Said<ResultRecorded>> results;
  std::vector<Said<Photo>> photos;
  std::vector<Said<Note>> notes;
  std::vector<Correction> corrections;
  std::vector<Said<Unknown>> unknown;
  std::vector<Conflict> conflicts;
  std::vector<Breach> breaches;
  std::vector<Passing> passings;
  std::optional<Said<PipeFound>> found_since;  ///< a pipe that is not the map's, found after a plan
                                               ///< was last accepted
  std::size_t events = 0;

  [[nodiscard]] bool cut() const;
  [[nodiscard]] const ShutoffState* shutoff(const std::string& letter) const;
};

/// Folds a log. The same set of events gives the same state.
State fold(const Log& log);

/// What stands between now and an act; empty: nothing found against it. Shutting is never blocked,
/// nor is opening again before anything was cut: both answer empty, always.
Findings reasons_against(const State& state, Did did, const std::string& about);

/// The same for a gate as a whole.
Findings gate_reasons(const State& state, Gate gate, const std::string& about = "");

/// The pipe that was found differs from the pipe on the map, in words; empty where it does not, or
/// where the map says nothing of it.
std::string differs(const squeeze::Question& mapped, const squeeze::Question& found);

/// "IPS 4 DR 11.5 PE2708".
std::string pipe_words(const squeeze::Question& pipe);

}  // namespace bellhole::job
