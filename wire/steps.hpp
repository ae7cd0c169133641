// Steps in documents: written into a plan, and read back from one that people may have changed.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string_view>
#include <vector>

#include "plan/order.hpp"
#include "plan/step_check.hpp"
#include "wire/json.hpp"

namespace bellhole::wire {

/// Puts order, posts, gauge_points and steps into one plan of a reply.
void put_steps(Json& json, const network::Network& network, const plan::Order& order,
               const plan::ShutoffPlan& plan);

/// One plan of a plan document, as the check of its steps needs it.
struct PlanOnPaper {
  std::int64_t rank = 0;  ///< as the document numbers it
  plan::Checked checked;
};

/// Reads one step as a plan document has it. Errors: as read_plan_document.
Result<plan::Step> read_one_step(const Object& object);

struct PlanDocument {
  std::string plan_id, engine;
  std::vector<PlanOnPaper> plans;
};

/// One plan of it; `position` gives its rank where the document gives none. Errors: as
/// read_plan_document.
Result<PlanOnPaper> read_plan_on_paper(const Object& object, plan::Kind kind, std::size_t position);

/// Reads the reply of the question plan, of this or an older version, for its steps. Keys that the
/// check does not use are passed over. Errors: too_large; unreadable_document and missing_value
/// (naming the place: "plans[0].steps[12].gauges[1].low_pa_gauge"), unreadable_value (a kind that
/// is none). A document without plans, or a plan without steps, is missing_value.
Result<PlanDocument> read_plan_document(std::string_view bytes, std::string_view name);

}  // namespace bellhole::wire
