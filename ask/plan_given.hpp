// A plan that a request goes on from.
#pragma once

#include "ask/questions.hpp"
#include "network/steady.hpp"
#include "wire/plan_given.hpp"

namespace bellhole::ask {

struct PlanGiven {
  wire::PlanReply reply;
  std::size_t at = 0;  ///< which of its plans
  [[nodiscard]] const wire::GivenPlan& plan() const { return reply.plans[at]; }
};

/// The plan under "plan" (a hash, or the reply of the question plan), of which "rank" names one;
/// missing: the first, and that is said. Nothing where the request gives none. Errors:
/// contradiction where it was made for another network, or where "rank" stands without a plan;
/// unknown_element for a rank that the document has not; those of wire::read_plan_reply.
Result<std::optional<PlanGiven>> plan_given(const Question& question, const std::string& network);

/// Shuts one shut-off of a plan in a scenario. Errors: unknown_element.
Result<bool> shut(const network::Network& network, const wire::GivenShutoff& shutoff,
                  network::Scenario& scenario);

}  // namespace bellhole::ask
