#include "wire/repressurise.hpp"

#include <nlohmann/json.hpp>

namespace bellhole::wire {
namespace {

Json ids_json(const network::Network& network, const std::vector<network::Index>& customers) {
  Json list = Json::array();
  for (const network::Index c : customers)
    list.push_back(network.customers.id[static_cast<std::size_t>(c)]);
  return list;
}

Json step_json(const network::Network& network, const plan::Part& part, const plan::Refill& refill,
               const plan::RefillStep& step, units::System system) {
  Json json;
  json["shutoff"] = part.ends[step.end].letter;
  json["says"] = plan::end_words(network, part.ends[step.end], system);
  json["fills"] = step.fills;
  put(json, "begins", step.begins);
  put(json, "done", step.done);
  if (step.fills) {
    put(json, "flow_most", step.flow_most);
    json["throttle"] = step.throttle ? number_or_null(*step.throttle) : Json(nullptr);
  }
  json["gauges"] = Json::array();
  for (std::size_t i = 0; i < step.readings.size(); ++i) {
    Json one{{"at", refill.points[i]}};
    put(one, "ends", step.readings[i].ends);
    put(one, "lowest", step.readings[i].lowest);
    put(one, "highest", step.readings[i].highest);
    json["gauges"].push_back(one);
  }
  return json;
}

}  // namespace

Json repressurise_json(const network::Network& network, const plan::Part& part,
                       const plan::Refill& refill, units::System system) {
  Json json;
  json["steps"] = Json::array();
  for (const plan::RefillStep& step : refill.steps)
    json["steps"].push_back(step_json(network, part, refill, step, system));
  put(json, "rise", refill.rise);
  put(json, "rise_most", refill.rise_most);
  json["excess_flow_valves"] = ids_json(network, refill.valves);
  json["excess_flow_not_known"] = ids_json(network, refill.not_known);
  json["short_of_gas"] = ids_json(network, refill.short_of_gas);
  json["says"] = refill.says;
  json["cautions"] = refill.cautions;
  return json;
}

}  // namespace bellhole::wire
