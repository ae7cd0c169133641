#include "wire/put_back.hpp"

#include <nlohmann/json.hpp>

#include "wire/purge_path.hpp"

namespace bellhole::wire {
namespace {

Json test_json(const std::optional<restore::Tested>& tested) {
  if (!tested) return nullptr;
  Json json;
  put(json, "least", tested->least);
  json["least_by"] = tested->least_by;
  put(json, "most", tested->most);
  json["most_by"] = tested->most_by;
  put(json, "fill", tested->fill);
  put(json, "duration_needed", tested->duration_needed);
  put(json, "keep_off", tested->keep_off);
  return json;
}

Json join_json(const std::optional<restore::Joined>& joined) {
  if (!joined) return nullptr;
  Json json;
  put(json, "heater_least", joined->heater_least);
  put(json, "heater_most", joined->heater_most);
  put(json, "force_least", joined->force_least);
  put(json, "force_most", joined->force_most);
  put(json, "bead", joined->bead);
  put(json, "removal", joined->removal);
  put(json, "cooling", joined->cooling);
  return json;
}

Json ids_json(const network::Network& network, const std::vector<network::Index>& customers) {
  Json list = Json::array();
  for (const network::Index c : customers)
    list.push_back(network.customers.id[static_cast<std::size_t>(c)]);
  return list;
}

}  // namespace

void put_back_into(Json& plan, const network::Network& network, const plan::PutBack& back) {
  Json json;
  json["test"] = test_json(back.test);
  json["join"] = join_json(back.join);
  json["purge"] = purge_path_json(network, back.part, back.purge);
  json["decide"] = back.decide;
  json["excess_flow_valves"] = ids_json(network, back.valves);
  json["excess_flow_not_known"] = ids_json(network, back.not_known);
  plan["putting_back"] = std::move(json);
  if (!plan.contains("steps")) return;
  for (Json& step : plan["steps"]) {
    const auto kind = plan::step_kind_from(step.at("kind").get_ref<const std::string&>());
    step["numbers"] = Json::array();
    for (const auto& [of, line] : back.lines)
      if (kind == of) step["numbers"].push_back(line);
  }
}

}  // namespace bellhole::wire
