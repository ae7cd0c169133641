#include "store/desk.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "units/parse.hpp"
#include "wire/job.hpp"

namespace bellhole::store {
namespace {

using wire::Json;

constexpr std::array<std::string_view, 7> kinds{"people", "instruments", "tools",   "refits",
                                                "stops",  "customers",   "networks"};

Json squeeze_json(const Store::Squeeze& squeeze) {
  Json json = {{"job", squeeze.job},    {"about", squeeze.about}, {"element", squeeze.element},
               {"pipe", squeeze.pipe},  {"at", squeeze.at},       {"marked", squeeze.marked},
               {"event", squeeze.event}};
  wire::put(json, "station", squeeze.station);
  wire::put(json, "away", squeeze.away);
  json["lon"] = squeeze.lon ? Json(*squeeze.lon) : Json(nullptr);
  json["lat"] = squeeze.lat ? Json(*squeeze.lat) : Json(nullptr);
  return json;
}

Result<std::pair<double, double>> read_place(const std::string& text) {
  const auto comma = text.find(',');
  const auto bad = [&] {
    return trouble(Code::unreadable_value, "near", text, "write LON,LAT in degrees: -20.0,36.0");
  };
  if (comma == std::string::npos) return bad();
  const auto lon = units::parse_number(text.substr(0, comma), "near"),
             lat = units::parse_number(text.substr(comma + 1), "near");
  if (!lon || !lat) return bad();
  if (std::abs(*lon) > 180.0 || std::abs(*lat) > 90.0)
    return trouble(Code::out_of_range, "near", text, "longitude first, within 180 and 90 degrees");
  return std::pair(*lon, *lat);
}

Result<std::vector<Store::Squeeze>> search_of(Store& store, const Search& search) {
  if (search.near.empty() && search.pipe.empty()) return store.squeezes();
  if (search.within.empty())
    return trouble(Code::missing_value, "within", "", "say within which distance: 50ft");
  BELLHOLE_TRY(within, units::parse<kinds::Length>(search.within, "within"));
  if (!search.near.empty()) {
    BELLHOLE_TRY(place, read_place(search.near));
    return store.squeezes_near(place.first, place.second, within.value);
  }
  if (search.station.empty())
    return trouble(Code::missing_value, "station", "", "say where along the main: 120ft");
  BELLHOLE_TRY(station, units::parse<kinds::Length>(search.station, "station"));
  return store.squeezes_on(search.pipe, station.value, within.value);
}

/// Ids of a network's tables that are new, gone, or not as they were.
Json network_changes(const Json& before, const Json& now) {
  Json changes = Json::object();
  for (const auto& [table, columns] : now.items()) {
    if (!columns.is_object() || !columns.contains("id") || !columns.at("id").is_array()) continue;
    const auto rows = [&](const Json& network) {
      std::map<std::string, Json> all;
      const Json& from = network.contains(table) ? network.at(table) : Json::object();
      const Json ids = from.value("id", Json::array());
      for (std::size_t i = 0; i < ids.size(); ++i) {
        Json row;
        for (const auto& [key, column] : from.items())
          if (column.is_array() && column.size() == ids.size()) row[key] = column[i];
        all[ids[i].is_string() ? ids[i].get<std::string>() : ids[i].dump()] = row;
      }
      return all;
    };
    const auto old_rows = rows(before), new_rows = rows(now);
    Json added = Json::array(), gone = Json::array(), changed = Json::array();
    for (const auto& [id, row] : new_rows) {
      const auto old = old_rows.find(id);
      if (old == old_rows.end())
        added.push_back(id);
      else if (old->second != row)
        changed.push_back(id);
    }
    for (const auto& [id, row] : old_rows)
      if (!new_rows.contains(id)) gone.push_back(id);
    if (!added.empty() || !gone.empty() || !changed.empty())
      changes[table] = {{"added", added}, {"gone", gone}, {"changed", changed}};
  }
  return changes;
}

Result<Json> enroll_network(Store& store, std::string_view bytes, std::string_view name,
                            const std::string& entered_at) {
  BELLHOLE_TRY(network, wire::parse_json(bytes, name, wire::network_cap));
  if (!network.is_object() || !network.contains("pipes"))
    return trouble(Code::unreadable_document, std::string(name), "no network",
                   "give a network file, as `import` wrote it");
  BELLHOLE_TRY(hash, store.keep(bytes));
  const std::string id = wire::text_in(network, "name", "network");
  Json document = {{"hash", hash},
                   {"name", id},
                   {"map_date", wire::text_in(network, "map_date")},
                   {"imported_from", wire::text_in(network, "imported_from")},
                   {"before", nullptr},
                   {"changes", Json::object()}};
  BELLHOLE_TRY(all, store.entries("networks"));
  const auto before = std::ranges::find(all, id, &Store::Entry::id);
  if (before != all.end()) {
    BELLHOLE_TRY(old, wire::parse_json(before->document, "register"));
    document["before"] = old.at("hash");
    if (old.at("hash") == hash) return document;
    BELLHOLE_TRY(old_bytes, store.blob(old.at("hash").get<std::string>()));
    BELLHOLE_TRY(old_network, wire::parse_json(old_bytes, "register", wire::network_cap));
    document["changes"] = network_changes(old_network, network);
  }
  BELLHOLE_TRY(done, store.enroll("networks", id, document.dump(), entered_at));
  static_cast<void>(done);
  return document;
}

}  // namespace

Result<Json> begin_job(Store& store, const Json& opened, std::string_view plan,
                       std::string_view plan_name, std::int64_t rank, const std::string& by,
                       const Machine& machine) {
  const std::string job = job::uuid_v7(machine.now().at, machine.random());
  std::vector<Json> drafts{{{"kind", "opened"}, {"fact", opened}}};
  if (!plan.empty()) {
    BELLHOLE_TRY(planned, wire::drafts_of_plan(plan, plan_name, rank, opened));
    drafts = std::move(planned);
  }
  for (Json& draft : drafts)
    if (!by.empty()) draft["by"] = by;
  BELLHOLE_TRY(taken, store.enter(job, drafts, "job new", machine));
  Json reply = {{"question", "job-new"}, {"job", job}, {"added", taken.added}, {"plan", nullptr}};
  if (!plan.empty()) {
    BELLHOLE_TRY(hash, store.keep(plan));
    reply["plan"] = {
        {"plan_id", drafts[1].at("fact").at("plan_id")}, {"result", hash}, {"rank", rank}};
  }
  wire::put_answer(reply, {}, {});
  return reply;
}

Result<std::string> head_lines(Store& store, const std::string& job) {
  BELLHOLE_TRY(text, store.log(job));
  BELLHOLE_TRY(log, wire::read_log(text, job));
  std::string lines;
  for (const Json& head : wire::heads_json(log.heads())) lines += head.get<std::string>() + "\n";
  return lines;
}

Result<Json> taken_reply(Store& store, const char* question, const Taken& taken,
                         const std::string& job) {
  Json reply = {{"question", question}, {"added", taken.added}, {"known", taken.known}};
  std::vector<std::string> jobs = taken.jobs;
  if (jobs.empty() && !job.empty()) jobs.push_back(job);
  Json heads = Json::object();
  Findings findings;
  for (const std::string& one : jobs) {
    BELLHOLE_TRY(text, store.log(one));
    BELLHOLE_TRY(log, wire::read_log(text, one));
    heads[one] = wire::heads_json(log.heads());
    for (const job::ChainFault& fault : job::check_log(log))
      findings.push_back(
          {.rule = fault.how == job::Broken::removed ? "job.event_missing" : "job.record_broken",
           .grade = fault.how == job::Broken::removed ? Grade::warn : Grade::halt,
           .says = fault.says,
           .source = "the chain of the log itself",
           .evidence = Evidence::derived,
           .action = "fetch the log of every device and merge it",
           .about = "job " + one});
  }
  reply["job"] = jobs.size() == 1 ? Json(jobs.front()) : Json(nullptr);
  reply["heads"] = heads;
  wire::put_answer(reply, findings, {});
  return reply;
}

Json jobs_reply(const std::vector<JobLine>& jobs) {
  Json list = Json::array();
  for (const JobLine& job : jobs)
    list.push_back({{"job", job.job},
                    {"title", job.title},
                    {"work", job.work},
                    {"opened_at", job.opened_at},
                    {"events", job.events}});
  Json reply = {{"question", "job-list"}, {"jobs", list}};
  wire::put_answer(reply, {}, {});
  return reply;
}

Result<Json> squeezes_reply(Store& store, const Search& search, units::System system) {
  BELLHOLE_TRY(found, search_of(store, search));
  Json list = Json::array();
  Findings findings;
  std::size_t unplaced = 0;
  for (const Store::Squeeze& squeeze : found) {
    list.push_back(squeeze_json(squeeze));
    if (search.near.empty() && search.pipe.empty()) continue;
    if (!squeeze.away) ++unplaced;
    findings.push_back(
        {.rule = "register.squeeze",
         .grade = squeeze.away ? Grade::warn : Grade::undecided,
         .says =
             squeeze.away
                 ? fmt::format("squeezed here before: {} away, {}, {}",
                               units::print(*squeeze.away, system, units::Toward::down),
                               squeeze.pipe, squeeze.at)
                 : fmt::format("a squeeze of {} has no place on record: it may be here ({}, {})",
                               squeeze.element.empty() ? "an unknown main" : squeeze.element,
                               squeeze.pipe, squeeze.at),
         .source = "the register of squeezes",
         .evidence = Evidence::entered,
         .action = "a place that was squeezed is never squeezed again: keep clear of it",
         .about = squeeze.element});
  }
  Json reply = {
      {"question", "register"}, {"kind", "squeezes"}, {"entries", list}, {"unplaced", unplaced}};
  wire::put_answer(
      reply, findings,
      {"only squeezes that were recorded in this store are known here; the pipe itself "
       "may show more"});
  return reply;
}

bool is_register(std::string_view kind) { return std::ranges::find(kinds, kind) != kinds.end(); }

Result<Json> enroll_reply(Store& store, const std::string& kind, std::string_view bytes,
                          std::string_view name, const std::string& entered_at) {
  Json reply = {{"question", "register"}, {"kind", kind}, {"entries", Json::array()}};
  if (kind == "networks") {
    BELLHOLE_TRY(network, enroll_network(store, bytes, name, entered_at));
    reply["entries"].push_back(network);
  } else {
    BELLHOLE_TRY(json, wire::parse_json(bytes, name));
    const Json& list = json.is_object() && json.contains(kind) ? json.at(kind) : json;
    std::vector<Json> all;
    if (list.is_array())
      all.assign(list.begin(), list.end());
    else
      all.push_back(list);
    for (std::size_t i = 0; i < all.size(); ++i)
      if (!all[i].is_object() || !all[i].value("id", Json()).is_string())
        return trouble(Code::missing_value, fmt::format("{}, entry {}", name, i + 1), "id",
                       "every entry of a register is an object with an id");
    for (const Json& one : all) {
      BELLHOLE_TRY(done,
                   store.enroll(kind, one.at("id").get<std::string>(), one.dump(), entered_at));
      static_cast<void>(done);
      reply["entries"].push_back(one);
    }
  }
  wire::put_answer(reply, {}, {});
  return reply;
}

Result<Json> register_reply(Store& store, const std::string& kind) {
  BELLHOLE_TRY(all, store.entries(kind));
  Json reply = {{"question", "register"}, {"kind", kind}, {"entries", Json::array()}};
  for (const Store::Entry& entry : all) {
    BELLHOLE_TRY(document, wire::parse_json(entry.document, "register", wire::plan_cap));
    document["version"] = entry.version;
    document["entered_at"] = entry.entered_at;
    reply["entries"].push_back(document);
  }
  wire::put_answer(reply, {}, {});
  return reply;
}

}  // namespace bellhole::store
