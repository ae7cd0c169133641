// How much gas would reach the work if the main stood open there: what is left after the first of
// two closings, in one number that a crew can use.
//
// The open end is laid into the network as one more draw at the work: as much as leaves two full
// bores at the speed of sound at line pressure, falling off with the pressure at the place as the
// draw of any customer does (network/steady.hpp). It tells shares, "about a third still comes",
// not what escapes from a break.
#pragma once

#include <memory>
#include <optional>

#include "plan/plan.hpp"

namespace bellhole::plan {

class OpenEnd {
 public:
  /// Nothing where no pressure or no bore is known at the work. Errors: those of Model::prepare.
  static Result<std::optional<OpenEnd>> at_work(const Question& question,
                                                const network::SteadyState& before);

  /// Standard flow to the open end with a scenario's places shut, at the expected load. Errors: as
  /// Model::solve.
  [[nodiscard]] Result<StdFlow> flow(network::Scenario scenario) const;

 private:
  explicit OpenEnd(std::unique_ptr<network::Network> network, network::Model model)
      : network_(std::move(network)), model_(std::move(model)) {}

  std::unique_ptr<network::Network> network_;  ///< with the open end as its last customer
  network::Model model_;
};

}  // namespace bellhole::plan
