// What a plan's way back takes, in numbers: the test of the new pipe, its joints, the way of the
// purge, the excess-flow valves. Each is an answer of its own question with what the map says; each
// is asked again with the pipe found, the machine and the gauges that are there on the day.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "plan/purge_path.hpp"
#include "restore/join.hpp"
#include "restore/pressure_test.hpp"

namespace bellhole::plan {

struct PutBack {
  Part part;
  std::optional<restore::Tested> test;  ///< missing: the map does not say what the main is
  std::optional<restore::Joined> join;
  PurgePath purge;  ///< the network is not asked whether it holds: the question purge does
  std::vector<network::Index> valves, not_known;  ///< excess-flow valves of the part's services
  std::vector<std::string> decide;  ///< what stands open behind the test and the joints
  /// Lines for the steps of a kind: "90.0 psig to 190 psig for 2 h, ends capped or blanked".
  std::vector<std::pair<StepKind, std::string>> lines;
};

/// Errors: those of purge_path.
Result<PutBack> put_back(const Question& question, const ShutoffPlan& plan);

}  // namespace bellhole::plan
