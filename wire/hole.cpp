#include "wire/hole.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

namespace bellhole::wire {
namespace {

std::string_view to_string(plan::HolePlaceKind kind) {
  switch (kind) {
    case plan::HolePlaceKind::squeeze:
      return "squeeze";
    case plan::HolePlaceKind::vent:
      return "vent";
    case plan::HolePlaceKind::spare:
      return "spare";
  }
  return "";
}

std::string_view to_string(plan::KitItem item) {
  switch (item) {
    case plan::KitItem::tool:
      return "tool";
    case plan::KitItem::stop:
      return "stop";
    case plan::KitItem::pump:
      return "pump";
  }
  return "";
}

Json whole(std::optional<std::int64_t> n) { return n ? Json(*n) : Json(nullptr); }

Json option_json(const plan::HoleOption& option) {
  Json json;
  json["squeezes"] = option.squeezes;
  put(json, "length", option.length);
  put(json, "seen_length", option.seen);
  json["fits"] = option.fits;
  json["spare"] = option.spare;
  Json places = Json::array();
  for (const plan::HolePlace& place : option.places) {
    Json one;
    one["kind"] = to_string(place.kind);
    put(one, "station", place.station);
    put(one, "at", place.at);
    places.push_back(one);
  }
  json["places"] = places;
  return json;
}

Json side_json(const network::Network& network, const plan::ShutoffPlan& plan,
               const plan::HoleSide& side) {
  Json json;
  json["shutoff"] = plan.shutoffs[side.shutoff].letter;
  json["pipe"] = network.pipes.id[static_cast<std::size_t>(side.pipe)];
  json["work_at"] = side.toward > 0 ? "higher_stations" : "lower_stations";
  put(json, "joint_station", side.joint);
  put(json, "od", side.od);
  put(json, "clearance", side.clearance);
  put(json, "apart", side.apart);
  put(json, "half_width", side.half_width);
  json["tool"] = side.tool.empty() ? Json(nullptr) : Json(side.tool);
  put(json, "depth", side.depth);
  put(json, "width", side.width);
  Json options = Json::array();
  for (const plan::HoleOption& option : side.options) options.push_back(option_json(option));
  json["options"] = options;
  return json;
}

/// All places of the longest options, so that what must lie free is one list.
Json places_json(const network::Network& network, const plan::ShutoffPlan& plan) {
  Json list = Json::array();
  for (const plan::HoleSide& side : plan.hole.sides) {
    for (const plan::HolePlace& place : side.longest().places) {
      Json one;
      one["shutoff"] = plan.shutoffs[side.shutoff].letter;
      one["kind"] = to_string(place.kind);
      one["pipe"] = network.pipes.id[static_cast<std::size_t>(side.pipe)];
      put(one, "station", place.station);
      put(one, "at", place.at);
      list.push_back(one);
    }
  }
  return list;
}

Json excavations_json(const network::Network& network, const plan::ShutoffPlan& plan) {
  Json list = Json::array();
  for (const plan::Excavation& excavation : plan.hole.excavations) {
    Json one;
    one["pipe"] = network.pipes.id[static_cast<std::size_t>(excavation.pipe)];
    Json letters = Json::array();
    for (const std::size_t s : excavation.sides)
      letters.push_back(plan.shutoffs[plan.hole.sides[s].shutoff].letter);
    one["shutoffs"] = letters;
    put(one, "from_station", excavation.begin);
    put(one, "to_station", excavation.end);
    put(one, "length", excavation.end - excavation.begin);
    list.push_back(one);
  }
  return list;
}

Json kit_json(const plan::KitAnswer& kit) {
  Json list = Json::array();
  for (const plan::KitRow& row : kit.rows) {
    Json one;
    one["item"] = to_string(row.item);
    one["id"] = row.id;
    one["tool"] = row.of.empty() ? Json(nullptr) : Json(row.of);
    one["needed"] = row.needed;
    one["needed_least"] = row.needed_least;
    one["owned"] = whole(row.stock.owned);
    one["on_truck"] = whole(row.stock.on_truck);
    list.push_back(one);
  }
  return list;
}

}  // namespace

Json hole_json(const network::Network& network, const plan::ShutoffPlan& plan) {
  const plan::Hole& hole = plan.hole;
  const plan::KitAnswer& kit = plan.kit;
  Json json;
  put(json, "length", hole.length);
  json["places"] = places_json(network, plan);
  Json sides = Json::array();
  for (const plan::HoleSide& side : hole.sides) sides.push_back(side_json(network, plan, side));
  json["sides"] = sides;
  json["excavations"] = excavations_json(network, plan);
  put(json, "working_room", hole.working_room);
  put(json, "beside", hole.beside);
  put(json, "below", hole.below);
  put(json, "bench", hole.bench);
  json["tools_needed"] = kit.tools_needed;
  json["tools_needed_least"] = kit.tools_needed_least;
  json["tools_owned"] = whole(kit.tools_owned);
  json["tools_on_truck"] = whole(kit.tools_on_truck);
  json["pumps_needed"] = kit.pumps_needed;
  json["pumps_owned"] = whole(kit.pumps_owned);
  json["pumps_on_truck"] = whole(kit.pumps_on_truck);
  json["kit"] = kit_json(kit);
  return json;
}

}  // namespace bellhole::wire
