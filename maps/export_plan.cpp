#include "maps/export_plan.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <nlohmann/json.hpp>

#include "wire/json.hpp"

namespace bellhole::maps {
namespace {

using wire::Json;

constexpr wire::Cap plan_cap{std::size_t{256} << 20, 32};

OutCell text(const Json& object, const char* key) {
  const auto found = object.find(key);
  return found != object.end() && found->is_string() ? text_cell(found->get<std::string>())
                                                     : OutCell();
}
double number(const Json& object, const char* key) {
  const auto found = object.find(key);
  return found != object.end() && found->is_number() ? found->get<double>()
                                                     : std::numeric_limits<double>::quiet_NaN();
}
OutCell number_of(const Json& object, const char* key) { return number_cell(number(object, key)); }
const Json& list(const Json& object, const char* key) {
  static const Json nothing = Json::array();
  const auto found = object.find(key);
  return found != object.end() && found->is_array() ? *found : nothing;
}
const Json& part(const Json& object, const char* key) {
  static const Json nothing = Json::object();
  const auto found = object.find(key);
  return found != object.end() && found->is_object() ? *found : nothing;
}
/// Texts of a list in one cell, one a line.
OutCell lines(const Json& findings, const char* key) {
  std::string out;
  for (const Json& finding : findings) {
    const auto found = finding.find(key);
    if (found != finding.end() && found->is_string())
      out += (out.empty() ? "" : "\n") + found->get<std::string>();
  }
  return text_cell(out);
}

/// The lines of the mains around the work, to find places along them.
class Mains {
 public:
  explicit Mains(const Json& map) {
    for (const Json& json : list(map, "lines")) {
      Main main;
      const Json& xy = list(json, "xy_m");
      for (std::size_t k = 0; k + 1 < xy.size(); k += 2) {
        if (xy[k].is_number() && xy[k + 1].is_number())
          main.line.push_back({xy[k].get<double>(), xy[k + 1].get<double>()});
      }
      main.recorded = number(json, "length_m");
      if (const auto id = json.find("pipe");
          id != json.end() && id->is_string() && main.line.size() > 1) {
        by_id_.emplace(id->get<std::string>(), std::move(main));
      }
    }
  }
  /// Stations follow the recorded length, which may differ from the drawn one.
  std::vector<Line> stretch(const Json& piece) const {
    const Main* main = find(piece);
    const double from = drawn(main, number(piece, "from_station_m")),
                 to = drawn(main, number(piece, "to_station_m"));
    if (!(from >= 0.0) || !(to >= from)) return {};
    if (to == from) return {{point_at(main->line, from), point_at(main->line, to)}};
    return {cut(main->line, from, to)};
  }
  std::vector<Line> point(const Json& place) const {
    const Main* main = find(place);
    const double station = drawn(main, number(place, "station_m"));
    if (!(station >= 0.0)) return {};
    return {{point_at(main->line, station)}};
  }

