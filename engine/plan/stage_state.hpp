// One state of the network between two closings, solved, and what the rules of a stage look at.
//
// Internal to plan/.
#pragma once

#include <string>
#include <vector>

#include "plan/plan.hpp"
#include "plan/regions.hpp"
#include "plan/step.hpp"

namespace bellhole::plan {

struct StageState {
  network::Scenario scenario;  ///< its load is not read
  network::SteadyState expected, high, low;
  Regions regions;
};

/// Everything that a finding of one stage may need.
struct StageView {
  const Question& question;
  const ShutoffPlan& plan;
  const StageState& first;  ///< nothing shut
  const StageState& now;
  const StageAsk& ask;
};

/// "with A and B shut", "with nothing shut".
std::string state_words(const ShutoffPlan& plan, const StageAsk& ask);

/// "before B is shut", "before A is opened again".
std::string before_words(const ShutoffPlan& plan, const StageAsk& ask);

/// Name of a station for people: "East station (REG-E)", "regulator REG-7".
std::string station_words(const network::Network& network, std::size_t regulator);

/// One per customer, 1: the plan has it lose its gas.
std::vector<std::uint8_t> planned_out(const Question& question, const ShutoffPlan& plan);

/// Findings of one state (rules: stages.hpp), and the stations that need a person in it: first
/// about the stations themselves, then about the rest of the network.
Findings station_findings(const StageView& view, std::vector<network::Index>& watch);
Findings rest_findings(const StageView& view, std::vector<network::Index>& watch);

}  // namespace bellhole::plan
