#include "wire/front.hpp"

#include <nlohmann/json.hpp>

#include "plan/shutoffs.hpp"

namespace bellhole::wire {
namespace {

using network::Index;
using network::Network;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

/// What tells one plan of the front from another; the rest stands with the ranked plans.
Json short_of(const Json& shutoff) {
  Json json;
  for (const char* key :
       {"id", "kind", "element", "says", "pipe", "station_m", "time_to_shut_s", "if_it_fails"})
    json[key] = shutoff.at(key);
  return json;
}

Json places_json(const plan::Question& question, const plan::Answer& answer,
                 const std::vector<std::size_t>& places) {
  Json list = Json::array();
  for (const std::size_t i : places) {
    list.push_back(
        plan::describe(question.model.network(), answer.places.places[i], question.system));
  }
  return list;
}

Json customers_json(const Network& network, const std::vector<Index>& customers, bool must) {
  Json list = Json::array();
  for (const Index c : customers) {
    if (!must || network.customers.must_not_lose[at(c)] != 0)
      list.push_back(network.customers.id[at(c)]);
  }
  return list;
}

Json entry_json(const plan::Question& question, const plan::Answer& answer,
                const plan::FrontPlan& entry, const ShutoffOf& shutoff_of) {
  const Network& network = question.model.network();
  Json json;
  json["rank"] = entry.rank ? Json(*entry.rank + 1) : Json(nullptr);
  put(json, "time_to_stop", entry.plan.time_to_stop);
  json["customers_out"] = customers_json(network, entry.stages.front().out, false);
  json["must_not_lose_out"] = customers_json(network, entry.stages.front().out, true);
  Json shutoffs = Json::array();
  for (const plan::Shutoff& shutoff : entry.plan.shutoffs)
    shutoffs.push_back(short_of(shutoff_of(shutoff)));
  json["shutoffs"] = shutoffs;
  Json stages = Json::array();
  for (const plan::FrontStage& stage : entry.stages) {
    Json one;
    put(one, "holds_at", stage.holds_at);
    one["shut"] = places_json(question, answer, stage.shut);
    one["opened"] = places_json(question, answer, stage.opened);
    one["customers_out"] = customers_json(network, stage.out, false);
    stages.push_back(one);
  }
  json["stages"] = stages;
  json["verdict"] = to_string(verdict_of(entry.plan.findings));
  json["findings"] = to_json(entry.plan.findings);
  return json;
}

}  // namespace

void put_front(Json& reply, const plan::Question& question, const plan::Answer& answer,
               const ShutoffOf& shutoff_of) {
  reply["front"] = Json::array();
  reply["front_proof"] = nullptr;
  if (!answer.front) return;
  for (const plan::FrontPlan& entry : answer.front->plans)
    reply["front"].push_back(entry_json(question, answer, entry, shutoff_of));
  reply["front_proof"] = {{"complete", answer.front->proof.complete},
                          {"examined", answer.front->proof.examined},
                          {"solved", answer.front->proof.solved}};
}

}  // namespace bellhole::wire
