// The town before anything is shut: what every plan of one question begins with, solved once.
//
// How much gas would reach the work if the main stood open there is laid into the network as one
// more draw at the work: as much as leaves two full bores at the speed of sound at line pressure,
// falling off with the pressure at the place as the draw of any customer does
// (network/steady.hpp). It tells shares, "about a third still comes", what is left after the first
// of two closings, in one number that a crew can use; not what escapes from a break.
#pragma once

#include <memory>
#include <optional>

#include "plan/stage_state.hpp"

namespace bellhole::plan {

/// Solves when first asked and keeps the answer. `question` and `before` (high load, nothing shut)
/// must outlive it.
class Outset {
 public:
  Outset(const Question& question, const network::SteadyState& before);
  ~Outset();

  [[nodiscard]] const Question& question() const { return question_; }
  [[nodiscard]] const network::SteadyState& before() const { return before_; }

  /// Nothing shut, at all three loads. Errors: as Model::solve.
  Result<const StageState*> state();

  /// Standard flow to the open end with a scenario's places shut, at the expected load; nothing
  /// where no pressure or no bore is known at the work. Errors: those of Model::prepare and of
  /// Model::solve.
  Result<std::optional<StdFlow>> to_open_end(const network::Scenario& scenario);

  /// The same with nothing shut.
  Result<std::optional<StdFlow>> to_open_end();

 private:
  struct OpenEnd;
  Result<const OpenEnd*> open_end();

  const Question& question_;
  const network::SteadyState& before_;
  std::unique_ptr<StageState> state_;
  std::optional<std::unique_ptr<OpenEnd>> open_end_;  ///< nothing in it: it cannot be told
  std::optional<StdFlow> to_open_end_;
};

}  // namespace bellhole::plan
