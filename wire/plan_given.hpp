// A plan that a later question goes on from: the reply of the question plan, read back for its
// shut-offs, who loses gas and the part that loses it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "plan/step_check.hpp"
#include "units/quantity.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

struct GivenShutoff {
  std::string letter;
  std::string kind;               ///< squeeze, valve, regulator_outlet, source_outlet, placed
  std::string element;            ///< id of the main, valve, regulator or source
  std::optional<Length> station;  ///< of a squeeze or what is placed, along its main
  std::optional<bool> two;        ///< of a squeeze: two with a vent between; missing: undecided
  std::optional<Duration> time_to_shut;  ///< from the order, by one crew
};

struct GivenCustomer {
  std::string id;
  std::string cause;  ///< isolated, pocket, short
};

struct GivenPiece {
  std::string pipe;
  Length begin, end;
};

struct GivenPlan {
  std::int64_t rank = 0;
  std::int64_t cost_crew_s = 0, must_not_lose = 0;
  std::vector<GivenShutoff> shutoffs;
  std::vector<std::string> closing, opening;  ///< letters; empty in a plan without steps
  bool bypass = false;                        ///< its steps make one
  std::vector<GivenCustomer> customers_out;
  std::vector<GivenPiece> isolated;
  std::optional<Volume> volume;       ///< of the part that loses its gas
  std::optional<StdVolume> gas_held;  ///< by it, before anything was shut
  plan::Checked checked;              ///< its steps; none in a plan without
};

struct PlanReply {
  std::string plan_id, engine;
  std::string network;  ///< hash
  plan::Kind kind = plan::Kind::planned;
  std::optional<Temperature> air;
  std::optional<double> hour;
  std::int64_t crews = 1;
  std::vector<GivenPiece> work;
  std::vector<GivenPlan> plans;  ///< never empty
};

/// Keys that no question goes on from are passed over. Errors: too_large; unreadable_document,
/// missing_value and unreadable_value, each naming the place: "plans[0].shutoffs[1].kind".
Result<PlanReply> read_plan_reply(std::string_view bytes, std::string_view name);

}  // namespace bellhole::wire
