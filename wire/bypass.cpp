#include "wire/bypass.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

namespace bellhole::wire {
namespace {

using network::Index;
using network::Network;

Json ids(const Network& network, const std::vector<Index>& customers) {
  Json list = Json::array();
  for (const Index c : customers) list.push_back(network.customers.id[static_cast<std::size_t>(c)]);
  return list;
}

Json held_json(const std::optional<plan::Held>& held) {
  if (!held) return nullptr;
  Json json;
  json["place"] = held->place;
  json["pa_gauge"] = number_or_null(held->pressure.si());
  json["limit_pa_gauge"] = number_or_null(held->limit.si());
  return json;
}

std::string_view word(plan::BypassKind kind) {
  switch (kind) {
    case plan::BypassKind::valve:
      return "valve";
    case plan::BypassKind::pipe:
      return "pipe";
    case plan::BypassKind::supply:
      return "supply";
  }
  return "";
}

Json bypass_json(const Network& network, const plan::BypassFound& bypass) {
  Json json;
  json["kind"] = word(bypass.kind);
  json["element"] = bypass.element;
  put(json, "bore", bypass.bore);
  put(json, "length", bypass.length);
  json["loss"] = bypass.loss ? number_or_null(*bypass.loss) : Json(nullptr);
  put(json, "flow", bypass.flow);
  put(json, "speed", bypass.speed);
  json["customers_kept"] = bypass.kept.size();
  json["kept"] = ids(network, bypass.kept);
  json["customers_out"] = ids(network, bypass.out);
  json["newly_out"] = ids(network, bypass.newly_out);
  json["must_not_lose_out"] = ids(network, bypass.must_out);
  json["lowest_pressure"] = held_json(bypass.lowest);
  json["highest_pressure"] = held_json(bypass.highest);
  put(json, "saves_crew", bypass.saves);
  json["findings"] = to_json(bypass.findings);
  json["why"] = bypass.why;
  return json;
}

std::string says_of(const plan::Bypasses& answer) {
  if (!answer.needed()) return "nobody is out or short with these places shut: no bypass is needed";
  if (!answer.helped()) {
    return fmt::format("{} customers are out or short, and nothing that was tried keeps them on",
                       answer.out.size());
  }
  const plan::BypassFound& best = answer.bypasses.front();
  return fmt::format("{} keeps {} of {} customers on", best.element, best.kept.size(),
                     answer.out.size());
}

}  // namespace

Json bypass_reply(const plan::BypassQuestion& question, const plan::Bypasses& answer) {
  Json json;
  json["needed"] = answer.needed();
  json["says"] = says_of(answer);
  json["without"] = {{"customers_out", ids(question.network, answer.out)},
                     {"must_not_lose_out", ids(question.network, answer.must_out)}};
  json["bypasses"] = Json::array();
  for (const plan::BypassFound& bypass : answer.bypasses)
    json["bypasses"].push_back(bypass_json(question.network, bypass));
  return json;
}

}  // namespace bellhole::wire
