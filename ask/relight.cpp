// "relight": which meters are to be shut and lit again, whether gas may not go back yet and why, in
// which order, by how many, how long.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "ask/documents.hpp"
#include "ask/lost.hpp"
#include "ask/place.hpp"
#include "linepack/watch.hpp"
#include "plan/regions.hpp"
#include "wire/relight.hpp"
#include "wire/watch.hpp"

namespace bellhole::ask {
namespace {

using network::Index;
using network::Network;
using restore::Lost;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

/// A sector: mains and streets by name; none: everything that loses gas.
struct Sector {
  std::vector<std::string> names;

  [[nodiscard]] bool has(const std::string& main, const std::string& street) const {
    return names.empty() || std::ranges::any_of(names, [&](const std::string& name) {
             return name == main || name == street;
           });
  }
};

Result<Sector> sector_of(const Question& question, const Network& network) {
  BELLHOLE_TRY(names, question.request.texts("sector"));
  for (const std::string& name : names) {
    if (std::ranges::find(network.pipes.id, name) == network.pipes.id.end() &&
        std::ranges::find(network.customers.street, name) == network.customers.street.end())
      return trouble(Code::unknown_element, "sector", name,
                     "name a main, or a street as the customers have it");
  }
  return Sector{names};
}

/// "X-17@Bakers Row": a meter that no list has.
Result<std::vector<restore::Meter>> found_of(const Question& question, const Network& network) {
  BELLHOLE_TRY(texts, question.request.texts("found"));
  std::vector<restore::Meter> meters;
  for (const std::string& text : texts) {
    const auto sign = text.find('@');
    if (sign == 0 || sign == std::string::npos || sign + 1 == text.size())
      return trouble(Code::unreadable_value, "found", text,
                     "give the meter and its street: X-17@Bakers Row");
    restore::Meter meter;
    meter.id = text.substr(0, sign);
    meter.street = text.substr(sign + 1);
    meter.lost = Lost::found;
    if (customer_named(network, meter.id, "found"))
      return trouble(Code::contradiction, "found", meter.id,
                     "this meter is on the map: a meter that is found is on no list");
    meters.push_back(std::move(meter));
  }
  return meters;
}

/// Everybody who is short at any moment, by plan and by time-left.
struct Everybody {
  std::vector<LostCustomer> customers;
  std::optional<PlanGiven> given;
  std::optional<network::Along> along;
  network::Scenario shut;  ///< every shut-off of the plan
};

Result<Everybody> everybody_of(const Question& question, const LoadedNetwork& loaded,
                               const Network& network, Weather& weather) {
  Everybody all;
  BELLHOLE_TRY(given, plan_given(question, loaded.hash));
  OfPlan of_plan;
  if (given) of_plan = {given->reply.air, given->reply.hour, false};
  BELLHOLE_TRY(day, weather_of(question, network::LoadCase::high, of_plan));
  weather = day;
  if (!given && !question.request.has("time_left"))
    return trouble(Code::missing_value, "plan", "",
                   "give a plan, or a reply of time-left: who loses gas?");
  std::map<Index, LostCustomer> lost;
  if (given) {
    BELLHOLE_TRY(model, network::Model::prepare(network, weather.conditions));
    BELLHOLE_TRY(list, lost_by(question, model, weather, *given));
    for (const LostCustomer& one : list) lost.emplace(one.customer, one);
    BELLHOLE_TRY(shut, all_shut(network, weather.scenario, given->plan()));
    all.shut = std::move(shut);
    all.along = along_from(network, given->plan());
    all.given = std::move(given);
  }
  if (question.request.has("time_left")) {
    BELLHOLE_TRY(bytes, reply_bytes_of(question, "time_left", "time-left"));
    BELLHOLE_TRY(ids, wire::read_short_customers(bytes, "time_left"));
    for (const std::string& id : ids) {
      BELLHOLE_TRY(index, customer_named(network, id, "time_left.customers"));
      lost.try_emplace(index, LostCustomer{index, Lost::dipped, 0});
    }
  }
  for (const auto& [index, one] : lost) all.customers.push_back(one);
  return all;
}

/// Customers of other sectors whom no valve parts from this one.
std::vector<std::string> not_parted(const Network& network, const Everybody& all,
                                    const Sector& sector) {
  network::Scenario shut = all.shut;
  for (std::size_t v = 0; v < network.valves.size(); ++v)
    shut.valves.push_back({static_cast<Index>(v), network::Position::closed});
  const plan::Regions regions(network, shut);
  const auto inside = [&](Index c) {
    return sector.has(network.pipes.id[at(network.customers.pipe[at(c)])],
                      network.customers.street[at(c)]);
  };
  std::vector<std::int32_t> own;
  for (const LostCustomer& one : all.customers)
    if (inside(one.customer)) own.push_back(regions.of_customer(one.customer));
  std::vector<std::string> ids;
  for (const LostCustomer& one : all.customers) {
    if (inside(one.customer)) continue;
    if (std::ranges::find(own, regions.of_customer(one.customer)) != own.end())
      ids.push_back(network.customers.id[at(one.customer)]);
  }
  return ids;
}

/// Of the mains that lose their gas and are in the sector.
std::optional<Volume> volume_of(const Network& network, const Everybody& all,
                                const Sector& sector) {
  if (!all.given) return std::nullopt;
  double volume = 0.0;
  for (const wire::GivenPiece& piece : all.given->plan().isolated) {
    const auto found = std::ranges::find(network.pipes.id, piece.pipe);
    if (found == network.pipes.id.end()) return std::nullopt;
    const auto p = static_cast<std::size_t>(found - network.pipes.id.begin());
    if (sector.has(piece.pipe, network.pipes.street[p]))
      volume += linepack::volume_of(network.pipes.bore[p], piece.end - piece.begin).si();
  }
  return volume > 0.0 ? std::optional(Volume::from_si(volume)) : std::nullopt;
}

struct Held {
  restore::Hold state = restore::Hold::not_watched;
  std::optional<linepack::Watched> watched;
};

/// The keys of the question watch, with what the network says of the sector.
Result<wire::Json> watch_request(const Question& question, const Network& network,
                                 const Weather& weather, std::optional<Volume> volume) {
  wire::Json ask;
  for (const char* name :
       {"pressure", "gauge_step", "steps", "gauge_range", "draw", "readings", "readings_table",
        "barometer_drift", "temperature_drift", "within", "volume"}) {
    for (const auto& [key, value] : question.request.json().items()) {
      if (key != name && !key.starts_with(std::string(name) + "_")) continue;
      question.request.know(key);
      ask[key] = value;
    }
  }
  if (ask.empty()) return ask;
  if (!ask.contains("volume") && !ask.contains("volume_m3")) {
    if (!volume)
      return trouble(Code::missing_value, "volume", "",
                     "give the volume of the mains that are watched: no plan says it");
    wire::put(ask, "volume", *volume);
    question.assumed.emplace_back(
        "the sector holds what its mains hold; its services hold some more: watch a little longer");
  }
  ask["asks"] = "all_meters_shut";
  wire::put(ask, "temperature", weather.conditions.ground);
  wire::put(ask, "barometer", network.barometer);
  wire::put(ask, "base_pressure", network.base_pressure);
  wire::put(ask, "base_temperature", network.base_temperature);
  ask["gravity"] = weather.conditions.gas.gravity;
  return ask;
}

restore::Hold state_of(const linepack::Watched& watched) {
  if (!watched.judged) return restore::Hold::not_watched;
  switch (watched.judged->needle) {
    case linepack::Needle::held:
      return restore::Hold::held;
    case linepack::Needle::too_soon:
      return restore::Hold::too_soon;
    default:
      return restore::Hold::moved;
  }
}

Result<Held> held_of(const Question& question, const wire::Json& ask,
                     const procedure::Profile& profile, units::System system) {
  Held held;
  if (ask.empty()) return held;
  BELLHOLE_TRY(object, wire::Object::of(ask, "", &question.assumed));
  BELLHOLE_TRY(asked, wire::read_watch(object, system));
  BELLHOLE_TRY(done, object.done());
  static_cast<void>(done);
  BELLHOLE_TRY(watched, linepack::watch(asked, profile, system));
  question.assumed.insert(question.assumed.end(), watched.assumed.begin(), watched.assumed.end());
  held.state = state_of(watched);
  held.watched = std::move(watched);
  return held;
}

/// The list of shut meters, of which everyone is a customer or was found.
Result<std::optional<std::vector<restore::ShutRow>>> shut_of(
    const Question& question, const Network& network, const std::vector<restore::Meter>& found) {
  BELLHOLE_TRY(text, question.request.text("shut"));
  if (!text) return std::optional<std::vector<restore::ShutRow>>();
  BELLHOLE_TRY(list, wire::read_shut_list(*text));
  std::vector<restore::ShutRow> rows;
  for (wire::ListedMeter& listed : list) {
    const bool known = std::ranges::find(found, listed.row.id, &restore::Meter::id) != found.end();
    if (!known && !customer_named(network, listed.row.id, listed.where))
      return trouble(Code::unknown_element, listed.where, listed.row.id,
                     "no customer has that id: read the number again, or name a meter that no list "
                     "has as found");
    rows.push_back(std::move(listed.row));
  }
  return std::optional(std::move(rows));
}

wire::Json head_of(const Everybody& all, const Sector& sector, std::optional<Volume> volume,
                   std::size_t others) {
  wire::Json json;
  json["plan"] = nullptr;
  if (all.given)
    json["plan"] = {{"plan_id", all.given->reply.plan_id}, {"rank", all.given->plan().rank}};
  wire::Json part;
  part["names"] = sector.names;
  part["others"] = others;
  wire::put(part, "volume", volume);
  json["sector"] = part;
  return json;
}

}  // namespace

Answer relight(const Question& question) {
  const wire::Object& request = question.request;
  BELLHOLE_TRY(hash, request.need_text("network", "load a network and give its hash"));
  BELLHOLE_TRY(loaded, question.context.library.network(hash));
  BELLHOLE_TRY(system, units_of(question));
  BELLHOLE_TRY(profile, profile_of(question, system == units::System::us ? "us" : "metric"));
  const Network network = held_to(profile, loaded->network, question.assumed);
  Weather weather;
  BELLHOLE_TRY(all, everybody_of(question, *loaded, network, weather));
  BELLHOLE_TRY(sector, sector_of(question, network));
  BELLHOLE_TRY(found, found_of(question, network));

  restore::RelightQuestion asked;
  for (const LostCustomer& one : all.customers) {
    restore::Meter meter = meter_of(network, one.customer, one.why, all.along);
    if (sector.has(meter.main, meter.street)) asked.meters.push_back(std::move(meter));
  }
  const std::size_t others = all.customers.size() - asked.meters.size();
  asked.meters.insert(asked.meters.end(), found.begin(), found.end());
  if (!sector.names.empty()) asked.not_parted = not_parted(network, all, sector);
  BELLHOLE_TRY(shut, shut_of(question, network, found));
  asked.shut = std::move(shut);
  BELLHOLE_TRY(walked, request.texts("walked"));
  asked.walked = walked;
  BELLHOLE_TRY(technicians, wire::read_technicians(request));
  asked.technicians = technicians;
  BELLHOLE_TRY(rate, wire::read_rate(request));
  asked.rate = rate;
  BELLHOLE_TRY(revisits, wire::read_revisits(request));
  asked.revisits = revisits;
  const std::optional<Volume> volume = volume_of(network, all, sector);
  BELLHOLE_TRY(ask, watch_request(question, network, weather, volume));
  BELLHOLE_TRY(done, request.done());
  static_cast<void>(done);
  BELLHOLE_TRY(held, held_of(question, ask, profile, system));
  asked.hold = held.state;

  BELLHOLE_TRY(answer, restore::relight(asked, profile, system));
  wire::Json reply = wire::relight_json(asked, answer);
  reply.update(head_of(all, sector, volume, others));
  reply["question"] = "relight";
  reply["units"] = system == units::System::us ? "us" : "metric";
  reply["procedure"] = profile.id();
  reply["hold"] = held.watched ? wire::hold_json(*held.watched) : wire::Json(nullptr);
  question.assumed.insert(question.assumed.end(), answer.assumed.begin(), answer.assumed.end());
  Findings findings = answer.findings;
  if (held.watched) append(findings, held.watched->findings);
  wire::put_answer(reply, findings, question.assumed);
  return reply;
}

}  // namespace bellhole::ask
