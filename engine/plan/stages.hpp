// The network between two closings: what every state that a plan passes through does to pressures,
// regulators and customers. A plan that ends well can pass through a state that does not.
//
// Each state is solved at the expected load (what a gauge should show), at the high load (lowest
// pressures, who falls short) and at the low load (highest pressures). In planned work the
// customers on the part draw nothing once anything is shut: their meters are shut before. In an
// emergency they draw.
//
// This is the one place that speaks of regulators in a plan. Rules, each finding with the state
// that it holds in, the station and the post:
//   plan.sensing          a shut-off parts or starves a sensing point; where one is not known
//   plan.regulator_inlet  a station loses its inlet, and what then flows backwards
//   plan.lock_up          an outlet is shut in: set point x (1 + lock-up), and creep beyond it
//   plan.reset            a device that a hand must reset when gas comes back
//   plan.left_alone       one feed carries what more carried before
//   plan.left_sharing     regulators are left to share what a third helped to carry
//   plan.at_capacity      a station gives all it can in this state and did not before
//   plan.over_maop        a pressure above a tier's MAOP, anywhere
//   plan.over_relief      an outlet above the set point of its relief
//   plan.no_return        a closing whose undoing takes longer than the gas lasts (undo.hpp)
//   plan.stage_short      a customer who is to stay on falls short in this state
#pragma once

#include <map>
#include <memory>
#include <span>
#include <string>
#include <vector>

#include "findings/watch.hpp"
#include "plan/outset.hpp"
#include "plan/plan.hpp"
#include "plan/step.hpp"

namespace bellhole::plan {

/// Which shut-off goes first, and why. `order` holds indices into ShutoffPlan::shutoffs.
struct ClosingOrder {
  std::vector<std::size_t> order;
  std::string because;  ///< "B first: …"; empty for a single shut-off
  /// After each closing, the share of the gas that would still reach an open end at the work
  /// (outset.hpp). Missing where that cannot be told.
  std::vector<std::optional<Fraction>> gas_left;
};

/// The states of one plan. Solves each set of shut places once, whatever is asked of it.
/// Each is solved from nothing, so that what is said of it does not hang on the order of asking:
/// stations that feel each other's work can stand in more than one state.
/// `outset` and `plan` (its shut-offs, who is out and the part must be filled in) must outlive it.
class Stages {
 public:
  Stages(Outset& outset, const ShutoffPlan& plan);
  ~Stages();

  /// What is known of each state asked for, in the order asked. Pressures in the order of `points`.
  /// Every finding of a state stands with it, also where the state before had it already.
  /// Errors: cancelled, out_of_range (no such shut-off), and those of Model::solve.
  Result<std::vector<StageNumbers>> numbers(std::span<const GaugePoint> points,
                                            std::span<const StageAsk> asks, Watch& watch);

  /// Shut-offs that need no hole first, then the others. Of these the first is the one after which
  /// alone the fewest who are to stay on fall short, then the one that leaves the least gas to an
  /// open end at the work, then the one that is ready soonest; the rest follow by the same
  /// measures. Errors: as numbers().
  Result<ClosingOrder> closing_order(Watch& watch);

  /// The states that closing in this order and opening the other way round pass through: nothing
  /// shut, each closing, each opening.
  static std::vector<StageAsk> asks_of(const std::vector<std::size_t>& closing);

 private:
  struct Solved;
  struct Inside;
  Result<const StageState*> solved(std::vector<std::size_t> shut, bool all_loads);
  Result<const StageState*> previous(const StageAsk& ask);
  Result<std::optional<Fraction>> gas_left(std::vector<std::size_t> shut);

  std::unique_ptr<Inside> inside_;
};

/// Of the findings of all states each once, where it first holds, the worst of its kind.
Findings first_of_each(std::span<const StageNumbers> numbers);

}  // namespace bellhole::plan
