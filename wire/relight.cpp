#include "wire/relight.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <nlohmann/json.hpp>

#include "units/parse.hpp"
#include "wire/text_table.hpp"

namespace bellhole::wire {
namespace {

using restore::Lost;
using restore::Shut;

constexpr std::array<std::string_view, 5> lost_words{"isolated", "pocket", "short", "dipped",
                                                     "found"};
constexpr std::array<std::string_view, 4> shut_words{"meter", "curb", "locked", "relit"};
constexpr std::string_view not_yet = "not yet";
constexpr std::array needle_words{"too_soon", "held", "fell", "rose", "moved", "both_ways"};

Json text_or_null(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

Json rate_json(const std::optional<restore::Rate>& rate) {
  if (!rate) return nullptr;
  return {{"low", rate->low}, {"expected", rate->expected}, {"high", rate->high}};
}

Json list_json(const restore::RelightQuestion& question, const restore::Relight& relight) {
  if (!question.shut) return nullptr;
  return {{"listed", question.shut->size()},
          {"same", relight.same.value_or(false)},
          {"not_shut", relight.not_shut},
          {"not_affected", relight.not_affected},
          {"curb", relight.curb},
          {"locked", relight.locked},
          {"relit", relight.relit}};
}

/// Without the apostrophe that keeps a spreadsheet from reckoning.
std::string plain(const std::string& cell) {
  const bool kept = cell.size() > 1 && cell[0] == '\'' &&
                    std::string_view("=+-@").find(cell[1]) != std::string_view::npos;
  return kept ? cell.substr(1) : cell;
}

Json row_json(const restore::ShutRow* row) {
  if (row == nullptr) return nullptr;
  return {{"how", shut_words[static_cast<std::size_t>(row->how)]},
          {"time", text_or_null(row->when)},
          {"by", text_or_null(row->by)}};
}

}  // namespace

std::string_view to_string(Lost lost) { return lost_words[static_cast<std::size_t>(lost)]; }

Result<std::vector<ListedMeter>> read_shut_list(const std::string& text) {
  BELLHOLE_TRY(table, read_table(text, "shut",
                                 {{{"meter", "customer", "premise", "id"}},
                                  {{"how", "state", "shut at"}},
                                  {{"time", "when", "at"}, false},
                                  {{"by", "who", "technician"}, false},
                                  {{"order"}, false},
                                  {{"round"}, false},
                                  {{"street"}, false},
                                  {{"main"}, false},
                                  {{"station"}, false},
                                  {{"must not lose"}, false},
                                  {{"excess-flow valve"}, false},
                                  {{"cause"}, false}}));
  std::vector<ListedMeter> list;
  for (const TextRow& row : table.rows) {
    BELLHOLE_TRY(how, one_of(*row.cells[1],
                             {shut_words[0], shut_words[1], shut_words[2], shut_words[3], not_yet},
                             row.where));
    if (how == shut_words.size()) continue;
    list.push_back({{plain(*row.cells[0]), static_cast<Shut>(how), row.cells[2].value_or(""),
                     row.cells[3].value_or("")},
                    row.where});
  }
  return list;
}

Result<std::vector<std::string>> read_short_customers(std::string_view bytes,
                                                      std::string_view name) {
  BELLHOLE_TRY(json, parse_json(bytes, name, plan_cap));
  std::vector<std::string> assumed;
  BELLHOLE_TRY(object, Object::of(json, std::string(name), &assumed));
  BELLHOLE_TRY(question, object.text("question"));
  if (question != "time-left")
    return trouble(Code::unreadable_document, std::string(name), question.value_or(""),
                   "give the reply of time-left --json");
  BELLHOLE_TRY(customers, object.objects("customers"));
  std::vector<std::string> ids;
  for (const Object& customer : customers) {
    BELLHOLE_TRY(id, customer.need_text("id", "a customer has an id"));
    ids.push_back(id);
  }
  return ids;
}

Result<std::optional<restore::Rate>> read_rate(const Object& request) {
  BELLHOLE_TRY(text, request.text("rate"));
  if (!text) return std::optional<restore::Rate>();
  const auto colon = text->find(':');
  BELLHOLE_TRY(low, units::parse_number(text->substr(0, colon), request.at("rate")));
  double high = low;
  if (colon != std::string::npos) {
    BELLHOLE_TRY(end, units::parse_number(text->substr(colon + 1), request.at("rate")));
    high = end;
  }
  if (!(low > 0.0) || !(high >= low))
    return trouble(Code::out_of_range, request.at("rate"), *text,
                   "give visits per technician and hour, more than nought: 0.5, or 0.4:0.6");
  return std::optional(restore::Rate{low, 0.5 * (low + high), high});
}

Result<std::optional<double>> read_revisits(const Object& request) {
  BELLHOLE_TRY(share, request.quantity<kinds::Fraction>("revisits"));
  if (!share) return std::optional<double>();
  if (!(share->si() >= 0.0 && share->si() <= 1.0))
    return trouble(Code::out_of_range, request.at("revisits"), fmt::format("{:g}", share->si()),
                   "a share of the meters lies between 0 and 100 %");
  return std::optional(share->si());
}

Result<std::optional<std::int64_t>> read_technicians(const Object& request) {
  BELLHOLE_TRY(count, request.whole("technicians"));
  if (count && *count < 1)
    return trouble(Code::out_of_range, request.at("technicians"), std::to_string(*count),
                   "somebody must visit: give one or more");
  return count;
}

Json band_json(const std::optional<restore::Band>& band) {
  if (!band) return nullptr;
  Json json;
  put(json, "shortest", band->shortest);
  put(json, "expected", band->expected);
  put(json, "longest", band->longest);
  return json;
}

Json visit_json(const restore::Meter& meter, const restore::Visit& visit, std::size_t position) {
  Json json;
  json["position"] = position + 1;
  json["round"] = visit.round;
  json["place"] = visit.place;
  json["id"] = meter.id;
  json["street"] = text_or_null(meter.street);
  json["pipe"] = text_or_null(meter.main);
  put(json, "station", meter.station);
  put(json, "along", meter.along);
  json["must_not_lose"] = meter.must_not_lose;
  json["why_not"] = text_or_null(meter.why_not);
  json["cause"] = to_string(meter.lost);
  json["excess_flow_valve"] =
      meter.excess_flow_valve ? Json(*meter.excess_flow_valve) : Json(nullptr);
  json["done"] = band_json(visit.done);
  return json;
}

Json relight_json(const restore::RelightQuestion& question, const restore::Relight& relight) {
  Json json;
  json["affected"] = question.meters.size();
  json["shut"] = list_json(question, relight);
  json["technicians"] = question.technicians ? Json(*question.technicians) : Json(nullptr);
  json["rate"] = rate_json(relight.rate);
  json["revisit_share"] = relight.revisits_known ? Json(relight.revisits) : Json(nullptr);
  json["visits_needed"] = relight.visits_needed;
  json["shutting"] = band_json(relight.shutting);
  json["first_ones"] = band_json(relight.first_ones);
  json["all"] = band_json(relight.all);
  std::map<std::string_view, const restore::ShutRow*> rows;
  if (question.shut)
    for (const restore::ShutRow& row : *question.shut) rows.emplace(row.id, &row);
  Json visits = Json::array();
  for (std::size_t i = 0; i < relight.visits.size(); ++i) {
    const restore::Meter& meter = question.meters[relight.visits[i].meter];
    Json visit = visit_json(meter, relight.visits[i], i);
    const auto row = rows.find(meter.id);
    visit["listed"] = row_json(row == rows.end() ? nullptr : row->second);
    visits.push_back(visit);
  }
  json["visits"] = visits;
  Json lit = Json::array();
  for (const auto& [id, row] : rows) {
    if (row->how != Shut::relit) continue;
    Json one = row_json(row);
    one["id"] = id;
    lit.push_back(one);
  }
  json["lit"] = lit;
  Json streets = Json::array();
  for (const restore::Street& street : relight.streets)
    streets.push_back({{"name", text_or_null(street.name)},
                       {"meters", street.meters},
                       {"walked", street.walked}});
  json["streets"] = streets;
  json["cautions"] = relight.cautions;
  return json;
}

Json hold_json(const linepack::Watched& watched) {
  Json json;
  json["says"] = watched.says;
  json["not_concluded"] = watched.not_concluded;
  put(json, "watch", watched.watch);
  put(json, "watched",
      watched.judged ? std::optional(watched.judged->watched) : std::optional<Duration>());
  json["needle"] = watched.judged
                       ? Json(needle_words[static_cast<std::size_t>(watched.judged->needle)])
                       : Json(nullptr);
  return json;
}

}  // namespace bellhole::wire
