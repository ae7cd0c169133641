// An event: one thing that happened on a job, as it was recorded, once and for good. The log of a
// job is the set of its events; everything else (state, sheets, audit) is read from it.
//
// An event is never edited: a correction is an event of its own. Each device chains its events
// (sequence, previous) and each event names the heads of other devices that it had seen, so that
// "before" has a meaning that does not lean on clocks. The hash of an event is the SHA-256 of its
// exact bytes (wire/event.hpp); it is handed in here, never computed.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "findings/trouble.hpp"
#include "job/clock.hpp"
#include "plan/step.hpp"
#include "procedure/date.hpp"
#include "squeeze/sheet.hpp"
#include "units/quantity.hpp"

namespace bellhole::job {

/// Lower-case hex SHA-256; empty: none.
using Hash = std::string;

/// Who the record has the fact from.
enum class Source : std::uint8_t {
  tapped,    ///< a tap at the moment itself
  typed,     ///< entered by a person, perhaps later
  sensor,    ///< read from an instrument by the device
  imported,  ///< taken from another record
};
std::string_view to_string(Source source);

enum class Work : std::uint8_t { planned, emergency, drill };
std::string_view to_string(Work work);

/// What is done to a shut-off or to the main.
enum class Did : std::uint8_t {
  shut,      ///< a shut-off was closed: squeezed, turned, placed. Never blocked
  undone,    ///< it was opened again before anything was cut. Never blocked
  cut,       ///< the main was cut or tapped: a gate stands before it
  opened,    ///< a shut-off was opened after the cut: a gate stands before it
  put_back,  ///< gas goes back to customers: a gate stands before it
};
std::string_view to_string(Did did);

enum class Gate : std::uint8_t { cut, open_after_cut, put_back };
std::string_view to_string(Gate gate);

enum class Answer : std::uint8_t { yes, no, not_needed, unknown };
std::string_view to_string(Answer answer);

/// What an instrument's scale shows. A reading on another scale is another thing.
enum class Scale : std::uint8_t {
  gauge,     ///< pressure over the air's
  absolute,  ///< pressure over nothing
  temperature,
  gas,  ///< percent gas by volume
  lel,  ///< percent of the lower explosive limit
};
std::string_view to_string(Scale scale);

struct Opened {
  std::string title, place, work_order;
  Work work = Work::planned;
  std::optional<double> lon, lat;
};

/// A shut-off as the plan has it, with the pipe as the map has it.
struct PlannedShutoff {
  std::string letter, kind, element, place;
  std::optional<squeeze::Question> mapped;  ///< of a squeeze
  std::optional<double> lon, lat;
  Length station;  ///< along `element`, from its `from` node; nan: not known
};

/// A plan is on the table: from now on its steps and prompts wait for answers.
struct Planned {
  std::string plan_id, engine, network, procedure;
  Hash result;  ///< of the plan document
  std::int64_t rank = 1;
  std::vector<plan::Step> steps;
  std::vector<PlannedShutoff> shutoffs;
  std::vector<std::string> prompts;
  std::vector<std::string> meters;  ///< ids of the customers that lose gas
};

/// A person takes a plan on, by name: after a pipe was found that is not the map's, gates wait for
/// this.
struct PlanAccepted {
  std::string plan_id, engine, because;
  Hash result;
};

struct PipeFound {
  std::string about;  ///< letter of the shut-off, or a place
  squeeze::Question found;
  std::string says;  ///< the pipe as typed: "IPS 4 DR 11.5 PE2708"
  std::string print_line, map_said;
  std::vector<Hash> photos;
};

struct Joined {
  std::string person, role;
};
struct Left {
  std::string person;
};
struct Qualified {
  std::string person, task;
  procedure::Days expires;
};
struct Instrument {
  std::string id, range, read_to;
  Scale scale = Scale::gauge;
  std::optional<procedure::Days> due;  ///< of the next calibration
};
struct Kit {
  std::string item, id, says;
  Answer answer = Answer::unknown;
  std::optional<procedure::Days> due;  ///< of the next inspection
};
struct Prompt {
  std::string says;
  Answer answer = Answer::unknown;
};
struct StepAnswer {
  std::string step, second, says;
  Answer answer = Answer::unknown;
};
struct Reading {
  std::string point, step, instrument, typed;
  Scale scale = Scale::gauge;
  double si = 0.0;  ///< Pa gauge, Pa absolute, K, or a fraction
};
/// One measured point of the squeeze bars.
struct Bars {
  std::string about;
  Length gap;
  std::optional<GaugePressure> pump;
};
struct Act {
  Did did = Did::shut;
  std::string about, second, says;
};
/// A gate is passed although it is not clear: by a named reason and a second person.
struct GatePassed {
  Gate gate = Gate::cut;
  std::string reason, second;
};
struct Signed {
  std::string what;  ///< "prepared", "checked", "authorised", "control agreed", "briefed", …
};
struct HandedOver {
  std::string from, to, says;
};

/// A pressure test: what 49 CFR 192.517(a) lists, and the instrument.
struct Tested {
  std::string section, medium, instrument, company, employee, elevation, leaks;
  std::optional<Moment> began, ended;
  std::optional<GaugePressure> at_start, at_end;
  Answer held = Answer::unknown;
};
struct Purged {
  std::string section, direction, medium, vent, detector, at_vent;
  std::optional<Volume> volume;
  std::optional<Fraction> reading_1, reading_2;  ///< gas by volume, the last two
  std::optional<Moment> began, ended;
};
struct Meter {
  std::string meter, says;
  enum class Did : std::uint8_t { off, on, not_home } did = Did::off;
};
std::string_view to_string(Meter::Did did);

/// Something that stays in the ground, with tapes to fixed points.
struct Laid {
  std::string about, what, says;  ///< "squeeze", "joint", "fitting", "valve"
  struct Offset {
    std::string from;
    Length distance;
  };
  std::vector<Offset> offsets;
  std::optional<Length> depth;
  std::string element;            ///< main that it lies on
  std::optional<Length> station;  ///< along it
  std::optional<double> lon, lat;
  Answer marked = Answer::unknown;  ///< a permanent mark is on the pipe
};

/// What Bellhole answered, by hash: a result is recorded, never computed again.
struct ResultRecorded {
  std::string question, engine, verdict;
  Hash request, result;
};
struct Photo {
  Hash blob;
  std::string view, about;
};
struct Note {
  std::string says;
};
struct Closed {
  std::string says;
};
/// Written by a later version: kept, counted, not understood.
struct Unknown {
  std::string kind;
};

struct Fact;
/// Another event is not as it was: this fact stands instead, or (without one) nothing does.
struct Corrected {
  Hash event;
  std::string because;
  std::shared_ptr<const Fact> instead;
};

using AnyFact =
    std::variant<Opened, Planned, PlanAccepted, PipeFound, Joined, Left, Qualified, Instrument, Kit,
                 Prompt, StepAnswer, Reading, Bars, Act, GatePassed, Signed, HandedOver, Tested,
                 Purged, Meter, Laid, ResultRecorded, Photo, Note, Closed, Corrected, Unknown>;
struct Fact {
  AnyFact is;
};

/// The word of a fact in documents ("pipe_found").
std::string_view kind_of(const AnyFact& fact);

struct Event {
  Hash hash;
  std::string id;   ///< UUID of version 7
  std::string job;  ///< UUID of version 7
  std::string device;
  std::int64_t sequence = 0;  ///< of this device in this job: 1, 2, 3, …
  Hash previous;              ///< of the same device; empty for its first
  std::vector<Hash> seen;     ///< heads of other devices when it was entered
  Moment happened_at, entered_at;
  std::string boot;    ///< changes whenever `monotonic` begins anew
  Duration monotonic;  ///< since then, when it was entered; runs on when the wall clock is set
  std::string by;      ///< id of a person; empty: nobody was named
  Source source = Source::typed;
  Fact fact;
  bool sealed = true;  ///< its bytes are those that were hashed
};

}  // namespace bellhole::job
