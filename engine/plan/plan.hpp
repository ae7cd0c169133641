// Shut-off plans for a place of work: where to shut, who loses gas, whether the rest holds, what
// stands on the part, what to do if a shut-off fails, and how sure it is that nothing better
// exists.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "findings/finding.hpp"
#include "network/steady.hpp"
#include "plan/hole.hpp"
#include "plan/isolated.hpp"
#include "plan/kit.hpp"
#include "plan/search.hpp"
#include "plan/step.hpp"
#include "plan/work.hpp"
#include "procedure/profile.hpp"
#include "squeeze/sheet.hpp"

namespace bellhole::plan {

/// A distance that a crew can tape, from something that stays where it is.
struct Offset {
  std::string from;  ///< "hydrant H-31", "node N-4 along the main"
  Length distance;
  std::string toward;  ///< compass word from there to the shut-off: "NE"; empty along the main
  network::Index fixed_point = network::none;
};

/// Another main within reach of the dig.
struct Nearby {
  network::Index pipe = network::none;
  Length distance;
};

/// What to do when a shut-off cannot be made to hold.
struct Fallback {
  std::optional<Length> spare_station;  ///< squeeze: a further place in the same window
  std::vector<std::size_t> places;      ///< shut these instead (indices of Places::places)
  std::int64_t adds_customers = 0;
  bool exists = false;
};

/// A squeeze assessed on the pipe as the map has it.
struct SqueezeSheet {
  squeeze::Question asked;
  std::optional<squeeze::Sheet> sheet;  ///< nothing: no such pipe is made, as `findings` say
  Findings findings;
  std::optional<std::size_t> tool;  ///< in Question::kit; nothing: no tool is given
};

struct Shutoff {
  std::string letter;  ///< "A", "B" … in the order of work
  Place place;
  network::Point point;
  network::Degrees degrees;    ///< nan where the network has none
  GaugePressure pressure_now;  ///< at the place before anything is shut; nan: not known
  std::vector<Offset> offsets;
  std::vector<Nearby> nearby;
  Fallback fallback;
  std::optional<SqueezeSheet> sheet;  ///< of a squeeze
  Findings findings;
};

struct Pressure {
  network::Extreme extreme;
  network::Index tier = network::none;
};

struct ShutoffPlan {
  std::vector<Shutoff> shutoffs;
  std::vector<CustomerOut> out;
  std::int64_t must_not_lose = 0;
  std::int64_t cost_crew_s = 0;
  std::optional<Duration> time_to_stop;  ///< nothing where the profile sets no times
  std::optional<Pressure> lowest;        ///< nearest to its limit at the high load
  std::optional<Pressure> highest;       ///< nearest to its limit at the low load
  std::optional<network::LimitTemperature> limit_temperature;
  network::Outcome outcome = network::Outcome::solved;
  Isolated isolated;
  KitAnswer kit;
  Hole hole;
  StepList steps;  ///< empty where the question gives no order
  std::string why, beats_next;
  Findings findings;
};

struct Order;

/// What holds from a moment on, in a plan of the front.
struct FrontStage {
  Duration holds_at;                ///< from the order
  std::vector<std::size_t> shut;    ///< places shut for it (indices of Places::places)
  std::vector<std::size_t> opened;  ///< places of the stage before that are opened when it holds
  std::vector<network::Index> out;  ///< customers without gas while it stands, ascending
};

struct FrontPlan {
  ShutoffPlan
      plan;  ///< shut-offs with their fallbacks, who is out, the part, time to stop, findings
  std::vector<FrontStage> stages;   ///< the plan itself, then the one with the fewest out
  std::optional<std::size_t> rank;  ///< the same places as Answer::plans[rank]
};

struct FrontProof {
  bool complete = true;  ///< every plan that belongs on the front is on it
  std::int64_t examined = 0, solved = 0;
};

/// An emergency's plans by time to stop, the fastest first; none beats another in both.
struct Front {
  std::vector<FrontPlan> plans;
  FrontProof proof;
  Findings findings;
};

struct Answer {
  std::vector<ShutoffPlan> plans;  ///< by rank
  std::optional<Front> front;      ///< of an emergency
  Places places;
  network::SteadyState before;  ///< high load, nothing shut
  SearchProof proof;
  Findings findings;  ///< of the whole answer, not of one plan
  std::vector<std::string> assumed;
};

struct Question {
  const network::Model& model;
  const procedure::Profile& profile;
  const Work& work;
  Kind kind = Kind::planned;
  network::Scenario conditions;  ///< air temperature and hour; its load is not read
  double today_year = 0.0;       ///< 2026.9; nan: not given
  std::size_t plans = 3;
  std::int64_t crews = 1;
  bool limit_temperature = true;  ///< also look for the temperature down to which each plan holds
  units::System system = units::System::us;
  const squeeze::Kit* kit = nullptr;  ///< what the company owns; nothing: not given
  std::optional<Temperature> pipe_temperature = {};
  std::vector<HandPlaced> placed = {};
  const Order* order = nullptr;     ///< of the steps; nothing: no steps are made
  std::optional<bool> bypass = {};  ///< to be made or not; missing: as the order says
};

/// Errors: out_of_range (plans or crews below 1), cancelled, and those of the network's solution.
/// That no plan exists is a halt finding, not an error.
Result<Answer> plan(const Question& question, Watch& watch);

}  // namespace bellhole::plan
