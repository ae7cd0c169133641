#include "wire/timeline.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "wire/closed.hpp"
#include "wire/relight.hpp"

namespace bellhole::wire {
namespace {

using units::Toward;

Json text_or_null(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

Json hours_json(const std::optional<plan::Hours>& hours) {
  if (!hours) return nullptr;
  return {
      {"shortest", hours->shortest}, {"expected", hours->expected}, {"longest", hours->longest}};
}

Json step_json(const plan::TimelineQuestion& question, const plan::Bar& bar, std::size_t i) {
  const plan::Step& step = question.steps[i];
  Json json;
  json["id"] = step.id;
  json["kind"] = plan::to_string(step.kind);
  json["does"] = text_or_null(step.does);
  json["about"] = text_or_null(step.about);
  json["role"] = text_or_null(step.role);
  json["hold_point"] = step.hold_point;
  json["point_of_no_return"] = step.point_of_no_return;
  json["begins"] = band_json(bar.begins);
  json["ends"] = band_json(bar.ends);
  json["known"] = bar.known;
  json["crew"] = bar.crew > 0 ? Json(bar.crew) : Json(nullptr);
  json["critical"] = bar.critical;
  json["waits_for"] = bar.waits_for ? Json(question.steps[*bar.waits_for].id) : Json(nullptr);
  return json;
}

Json outage_json(const plan::TimelineQuestion& question, const plan::Outage& outage) {
  const restore::Meter& meter = question.out[outage.customer].meter;
  Json json;
  json["id"] = meter.id;
  json["street"] = text_or_null(meter.street);
  json["must_not_lose"] = meter.must_not_lose;
  json["why_not"] = text_or_null(meter.why_not);
  json["cause"] = to_string(meter.lost);
  put(json, "lost", outage.lost);
  put(json, "back", outage.back);
  json["lasts"] = band_json(outage.lasts);
  return json;
}

Json saving_json(const plan::Saving& saving) {
  Json json;
  json["by"] = saving.by;
  put(json, "lasts", saving.lasts);
  put(json, "stopped", saving.stopped);
  json["customer_hours"] = saving.customer_hours ? Json(*saving.customer_hours) : Json(nullptr);
  json["customers"] = saving.customers;
  json["says"] = saving.says;
  return json;
}

Json plan_json(const plan::PlanCourse& plan) {
  Json json;
  json["rank"] = plan.rank;
  json["real_rank"] = plan.real_rank ? Json(*plan.real_rank) : Json(nullptr);
  json["must_not_lose"] = plan.must_not_lose;
  json["customers"] = plan.customers;
  json["lasts"] = band_json(plan.course.lasts);
  json["stopped"] = band_json(plan.course.stopped);
  json["stopped_known"] = plan.course.stopped_known;
  json["customer_hours"] = hours_json(plan.course.customer_hours);
  json["crew_s"] = plan.course.crew_s ? Json(*plan.course.crew_s) : Json(nullptr);
  return json;
}

Json gas_json(const plan::TimelineQuestion& question, const plan::GasLost& gas) {
  Json json;
  put(json, "vented", gas.vented);
  put(json, "purged", gas.purged);
  json["base"] = base_json({question.network.base_pressure, question.network.base_temperature});
  json["methane_kg"] = gas.methane_kg ? number_or_null(*gas.methane_kg) : Json(nullptr);
  json["co2e_kg"] = gas.co2e_kg ? number_or_null(*gas.co2e_kg) : Json(nullptr);
  return json;
}

std::string says_of(const plan::TimelineQuestion& question, const plan::Course& course,
                    units::System system) {
  const auto up = [&](Duration time) { return units::print(time, system, Toward::up); };
  std::string says;
  if (course.stopped)
    says = fmt::format("gas stopped {}{} after the order; ",
                       course.stopped_known ? "" : "longer than ", up(course.stopped->expected));
  if (course.restored)
    says += fmt::format("everybody back after {}, by {} at the latest; ",
                        up(course.restored->expected), up(course.restored->longest));
  const bool all_known = std::ranges::all_of(course.bars, &plan::Bar::known);
  says +=
      fmt::format("the job lasts {}{}", all_known ? "" : "longer than ", up(course.lasts.expected));
  if (question.out.empty()) return says + "; nobody is out";
  says += fmt::format("; {} customers out", question.out.size());
  if (course.customer_hours)
    says += fmt::format(" for {:.0f} customer-hours, up to {:.0f}",
                        std::ceil(course.customer_hours->expected),
                        std::ceil(course.customer_hours->longest));
  return says;
}

}  // namespace

Json timeline_json(const plan::TimelineQuestion& question, const plan::Timeline& timeline,
                   const std::vector<plan::PlanCourse>& plans, units::System system) {
  const plan::Course& course = timeline.course;
  Json json;
  json["says"] = says_of(question, course, system);
  json["kind"] = question.kind == plan::Kind::planned ? "planned" : "emergency";
  json["crews"] = question.crews;
  json["technicians"] = question.technicians ? Json(*question.technicians) : Json(nullptr);
  json["lasts"] = band_json(course.lasts);
  json["stopped"] = band_json(course.stopped);
  json["stopped_known"] = course.stopped_known;
  json["restored"] = band_json(course.restored);
  json["customers"] = question.out.size();
  json["customer_hours"] = hours_json(course.customer_hours);
  json["crew_s"] = course.crew_s ? Json(*course.crew_s) : Json(nullptr);
  Json steps = Json::array();
  for (std::size_t i = 0; i < course.bars.size(); ++i)
    steps.push_back(step_json(question, course.bars[i], i));
  json["steps"] = steps;
  Json outages = Json::array();
  for (const plan::Outage& outage : timeline.outages)
    outages.push_back(outage_json(question, outage));
  json["outages"] = outages;
  Json savings = Json::array();
  for (const plan::Saving& saving : timeline.savings) savings.push_back(saving_json(saving));
  json["savings"] = savings;
  Json compared = Json::array();
  for (const plan::PlanCourse& plan : plans) compared.push_back(plan_json(plan));
  json["plans"] = compared;
  json["gas"] = gas_json(question, timeline.gas);
  return json;
}

}  // namespace bellhole::wire
