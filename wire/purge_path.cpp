#include "wire/purge_path.hpp"

#include <array>
#include <nlohmann/json.hpp>

namespace bellhole::wire {
namespace {

std::size_t at(network::Index index) { return static_cast<std::size_t>(index); }

constexpr std::array feed_words{"bypass", "rider", "valve", "squeeze", "filled"};
constexpr std::array ternary_words{"no", "yes", "unknown"};

Json leg_json(const network::Network& network, const plan::Part& part, const plan::PurgeLeg& leg) {
  Json json;
  json["feed"] = feed_words[static_cast<std::size_t>(leg.feed)];
  json["end"] = leg.end ? Json(part.ends[*leg.end].letter) : Json(nullptr);
  json["from"] = leg.from;
  json["vent"] = leg.vent;
  json["runs"] = Json::array();
  for (const plan::PurgeRun& run : leg.runs) {
    Json one{{"pipe", network.pipes.id[at(run.pipe)]}};
    put(one, "from_station", run.from);
    put(one, "to_station", run.to);
    put(one, "bore", run.bore);
    json["runs"].push_back(one);
  }
  put(json, "length", leg.length);
  put(json, "volume", leg.volume);
  put(json, "bore", leg.widest);
  put(json, "speed", leg.speed);
  json["flow_m3_per_s"] = leg.flow_m3_per_s > 0.0 ? number_or_null(leg.flow_m3_per_s) : Json();
  put(json, "time", leg.time);
  put(json, "time_planned", leg.time_planned);
  put(json, "mixing", leg.mixing);
  put(json, "flammable", leg.flammable);
  put(json, "slug_gas", leg.slug_gas);
  put(json, "gas_used", leg.gas_used);
  put(json, "gas_lost", leg.gas_lost);
  put(json, "foot", leg.foot);
  put(json, "inlet", leg.inlet);
  put(json, "before", leg.before);
  put(json, "purging", leg.purging);
  json["short_of_gas"] = Json::array();
  for (const network::Index c : leg.short_of_gas)
    json["short_of_gas"].push_back(network.customers.id[at(c)]);
  return json;
}

}  // namespace

Json purge_path_json(const network::Network& network, const plan::Part& part,
                     const plan::PurgePath& path) {
  Json json;
  json["legs"] = Json::array();
  for (const plan::PurgeLeg& leg : path.legs) json["legs"].push_back(leg_json(network, part, leg));
  json["services"] = Json::array();
  const auto& customers = network.customers;
  for (const plan::PurgeService& service : path.services) {
    const std::size_t c = at(service.customer);
    Json one;
    one["customer"] = customers.id[c];
    one["street"] = customers.street[c].empty() ? Json(nullptr) : Json(customers.street[c]);
    one["pipe"] = network.pipes.id[at(customers.pipe[c])];
    put(one, "station", customers.station[c]);
    put(one, "away", service.away);
    one["excess_flow_valve"] =
        ternary_words[static_cast<std::size_t>(customers.excess_flow_valve[c])];
    json["services"].push_back(one);
  }
  put(json, "volume", path.volume);
  put(json, "time_planned", path.time_planned);
  json["says"] = path.says;
  json["cautions"] = path.cautions;
  return json;
}

}  // namespace bellhole::wire