 private:
  struct Main {
    Line line;
    double recorded = 0.0;
  };
  const Main* find(const Json& place) const {
    const auto id = place.find("pipe");
    if (id == place.end() || !id->is_string()) return nullptr;
    const auto found = by_id_.find(id->get<std::string>());
    return found == by_id_.end() ? nullptr : &found->second;
  }
  static double drawn(const Main* main, double station) {
    if (main == nullptr || !(main->recorded > 0.0)) return std::numeric_limits<double>::quiet_NaN();
    const double whole = length(main->line);
    return std::clamp(station * whole / main->recorded, 0.0, whole);
  }
  std::map<std::string, Main> by_id_;
};

/// A point by its own coordinates.
std::vector<Line> own_point(const Json& object) {
  const double x = number(object, "x_m"), y = number(object, "y_m");
  if (!std::isfinite(x) || !std::isfinite(y)) return {};
  return {{{x, y}}};
}

OutTable work_table(const Json& reply) {
  OutTable out{.name = "work",
               .shape = Shape::point,
               .columns = {{"says"}, {"kind"}, {"pipe"}, {"plan_id"}, {"network"}, {"verdict"}}};
  const Json& work = part(reply, "work");
  out.rows.push_back(
      {{text(work, "says"), text(reply, "kind"), text(work, "pipe"), text(reply, "plan_id"),
        text(part(reply, "network"), "hash"), text(reply, "verdict")},
       own_point(work)});
  return out;
}

OutTable shutoff_table(const Json& reply) {
  OutTable out{.name = "shutoff",
               .shape = Shape::point,
               .columns = {{"plan", Holds::whole},
                           {"id"},
                           {"kind"},
                           {"element"},
                           {"pipe"},
                           {"station_m", Holds::number},
                           {"says"},
                           {"if_it_fails"},
                           {"pressure_pa_gauge", Holds::number},
                           {"size"},
                           {"window_from_m", Holds::number},
                           {"window_to_m", Holds::number},
                           {"time_to_shut_s", Holds::number},
                           {"findings"},
                           {"lon", Holds::number},
                           {"lat", Holds::number}}};
  for (const Json& plan : list(reply, "plans")) {
    for (const Json& s : list(plan, "shutoffs")) {
      const Json& window = list(s, "window_m");
      const bool has_window = window.size() == 2 && window[0].is_number() && window[1].is_number();
      out.rows.push_back(
          {{static_cast<std::int64_t>(number(plan, "rank")), text(s, "id"), text(s, "kind"),
            text(s, "element"), text(s, "pipe"), number_of(s, "station_m"), text(s, "says"),
            text(part(s, "if_it_fails"), "says"), number_of(s, "pressure_pa_gauge"),
            text(s, "size"), has_window ? OutCell(window[0].get<double>()) : OutCell(),
            has_window ? OutCell(window[1].get<double>()) : OutCell(),
            number_of(s, "time_to_shut_s"), lines(list(s, "findings"), "says"), number_of(s, "lon"),
            number_of(s, "lat")},
           own_point(s)});
    }
  }
  return out;
}

OutTable isolated_table(const Json& reply, const Mains& mains) {
  OutTable out{.name = "isolated",
               .shape = Shape::line,
               .columns = {{"plan", Holds::whole},
                           {"pipe"},
                           {"from_station_m", Holds::number},
                           {"to_station_m", Holds::number}}};
  for (const Json& plan : list(reply, "plans")) {
    for (const Json& piece : list(part(plan, "isolated"), "pieces")) {
      out.rows.push_back({{static_cast<std::int64_t>(number(plan, "rank")), text(piece, "pipe"),
                           number_of(piece, "from_station_m"), number_of(piece, "to_station_m")},
                          mains.stretch(piece)});
    }
  }
  return out;
}

OutTable customer_table(const Json& reply, const Mains& mains) {
  OutTable out{.name = "customer_out",
               .shape = Shape::point,
               .columns = {{"plan", Holds::whole},
                           {"id"},
                           {"street"},
                           {"pipe"},
                           {"station_m", Holds::number},
                           {"cause"},
                           {"must_not_lose"},
                           {"why_not"}}};
  for (const Json& plan : list(reply, "plans")) {
    for (const Json& customer : list(plan, "customers_out")) {
      const bool must = customer.value("must_not_lose", false);
      out.rows.push_back({{static_cast<std::int64_t>(number(plan, "rank")), text(customer, "id"),
                           text(customer, "street"), text(customer, "pipe"),
                           number_of(customer, "station_m"), text(customer, "cause"),
                           OutCell(std::string(must ? "yes" : "no")), text(customer, "why_not")},
                          mains.point(customer)});
    }
  }
  return out;
}

OutTable main_table(const Json& map) {
  OutTable out{.name = "main",
               .shape = Shape::line,
               .columns = {{"pipe"}, {"size"}, {"tier"}, {"material"}, {"street"}}};
  for (const Json& main : list(map, "lines")) {
    Line line;
    const Json& xy = list(main, "xy_m");
    for (std::size_t k = 0; k + 1 < xy.size(); k += 2) {
      if (xy[k].is_number() && xy[k + 1].is_number())
        line.push_back({xy[k].get<double>(), xy[k + 1].get<double>()});
    }
    out.rows.push_back({{text(main, "pipe"), text(main, "size"), text(main, "tier"),
                         text(main, "material"), text(main, "street")},
                        line.size() > 1 ? std::vector<Line>{line} : std::vector<Line>{}});
  }
  return out;
}

/// What the plans say in words: a map without them would look more certain than its plan.
OutTable remark_table(const Json& reply) {
  OutTable out{.name = "remark",
               .columns = {{"plan", Holds::whole}, {"grade"}, {"says"}, {"action"}, {"about"}}};
  const auto add = [&](OutCell plan, const Json& findings) {
    for (const Json& finding : findings)
      out.rows.push_back({{plan, text(finding, "grade"), text(finding, "says"),
                           text(finding, "action"), text(finding, "about")},
                          {}});
  };
  add(OutCell(), list(reply, "findings"));
  for (const Json& plan : list(reply, "plans"))
    add(static_cast<std::int64_t>(number(plan, "rank")), list(plan, "findings"));
  for (const Json& line : list(reply, "assumed")) {
    if (line.is_string())
      out.rows.push_back({{OutCell(), OutCell(std::string("assumed")),
                           OutCell(line.get<std::string>()), OutCell(), OutCell()},
                          {}});
  }
  return out;
}

}  // namespace

Result<PlanMap> plan_tables(std::string_view bytes, std::string_view name) {
  BELLHOLE_TRY(reply, wire::parse_json(bytes, name, plan_cap));
  const Json& map = reply.is_object() ? part(reply, "map") : reply;
  const bool good = reply.is_object() && reply.value("question", Json()) == "plan" &&
                    map.value("crs", Json()).is_string();
  if (!good) {
    return trouble(Code::unreadable_document, std::string(name), "",
                   "give a reply of `bellhole plan --json`");
  }
  for (const Json& plan : list(reply, "plans")) {
    if (!std::isfinite(number(plan, "rank")))
      return trouble(Code::unreadable_document, fmt::format("{}: plans", name),
                     plan.dump().substr(0, 60), "every plan has a rank");
  }
  const Mains mains(map);
  PlanMap out;
  out.crs = map.at("crs").get<std::string>();
  out.lon = number(part(reply, "work"), "lon");
  out.lat = number(part(reply, "work"), "lat");
  out.tables = {work_table(reply),
                shutoff_table(reply),
                isolated_table(reply, mains),
                customer_table(reply, mains),
                main_table(map),
                remark_table(reply)};
  return out;
}

}  // namespace bellhole::maps
