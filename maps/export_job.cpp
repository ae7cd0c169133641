#include "maps/export_job.hpp"

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>

#include "wire/json.hpp"

namespace bellhole::maps {
namespace {

using wire::Json;

const Json& part(const Json& object, const char* key) {
  static const Json nothing;
  if (!object.is_object()) return nothing;
  const auto found = object.find(key);
  return found == object.end() ? nothing : *found;
}
OutCell text(const Json& object, const char* key) {
  const Json& value = part(object, key);
  return value.is_string() ? text_cell(value.get<std::string>()) : OutCell();
}
double number(const Json& object, const char* key) {
  const Json& value = part(object, key);
  return value.is_number() ? value.get<double>() : std::numeric_limits<double>::quiet_NaN();
}

std::vector<Line> point(const Json& object) {
  const double lon = number(object, "lon"), lat = number(object, "lat");
  if (!std::isfinite(lon) || !std::isfinite(lat)) return {};
  return {{{lon, lat}}};
}

OutTable laid_table(const Json& reply) {
  OutTable out{.name = "laid",
               .shape = Shape::point,
               .columns = {{"what"},
                           {"about"},
                           {"main"},
                           {"station_m", Holds::number},
                           {"depth_m", Holds::number},
                           {"tapes"},
                           {"marked"},
                           {"at"},
                           {"by"},
                           {"event"}}};
  for (const Json& laid : part(reply, "laid")) {
    std::string tapes;
    for (const Json& offset : part(laid, "offsets"))
      tapes += (tapes.empty() ? "" : "; ") + part(offset, "distance_m").dump() + " m from " +
               (part(offset, "from").is_string() ? part(offset, "from").get<std::string>() : "");
    const Json& stamp = part(laid, "stamp");
    out.rows.push_back(
        {{text(laid, "what"), text(laid, "about"), text(laid, "element"),
          number_cell(number(laid, "station_m")), number_cell(number(laid, "depth_m")),
          text_cell(tapes), text(laid, "marked"), text(stamp, "happened_at"), text(stamp, "by"),
          text(stamp, "event")},
         point(laid)});
  }
  return out;
}

/// Rows without a place of their own: a map that leaves them out would look complete.
OutTable act_table(const Json& reply) {
  OutTable out{.name = "act", .columns = {{"did"}, {"about"}, {"at"}, {"by"}, {"event"}}};
  for (const Json& act : part(reply, "acts")) {
    const Json& stamp = part(act, "stamp");
    out.rows.push_back({{text(act, "did"), text(act, "about"), text(stamp, "happened_at"),
                         text(stamp, "by"), text(stamp, "event")},
                        {}});
  }
  return out;
}

}  // namespace

Result<PlanMap> job_tables(std::string_view bytes, std::string_view name) {
  BELLHOLE_TRY(reply, wire::parse_json(bytes, name, wire::plan_cap));
  if (part(reply, "question") != "job-state" || !part(reply, "laid").is_array())
    return trouble(Code::unreadable_document, std::string(name), "",
                   "give a reply of `bellhole job state --json`");
  PlanMap out;
  out.crs = degrees;
  out.lon = number(part(reply, "opened"), "lon");
  out.lat = number(part(reply, "opened"), "lat");
  out.tables = {laid_table(reply), act_table(reply)};
  return out;
}

Result<PlanMap> reply_tables(std::string_view bytes, std::string_view name) {
  BELLHOLE_TRY(reply, wire::parse_json(bytes, name, wire::plan_cap));
  return part(reply, "question") == "job-state" ? job_tables(bytes, name)
                                                : plan_tables(bytes, name);
}

}  // namespace bellhole::maps
