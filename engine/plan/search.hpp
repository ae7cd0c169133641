// The best plans, in a proven order: cuts in rising cost, each held against the hydraulics of what
// remains.
//
// Two plans are different when they shut different mains, valves or stations; of all places along
// the same elements the best is taken. The cost of a cut bounds the cost of its plan from below
// (customers who fall short can only add), so the search ends when the next cut costs more than the
// last plan wanted.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "plan/evaluate.hpp"

namespace bellhole::plan {

struct Candidate {
  isolate::Cut cut;
  Evaluation evaluation;
  std::int64_t emptied_mm =
      0;  ///< length of main that loses its gas; whole, so that order is the same everywhere
};

struct SearchProof {
  bool optimal = true;        ///< no plan that is not listed costs less than the last one listed
  std::int64_t examined = 0;  ///< cuts looked at
  std::int64_t solved = 0;    ///< of them, networks solved
  isolate::Cost bound = 0;    ///< no plan that is not listed costs less than this
};

struct Search {
  /// Rising total; at equal totals the one that empties less main first. Every plan that ties with
  /// the last is listed too.
  std::vector<Candidate> best;
  SearchProof proof;
  std::optional<isolate::Blocked> blocked;  ///< set when no place at all parts the work from gas
  bool already_off = false;                 ///< no source reaches the work as the network stands
};

struct SearchLimits {
  std::size_t plans = 3;      ///< how many are wanted
  std::int64_t solves = 400;  ///< networks solved at the most; beyond it the gap is said
};

/// `before` as for evaluate(). Errors: cancelled, and those of Model::solve.
Result<Search> search(const network::Model& model, const Places& places,
                      const network::Scenario& base,
                      const std::vector<isolate::Cost>& customer_cost,
                      const network::SteadyState& before, const SearchLimits& limits, Watch& watch);

}  // namespace bellhole::plan
