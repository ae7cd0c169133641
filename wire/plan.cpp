#include "wire/plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "network/words.hpp"
#include "plan/main_facts.hpp"
#include "plan/shutoffs.hpp"
#include "wire/flow.hpp"
#include "wire/front.hpp"
#include "wire/hole.hpp"
#include "wire/plan_map.hpp"
#include "wire/steps.hpp"

namespace bellhole::wire {
namespace {

using network::Index;
using network::Network;

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

Json text_or_null(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

Json id_or_null(const std::vector<std::string>& ids, Index index) {
  return index == network::none ? Json(nullptr) : Json(ids[at(index)]);
}

void put_degrees(Json& json, network::Degrees degrees) {
  put(json, "lon", degrees.lon);
  put(json, "lat", degrees.lat);
}

/// What the map says of a main, under the keys that work, shut-offs and neighbours share.
void put_main(Json& json, const Network& network, Index pipe) {
  const auto& pipes = network.pipes;
  const std::size_t p = at(pipe);
  json["pipe"] = pipes.id[p];
  json["size"] = text_or_null(pipes.nominal_size[p]);
  put(json, "ratio", pipes.ratio[p]);
  json["material"] = network::word(pipes.material[p]);
  json["grade"] = text_or_null(pipes.grade[p]);
  json["year"] = pipes.year[p] > 0 ? Json(pipes.year[p]) : Json(nullptr);
  json["street"] = text_or_null(pipes.street[p]);
  json["tier"] = id_or_null(network.tiers.id, plan::tier_of_main(network, pipe));
}

Json work_json(const plan::Question& question, const plan::Answer& answer) {
  const Network& network = question.model.network();
  const plan::Work& work = question.work;
  const plan::Piece& first = work.pieces.front();
  Json json;
  json["says"] = plan::describe(network, work, question.system);
  put_main(json, network, first.pipe);
  put(json, "from_station", first.begin);
  put(json, "to_station", first.end);
  json["node"] =
      work.nodes.empty() ? Json(nullptr) : Json(network.nodes.id[at(work.nodes.front())]);
  Json pieces = Json::array();
  for (const plan::Piece& piece : work.pieces) {
    Json one;
    one["pipe"] = network.pipes.id[at(piece.pipe)];
    put(one, "from_station", piece.begin);
    put(one, "to_station", piece.end);
    pieces.push_back(one);
  }
  json["pieces"] = pieces;
  put(json, "x", Length::from_si(work.centre.x));
  put(json, "y", Length::from_si(work.centre.y));
  const auto degrees = network::unproject(network, work.centre);
  constexpr double nan = std::numeric_limits<double>::quiet_NaN();
  put_degrees(json, degrees ? *degrees : network::Degrees{nan, nan});
  put(json, "away", work.away);
  const Index tier = plan::tier_of_main(network, first.pipe);
  put(json, "maop",
      tier == network::none ? std::optional<GaugePressure>() : network.tiers.maop[at(tier)]);
  const double a = answer.before.node_pressure[at(network.pipes.from[at(first.pipe)])].si();
  const double b = answer.before.node_pressure[at(network.pipes.to[at(first.pipe)])].si();
  put(json, "pressure", GaugePressure::from_si(std::fmax(a, b)));
  return json;
}

Json pressure_json(const Network& network, const std::optional<plan::Pressure>& pressure) {
  if (!pressure) return nullptr;
  const network::Extreme& extreme = pressure->extreme;
  Json json;
  json["node"] = id_or_null(network.nodes.id, extreme.node);
  json["customer"] = id_or_null(network.customers.id, extreme.customer);
  json["tier"] = id_or_null(network.tiers.id, pressure->tier);
  json["pa_gauge"] = number_or_null(extreme.pressure.si());
  json["limit_pa_gauge"] = number_or_null(extreme.limit.si());
  return json;
}

Json offsets_json(const std::vector<plan::Offset>& offsets) {
  Json list = Json::array();
  for (const plan::Offset& offset : offsets) {
    Json one;
    one["from"] = offset.from;
    put(one, "distance", offset.distance);
    one["toward"] = text_or_null(offset.toward);
    list.push_back(one);
  }
  return list;
}

Json fallback_json(const plan::Question& question, const plan::Answer& answer,
                   const plan::Shutoff& shutoff) {
  const Network& network = question.model.network();
  const plan::Fallback& fallback = shutoff.fallback;
  Json json;
  std::string says;
  if (fallback.spare_station) {
    const std::string unit = question.system == units::System::us ? "ft" : "m";
    says = fmt::format(
        "first a new place in the same window, at {} of the main (never the same place twice). ",
        units::print_in(*fallback.spare_station, unit, 1));
  }
  Json others = Json::array();
  std::string acts;
  for (const std::size_t i : fallback.places) {
    const plan::Place& place = answer.places.places[i];
    acts += (acts.empty() ? "" : ", then ") + plan::describe(network, place, question.system);
    Json one;
    one["kind"] = to_string(place.kind);
    one["says"] = plan::describe(network, place, question.system);
    one["pipe"] = id_or_null(network.pipes.id, place.pipe);
    put(one, "station", place.pipe == network::none ? std::optional<Length>() : place.station);
    others.push_back(one);
  }
  if (fallback.exists) {
    const std::int64_t more = std::max<std::int64_t>(fallback.adds_customers, 0);
    says +=
        fmt::format("If it still passes gas: {}; {} more customer{} out.",
                    acts.empty() ? "nothing further is needed" : acts, more, more == 1 ? "" : "s");
  } else {
    says +=
        "There is no other place on the map that parts this feed: keep everybody out, call gas "
        "control, and decide there.";
  }
  json["says"] = says;
  put(json, "spare_station", fallback.spare_station);
  json["shut_instead"] = others;
  json["exists"] = fallback.exists;
  json["adds_customers"] = fallback.exists ? Json(fallback.adds_customers) : Json(nullptr);
  return json;
}

std::string element_of(const Network& network, const plan::Place& place) {
  switch (place.kind) {
    case plan::ShutKind::squeeze:
    case plan::ShutKind::placed:
      return network.pipes.id[at(place.pipe)];
    case plan::ShutKind::valve:
      return network.valves.id[at(place.element)];
    case plan::ShutKind::regulator_outlet:
      return network.regulators.id[at(place.element)];
    case plan::ShutKind::source_outlet:
      return network.sources.id[at(place.element)];
  }
  return "";
}

Json shutoff_json(const plan::Question& question, const plan::Answer& answer,
                  const plan::Shutoff& shutoff, const SheetOf& sheet) {
  const Network& network = question.model.network();
  const plan::Place& place = shutoff.place;
  Json json;
  json["id"] = shutoff.letter;
  json["kind"] = to_string(place.kind);
  json["element"] = element_of(network, place);
  json["says"] = plan::describe(network, place, question.system);
  json["pipe"] = nullptr;
  json["station_m"] = nullptr;
  if (place.pipe != network::none) {
    put_main(json, network, place.pipe);
    put(json, "station", place.station);
    put(json, "depth", network.pipes.depth[at(place.pipe)]);
    json["surface"] = text_or_null(network.pipes.surface[at(place.pipe)]);
  }
  if (place.kind == plan::ShutKind::squeeze) {
    json["window_m"] = {place.window_begin.si(), place.window_end.si()};
    put(json, "clearance", place.clearance);
    json["double"] = place.squeezes == plan::Squeezes::undecided
                         ? Json(nullptr)
                         : Json(place.squeezes == plan::Squeezes::two);
  }
  if (place.kind == plan::ShutKind::placed) json["means"] = plan::word(place.means);
  put_degrees(json, shutoff.degrees);
  put(json, "x", Length::from_si(shutoff.point.x));
  put(json, "y", Length::from_si(shutoff.point.y));
  put(json, "pressure", shutoff.pressure_now);
  json["crew_s"] = place.crew_s;
  put(json, "time_to_shut", Duration::from_si(place.time_s));
  json["offsets"] = offsets_json(shutoff.offsets);
  Json nearby = Json::array();
  for (const plan::Nearby& other : shutoff.nearby) {
    Json one;
    put_main(one, network, other.pipe);
    put(one, "distance", other.distance);
    nearby.push_back(one);
  }
  json["nearby"] = nearby;
  json["if_it_fails"] = fallback_json(question, answer, shutoff);
  json["squeeze"] = sheet(shutoff);
  json["findings"] = to_json(shutoff.findings);
  return json;
}

Json customers_json(const Network& network, const plan::ShutoffPlan& plan) {
  Json list = Json::array();
  const auto& customers = network.customers;
  std::vector<plan::CustomerOut> sorted =
      plan.out;  // those who must not lose gas first, else as on the map
  std::ranges::stable_sort(sorted, {}, [&](const plan::CustomerOut& out) {
    return customers.must_not_lose[at(out.customer)] == 0;
  });
  for (const plan::CustomerOut& out : sorted) {
    const std::size_t c = at(out.customer);
    Json one;
    one["id"] = customers.id[c];
    one["street"] = text_or_null(customers.street[c]);
    one["pipe"] = network.pipes.id[at(customers.pipe[c])];
    put(one, "station", customers.station[c]);
    one["must_not_lose"] = customers.must_not_lose[c] != 0;
    one["why_not"] = text_or_null(customers.why_not[c]);
    one["cause"] = to_string(out.cause);
    list.push_back(one);
  }
  return list;
}

Json isolated_json(const Network& network, const plan::Isolated& isolated) {
  Json json;
  put(json, "length", isolated.length);
  put(json, "volume", isolated.volume);
  put(json, "gas_held", isolated.gas_held);
  Json base;
  base["pa_abs"] = network.base_pressure.si();
  base["k"] = network.base_temperature.si();
  json["base"] = base;
  Json pieces = Json::array();
  for (const plan::Piece& piece : isolated.pieces) {
    Json one;
    one["pipe"] = network.pipes.id[at(piece.pipe)];
    put(one, "from_station", piece.begin);
    put(one, "to_station", piece.end);
    pieces.push_back(one);
  }
  json["pieces"] = pieces;
  Json equipment = Json::array();
  for (const plan::Equipment& item : isolated.equipment) {
    Json one;
    one["kind"] = to_string(item.kind);
    one["id"] = item.id;
    one["pipe"] = id_or_null(network.pipes.id, item.pipe);
    put(one, "station", item.pipe == network::none ? std::optional<Length>() : item.station);
    one["says"] = item.says;
    equipment.push_back(one);
  }
  json["equipment"] = equipment;
  return json;
}

Json proof_json(const plan::SearchProof& proof) {
  Json json;
  json["optimal"] = proof.optimal;
  json["examined"] = proof.examined;
  json["solved"] = proof.solved;
  const bool finite = proof.bound < isolate::forbidden;
  json["bound"] = finite ? Json(proof.bound % plan::one_must_not_lose) : Json(nullptr);
  json["bound_must_not_lose"] =
      finite ? Json(proof.bound / plan::one_must_not_lose) : Json(nullptr);
  return json;
}

network::Feeds feeds_of_work(const Network& network, const plan::Work& work) {
  const plan::Piece& piece = work.pieces.front();
  if (!work.nodes.empty()) return network::feeds_of(network, work.nodes.front());
  return network::feeds_of(network, piece.pipe, (piece.begin + piece.end) * 0.5);
}

Json plan_json(const plan::Question& question, const plan::Answer& answer, std::size_t rank,
               const SheetOf& sheet) {
  const Network& network = question.model.network();
  const plan::ShutoffPlan& plan = answer.plans[rank];
  Json json;
  json["rank"] = rank + 1;
  json["cost_crew_s"] = plan.cost_crew_s;
  json["must_not_lose"] = plan.must_not_lose;
  put(json, "time_to_stop", plan.time_to_stop);
  Json shutoffs = Json::array();
  for (const plan::Shutoff& shutoff : plan.shutoffs)
    shutoffs.push_back(shutoff_json(question, answer, shutoff, sheet));
  json["shutoffs"] = shutoffs;
  json["customers_out"] = customers_json(network, plan);
  Json must = Json::array();
  for (const plan::CustomerOut& out : plan.out) {
    if (network.customers.must_not_lose[at(out.customer)] != 0)
      must.push_back(network.customers.id[at(out.customer)]);
  }
  json["must_not_lose_out"] = must;
  json["outcome"] = plan.outcome == network::Outcome::solved ? "solved" : "cannot_carry";
  json["lowest_pressure"] = pressure_json(network, plan.lowest);
  json["highest_pressure"] = pressure_json(network, plan.highest);
  put_limit(json, plan.limit_temperature, question.system);
  json["isolated"] = isolated_json(network, plan.isolated);
  json["hole"] = hole_json(network, plan);
  if (question.order != nullptr) put_steps(json, network, *question.order, plan);
  json["why"] = plan.why;
  json["beats_next"] = plan.beats_next;
  json["findings"] = to_json(plan.findings);
  json["proof"] = proof_json(answer.proof);
  return json;
}

}  // namespace

std::string_view to_string(plan::ShutKind kind) {
  switch (kind) {
    case plan::ShutKind::squeeze:
      return "squeeze";
    case plan::ShutKind::valve:
      return "valve";
    case plan::ShutKind::regulator_outlet:
      return "regulator_outlet";
    case plan::ShutKind::source_outlet:
      return "source_outlet";
    case plan::ShutKind::placed:
      return "placed";
  }
  return "";
}

std::string_view to_string(plan::OutCause cause) {
  switch (cause) {
    case plan::OutCause::isolated:
      return "isolated";
    case plan::OutCause::pocket:
      return "pocket";
    case plan::OutCause::short_of:
      return "short";
  }
  return "";
}

std::string_view to_string(plan::EquipmentKind kind) {
  switch (kind) {
    case plan::EquipmentKind::regulator_inlet:
      return "regulator_inlet";
    case plan::EquipmentKind::regulator_outlet:
      return "regulator_outlet";
    case plan::EquipmentKind::sensing_tap:
      return "sensing_tap";
    case plan::EquipmentKind::source:
      return "source";
    case plan::EquipmentKind::valve:
      return "valve";
    case plan::EquipmentKind::relief:
      return "relief";
    case plan::EquipmentKind::telemetry:
      return "telemetry";
    case plan::EquipmentKind::control_line:
      return "control_line";
    case plan::EquipmentKind::stub:
      return "stub";
    case plan::EquipmentKind::excess_flow_valve:
      return "excess_flow_valve";
  }
  return "";
}

Json plan_reply(const plan::Question& question, const plan::Answer& answer, const SheetOf& sheet) {
  const Network& network = question.model.network();
  Json reply;
  reply["work"] = work_json(question, answer);
  reply["feeds"] = feeds_reply(network, feeds_of_work(network, question.work));
  Json plans = Json::array();
  for (std::size_t i = 0; i < answer.plans.size(); ++i)
    plans.push_back(plan_json(question, answer, i, sheet));
  reply["plans"] = plans;
  reply["proof"] = proof_json(answer.proof);
  put_front(reply, question, answer, [&](const plan::Shutoff& shutoff) {
    return shutoff_json(question, answer, shutoff, [](const plan::Shutoff&) { return Json(); });
  });
  Json passed = Json::array();
  for (const plan::PassedOver& item : passed_over_nearby(answer)) {
    passed.push_back({{"element", item.element}, {"why", item.why}});
  }
  reply["passed_over"] = passed;
  reply["map"] = plan_map(network, question.work, answer);
  return reply;
}

}  // namespace bellhole::wire
