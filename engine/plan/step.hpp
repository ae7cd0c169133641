// A step of a job, as a contract: what must be true before it, who stands where, what the gauges
// may read, what to do if they do not, whom to tell, and how to get back. A plan is an ordered list
// of steps (steps.hpp makes it, step_check.hpp looks for what breaks it).
//
// Pressures of a step come from the states of the network between two closings. They are computed
// in stages.hpp and handed over as StageNumbers; nothing here solves a network.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "findings/finding.hpp"
#include "linepack/watch.hpp"
#include "network/columns.hpp"
#include "units/quantity.hpp"

namespace bellhole::plan {

/// What a step is, in the trade's words. step_check knows the place of each; words that no check
/// needs are `other`.
enum class StepKind : std::uint8_t {
  clear_area,      ///< people away, nothing that can light gas
  report,          ///< somebody is told, and answers
  identify,        ///< this is the pipe: two people, print line and size
  readings,        ///< gas readings, in the hole or in the buildings around
  dig,             ///< the hole is open and can be left in a hurry
  gauges_on,       ///< gauges fitted, read, steady
  meters_shut,     ///< every meter that loses gas is shut and counted
  bypass_none,     ///< agreed that no bypass is made, with the reason
  bypass_made,     ///< bypass fitted
  bypass_tested,   ///< and leak-tested
  bypass_purged,   ///< and full of gas
  bypass_flowing,  ///< and carrying the load, seen on the gauges
  post,            ///< a person takes a post and answers
  prepare_tool,    ///< the tool's own checks before use
  ground_wet,      ///< earth and wet cloth, in sequence
  set_tool,        ///< tool lowered on to the pipe, centred, square
  shut,            ///< one shut-off: squeeze for PE, shut for a valve
  second_squeeze,  ///< of two with a vent between
  locks_on,        ///< locks carry the load
  hoses_off,       ///< and only then may the pump's hoses come off
  hold_watch,      ///< hold, and watch what the last closing did
  vent_down,       ///< the part between the shut-offs is let down
  let_by_watch,    ///< does anything still pass?
  cut,             ///< the main is cut or tapped
  join,            ///< new pipe is joined
  test,            ///< pressure test, or the record of pre-tested pipe
  tie_in,          ///< last joints
  purge,           ///< air out, gas in
  soap,            ///< every new joint at line pressure
  equalise,        ///< same pressure on both sides of a shut-off
  open,            ///< one shut-off: release for PE, open for a valve
  bypass_off,      ///< bypass shut and taken away
  reround,         ///< pipe made round again
  look,            ///< whitening, tears at the ears, leaks
  mark,            ///< nobody squeezes here again
  reinforce,       ///< where the procedure asks for it
  tracer,          ///< tracer wire rejoined and checked
  relight,         ///< customers back, one by one
  stand_down,      ///< a post is given up
  as_laid,         ///< drawn and measured
  tool_care,       ///< tool cleaned, inspected, stored
  other,
};
inline constexpr std::size_t step_kinds = static_cast<std::size_t>(StepKind::other) + 1;

/// The word of a kind in documents ("let_by_watch"), and back.
std::string_view to_string(StepKind kind);
std::optional<StepKind> step_kind_from(std::string_view word);

/// Somebody who stays somewhere. One post, one person, one place, until stood down.
enum class PostKind : std::uint8_t {
  shutoff,    ///< at a shut-off, with its gauges
  regulator,  ///< at a station that the job can upset, with a hand on its valve
  low_point,  ///< where the pressure has least to spare
  other,
};

struct Post {
  std::string id;  ///< "P2"
  PostKind kind = PostKind::other;
  std::string role;     ///< "regulator watcher"
  std::string place;    ///< "regulator REG-E, East station"
  std::string element;  ///< letter of a shut-off, id of a regulator, node or customer
  std::string why;      ///< why somebody must stand there
};

/// Where a gauge is read. One list a plan; every step's gauges name points of it.
enum class PointKind : std::uint8_t {
  live_side,         ///< of a shut-off, the side that keeps its gas
  part_side,         ///< of a shut-off, the side that is to lose it
  regulator_inlet,   ///< of a station near the part
  regulator_outlet,  ///< of a station near the part
  low_point,         ///< where a tier that the job touches has least to spare
};

struct GaugePoint {
  std::string id;  ///< "A-live", "REG-E-out", "low-feeder"
  PointKind kind = PointKind::live_side;
  std::string at;                            ///< in words, for people
  std::optional<std::size_t> shutoff;        ///< index into ShutoffPlan::shutoffs
  network::Index regulator = network::none;  ///< of a regulator's point
  network::Index node = network::none;       ///< read at a node …
  network::Index pipe = network::none;       ///< … or along a main …
  Length station;                            ///< … at this station …
  int toward = 0;                           ///< … of a shut main: -1 on its `from` side, +1 on `to`
  network::Index customer = network::none;  ///< the customer who has least to spare
  network::Index tier = network::none;      ///< whose limits hold here
  std::string post;                         ///< id of the post that reads it
};

/// A gauge in one step. A missing value cannot be told: it is a finding and null in documents.
struct Gauge {
  std::string point;                                       ///< id of a GaugePoint
  std::string at;                                          ///< in words
  std::optional<GaugePressure> range;                      ///< top of the instrument's scale
  std::optional<GaugePressure> expect;                     ///< at the expected load
  std::optional<GaugePressure> expect_least, expect_most;  ///< over low, expected and high load
  std::optional<GaugePressure> low, high;                  ///< limits
  std::optional<Duration> every;                           ///< missing: without a break
  std::string to;                                          ///< who is told the reading
  std::string post;                                        ///< id of the post that reads it
};

/// A row of a record that a step draws in: what the tool's own maker asks at this moment.
struct ToolRow {
  std::string tool;  ///< id of the tool
  std::string says;
  std::string source;
};

/// How long the gauge of a hold point must be watched before its needle means anything
/// (step_watch.hpp).
struct StepWatch {
  linepack::Asks asks = linepack::Asks::fed_elsewhere;
  Volume volume;                           ///< of the part
  std::optional<GaugePressure> pressure;   ///< that it stands at
  linepack::Draw draw;                     ///< from the part, while it is watched
  std::optional<PressureDifference> step;  ///< of the gauge
  std::optional<Duration> least;           ///< missing: cannot be told, or no time is enough
  std::optional<Duration> left;            ///< of gas, at the high draw
  std::string says;                        ///< names the question
  std::vector<std::string> not_concluded, assumed;
};

struct Step {
  std::string id;  ///< unique in a plan and the same after a reorder: "squeeze-A"
  StepKind kind = StepKind::other;
  std::string does;                ///< one instruction, verb first
  std::string precondition;        ///< what must be true, in words
  std::vector<std::string> after;  ///< ids of steps that must be behind it
  std::string post, role, place;  ///< who does it, where; `post` names a Post, or a crew that moves
  std::string about;              ///< letter of a shut-off, id of a regulator; empty: the job
  std::vector<Gauge> gauges;
  std::string if_not;                 ///< what to do when it does not come out
  std::string report_to;              ///< who hears it
  std::optional<Duration> undo;       ///< to be back where the step before ended
  std::optional<Duration> time_left;  ///< until the gas of somebody who stays on runs short
  bool point_of_no_return = false;  ///< undo takes longer than the gas lasts, or nothing undoes it
  bool hold_point = false;          ///< nobody goes on before a person answers for it
  int names_needed = 0;             ///< signatures: 0, 1 or 2
  std::optional<Fraction>
      gas_left;  ///< after a closing: share of the gas that still reaches the part
  std::optional<StepWatch> watch;
  std::vector<ToolRow> tool_rows;
  std::string source;  ///< of the order that asks for it
  Evidence evidence = Evidence::common_practice;
  std::optional<std::size_t>
      stage;  ///< the network's state when the step is done, in the asks' order
  Findings findings;
};

/// A state of the network between two steps: these are shut. Asked for by steps.hpp, answered by
/// stages.hpp in the same order.
struct StageAsk {
  std::vector<std::size_t> shut;  ///< indices into ShutoffPlan::shutoffs, in the order of closing
  std::optional<std::size_t> moved;  ///< the shut-off that was moved to come here
  bool opening = false;              ///< it was opened, not shut
};

/// What is known of that state. Pressures in the order of the gauge points; nan: not known, no gas.
struct StageNumbers {
  std::vector<GaugePressure> expect;                     ///< at the expected load
  std::vector<GaugePressure> at_high_load, at_low_load;  ///< the lowest and the highest to expect
  std::optional<Duration> undo, time_left;
  std::optional<Fraction> gas_left;  ///< where a place has moved: share of the gas that still comes
  std::vector<network::Index> watch;  ///< regulators that this state upsets: each needs a person
  bool point_of_no_return = false;
  Findings findings;  ///< of this state; they travel with the step
};

/// The steps of one plan and what they lean on.
struct StepList {
  std::vector<Post> posts;
  std::vector<GaugePoint> points;
  std::vector<StageAsk> stages;
  std::vector<std::size_t> closing, opening;  ///< indices into ShutoffPlan::shutoffs
  std::string closing_because;                ///< why the first shut-off is the first
  bool bypass = false;
  std::vector<Step> steps;
  Findings findings;  ///< of the list; those of a step stay with it
};

}  // namespace bellhole::plan
