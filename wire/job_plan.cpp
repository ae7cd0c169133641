// From a plan document to the first events of its job.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "wire/event.hpp"
#include "wire/steps.hpp"

namespace bellhole::wire {
namespace {

/// The keys of `from` that stand in `keys` and are not null.
Json only(const Json& from, std::initializer_list<const char*> keys) {
  Json out = Json::object();
  for (const char* key : keys)
    if (const auto found = from.find(key); found != from.end() && !found->is_null())
      out[key] = *found;
  return out;
}

Json steps_of(const Json& plan) {
  Json steps = Json::array();
  for (const Json& step : plan.at("steps")) {
    Json one =
        only(step, {"id", "kind", "does", "after", "about", "post", "if_not", "report_to", "undo_s",
                    "time_left_s", "point_of_no_return", "hold_point", "names_needed"});
    one["gauges"] = Json::array();
    for (const Json& gauge : step.value("gauges", Json::array()))
      one["gauges"].push_back(only(gauge, {"point", "at", "range_pa_gauge", "expect_pa_gauge",
                                           "low_pa_gauge", "high_pa_gauge", "post"}));
    steps.push_back(one);
  }
  return steps;
}

/// The pipe of a squeeze as the map has it, with the stop that its sheet chose, in the keys of the
/// question "pace".
Json mapped_pipe(const Json& shutoff) {
  Json pipe = only(shutoff, {"size", "pressure_pa_gauge"});
  if (!pipe.contains("size")) return nullptr;
  if (shutoff.contains("ratio") && shutoff.at("ratio").is_number())
    pipe["dr"] = shutoff.at("ratio");
  const Json grade = shutoff.value("grade", Json());
  if (grade.is_string() && pipe::read_material(grade.get<std::string>(), ""))
    pipe["material"] = grade;
  const Json sheet = shutoff.value("squeeze", Json());
  const Json stop = sheet.is_object() ? sheet.value("stop", Json()) : Json();
  if (stop.is_object() && stop.contains("id") && stop.value("gap_m", Json()).is_number())
    pipe["stop"] = {
        fmt::format("{}@{}m", stop.at("id").get<std::string>(), stop.at("gap_m").get<double>())};
  return pipe;
}

void add_shutoffs(const Json& plan, Json& fact) {
  std::set<std::string> prompts;
  fact["shutoffs"] = Json::array();
  fact["prompts"] = Json::array();
  for (const Json& shutoff : plan.value("shutoffs", Json::array())) {
    Json one = only(shutoff, {"id", "kind", "element", "lon", "lat", "station_m"});
    if (const Json says = shutoff.value("says", Json()); says.is_string()) one["place"] = says;
    if (text_in(one, "kind") == "squeeze") {
      if (const Json pipe = shutoff.value("pipe", Json()); pipe.is_string()) one["element"] = pipe;
      if (const Json pipe = mapped_pipe(shutoff); !pipe.is_null()) one["pipe"] = pipe;
      const Json sheet = shutoff.value("squeeze", Json());
      for (const Json& prompt :
           sheet.is_object() ? sheet.value("prompts", Json::array()) : Json::array())
        if (const std::string says = text_in(prompt, "says"); prompts.insert(says).second)
          fact["prompts"].push_back(says);
    }
    fact["shutoffs"].push_back(one);
  }
}

}  // namespace

Result<std::vector<Json>> drafts_of_plan(std::string_view bytes, std::string_view name,
                                         std::int64_t rank, const Json& opened) {
  BELLHOLE_TRY(read, read_plan_document(bytes, name));
  const auto chosen = std::ranges::find(read.plans, rank, &PlanOnPaper::rank);
  if (chosen == read.plans.end())
    return trouble(Code::unknown_element, std::string(name), fmt::format("plan {}", rank),
                   fmt::format("this document has {} plans", read.plans.size()));
  BELLHOLE_TRY(json, parse_json(bytes, name, plan_cap));
  const Json& plan = json.at("plans").at(static_cast<std::size_t>(chosen - read.plans.begin()));
  Json fact = only(json, {"plan_id", "engine"});
  if (text_in(fact, "plan_id").empty())
    return trouble(Code::missing_value, std::string(name), "plan_id",
                   "give the reply of plan --json as it was written");
  fact["result"] = sha256(bytes);
  fact["rank"] = rank;
  const Json network = json.value("network", Json()), conditions = json.value("conditions", Json());
  if (network.is_object()) fact["network"] = text_in(network, "hash");
  if (conditions.is_object()) fact["procedure"] = text_in(conditions, "procedure");
  fact["steps"] = steps_of(plan);
  add_shutoffs(plan, fact);
  fact["meters"] = Json::array();
  for (const Json& customer : plan.value("customers_out", Json::array()))
    fact["meters"].push_back(text_in(customer, "id"));
  Json open = opened;
  if (!open.contains("work")) open["work"] = text_in(json, "kind", "planned");
  const Json work = json.value("work", Json());
  if (!open.contains("place") && work.is_object()) open["place"] = text_in(work, "says");
  if (work.is_object() && work.value("lon", Json()).is_number()) {
    open["lon"] = work.at("lon");
    open["lat"] = work.at("lat");
  }
  return std::vector<Json>{{{"kind", "opened"}, {"fact", open}},
                           {{"kind", "planned"}, {"fact", fact}}};
}

}  // namespace bellhole::wire
