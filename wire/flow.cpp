#include "wire/flow.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <set>

namespace bellhole::wire {
namespace {

using network::Index;
using network::Network;

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

Json id_or_null(const std::vector<std::string>& ids, Index index) {
  return index == network::none ? Json(nullptr) : Json(ids[at(index)]);
}

std::string_view mode_word(network::RegulatorMode mode) {
  switch (mode) {
    case network::RegulatorMode::controls:
      return "controls";
    case network::RegulatorMode::wide_open:
      return "wide_open";
    case network::RegulatorMode::closed:
      return "closed";
    case network::RegulatorMode::reverse:
      return "reverse";
    case network::RegulatorMode::shut:
      return "shut";
    case network::RegulatorMode::out:
      return "out";
  }
  return "";
}

Json nodes_json(const Network& n, const network::SteadyState& state) {
  Json list = Json::array();
  for (std::size_t i = 0; i < n.nodes.size(); ++i) {
    Json one;
    one["id"] = n.nodes.id[i];
    one["tier"] = id_or_null(n.tiers.id, n.nodes.tier[i]);
    put(one, "pressure", state.node_pressure[i]);
    list.push_back(std::move(one));
  }
  return list;
}

Json pipes_json(const Network& n, const network::SteadyState& state) {
  Json list = Json::array();
  for (std::size_t p = 0; p < n.pipes.size(); ++p) {
    Json one;
    one["id"] = n.pipes.id[p];
    one["from"] = n.nodes.id[at(n.pipes.from[p])];
    one["to"] = n.nodes.id[at(n.pipes.to[p])];
    put(one, "flow_at_from", state.pipes[p].at_from);
    put(one, "flow_at_to", state.pipes[p].at_to);
    one["parted"] = state.pipes[p].parted;
    list.push_back(std::move(one));
  }
  return list;
}

Json stations_json(const Network& n, const network::SteadyState& state) {
  Json list = Json::array();
  for (std::size_t r = 0; r < n.regulators.size(); ++r) {
    const network::RegulatorState& regulator = state.regulators[r];
    Json one;
    one["id"] = n.regulators.id[r];
    one["mode"] = mode_word(regulator.mode);
    put(one, "flow", regulator.flow);
    put(one, "inlet", regulator.inlet);
    put(one, "outlet", regulator.outlet);
    put(one, "sensed", regulator.sensed);
    put(one, "set_point", n.regulators.set_point[r]);
    list.push_back(std::move(one));
  }
  return list;
}

Json customers_json(const Network& n, const network::SteadyState& state,
                    const std::vector<Index>& customers) {
  Json list = Json::array();
  for (const Index c : customers) {
    Json one;
    one["id"] = n.customers.id[at(c)];
    one["street"] =
        n.customers.street[at(c)].empty() ? Json(nullptr) : Json(n.customers.street[at(c)]);
    one["must_not_lose"] = n.customers.must_not_lose[at(c)] != 0;
    put(one, "pressure", state.customer_pressure[at(c)]);
    put(one, "least", state.customer_least[at(c)]);
    put(one, "wanted", state.wanted[at(c)]);
    put(one, "delivered", state.delivered[at(c)]);
    list.push_back(std::move(one));
  }
  return list;
}

Json extreme_json(const Network& n, const std::optional<network::Extreme>& extreme, Index tier) {
  if (!extreme) return nullptr;
  Json one;
  one["node"] = id_or_null(n.nodes.id, extreme->node);
  one["customer"] = id_or_null(n.customers.id, extreme->customer);
  one["tier"] = id_or_null(n.tiers.id, tier);
  one["pa_gauge"] = number_or_null(extreme->pressure.si());
  one["limit_pa_gauge"] = number_or_null(extreme->limit.si());
  return one;
}

Json ids_json(const std::vector<std::string>& ids, const std::vector<Index>& list) {
  Json json = Json::array();
  for (const Index i : list) json.push_back(ids[at(i)]);
  return json;
}

}  // namespace

Json flow_reply(const network::Model& model, const network::SteadyState& state) {
  const Network& n = model.network();
  Json reply;
  reply["outcome"] = state.outcome == network::Outcome::solved ? "solved" : "cannot_carry";
  reply["law"] = gas::name(state.law);
  reply["nodes"] = nodes_json(n, state);
  reply["pipes"] = pipes_json(n, state);
  reply["regulators"] = stations_json(n, state);
  Json sources = Json::array();
  for (std::size_t s = 0; s < n.sources.size(); ++s) {
    Json one;
    one["id"] = n.sources.id[s];
    put(one, "flow", state.sources[s].flow);
    one["at_capacity"] = state.sources[s].at_capacity;
    sources.push_back(std::move(one));
  }
  reply["sources"] = sources;
  reply["short"] = customers_json(n, state, state.customers_short);
  reply["out"] = customers_json(n, state, state.customers_out);
  Json tiers = Json::array();
  for (std::size_t t = 0; t < state.tiers.size(); ++t) {
    const auto tier = static_cast<Index>(t);
    tiers.push_back({{"id", n.tiers.id[t]},
                     {"lowest", extreme_json(n, state.tiers[t].lowest, tier)},
                     {"highest", extreme_json(n, state.tiers[t].highest, tier)}});
  }
  reply["tiers"] = tiers;
  put(reply, "into_network", state.into_network);
  return reply;
}

void put_limit(Json& json, const std::optional<network::LimitTemperature>& limit,
               units::System system) {
  json["limit_temperature_k"] = nullptr;
  json["limit_temperature_says"] = nullptr;
  if (!limit) return;
  const auto shown = [&](Temperature t, units::Toward toward) {
    return units::print(t, system, toward);
  };
  std::string says;
  if (!limit->holds_down_to) {
    says = fmt::format("somebody who is connected falls short even at {}",
                       shown(limit->warmest_looked_at, units::Toward::nearest));
  } else if (limit->holds_at_coldest) {
    says = fmt::format("nobody who is connected falls short down to {}, the coldest looked at",
                       shown(limit->coldest_looked_at, units::Toward::nearest));
  } else {
    says = fmt::format("nobody who is connected falls short while the air stays above {}",
                       shown(*limit->holds_down_to, units::Toward::up));
  }
  if (limit->holds_down_to) put(json, "limit_temperature", *limit->holds_down_to);
  json["limit_temperature_says"] = says;
}

Json feeds_reply(const Network& n, const network::Feeds& feeds) {
  Json reply;
  Json sides = Json::array();
  std::set<Index> sources;
  for (const network::Side& side : feeds.sides) {
    Json one;
    one["pipe"] = id_or_null(n.pipes.id, side.pipe);
    one["toward"] = id_or_null(n.nodes.id, side.toward);
    one["fed"] = !side.feeds.empty();
    Json list = Json::array();
    for (const network::Feed& feed : side.feeds) {
      sources.insert(feed.source);
      Json way;
      way["source"] = n.sources.id[at(feed.source)];
      way["regulators"] = ids_json(n.regulators.id, feed.regulators);
      way["backwards"] = ids_json(n.regulators.id, feed.backwards);
      way["valves"] = ids_json(n.valves.id, feed.valves);
      put(way, "length", feed.length);
      list.push_back(std::move(way));
    }
    one["feeds"] = list;
    sides.push_back(std::move(one));
  }
  reply["sides"] = sides;
  reply["fed_sides"] = feeds.fed_sides();
  reply["sources"] = ids_json(n.sources.id, {sources.begin(), sources.end()});
  return reply;
}

}  // namespace bellhole::wire
