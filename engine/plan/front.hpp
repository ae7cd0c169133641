// The front of an emergency: minutes until the gas is stopped against customers out. A plan is on
// it when no other stops the gas as soon and puts no more out. Customers count in the plan's own
// order: those who must not lose gas first, then how many.
//
// How it is searched. Every cut (isolate/cuts.hpp) has a sum of times S, which no crews can do
// faster than S / crews, and customers lost L, which hydraulics can only raise. Cuts are
// enumerated in rising a S + b L with whole weights, three times:
//   fewest    b beyond any S: until L passes the fewest customers found;
//   fastest   b = 0, without places that take as long as the fastest plan found: until S / crews
//             passes its time;
//   between   weights that put the two ends level, without places that take as long as the plan
//   with
//             the fewest: until a crews T + b N of every corner of the staircase of plans
//             found (the time of one, the customers of the one before it) is passed.
// A cut is solved only where its own time and L are not already beaten. What is not enumerated then
// has a S + b L at least the bound, so a crews T + b N at least the bound, and lies on no place
// below the staircase: the front is complete. A search that stops at its limit says so.
//
// Staged plans. While the plan that stops the gas stands, the same crews go on to the shut-offs of
// the plan with the fewest customers; when those hold, the first ones are opened again and whoever
// lies between comes back. Two stages at most; the times of the second are those of the crews that
// did the first.
#pragma once

#include "findings/watch.hpp"
#include "plan/outset.hpp"
#include "plan/plan.hpp"

namespace bellhole::plan {

struct FrontLimits {
  std::int64_t solves = 400;   ///< networks solved
  std::int64_t cuts = 20'000;  ///< cuts looked at in each enumeration
};

/// Errors: cancelled, and those of Model::solve and of the cut search. Where times are not set the
/// front is empty or leaves those places out, and an undecided finding (plan.front_times) says so;
/// a front that is not shown to be complete is a warning (plan.front_limit).
Result<Front> front_of(Outset& outset, const Places& places, Watch& watch,
                       const FrontLimits& limits = {});

}  // namespace bellhole::plan
