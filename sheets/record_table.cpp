#include "sheets/record_table.hpp"

#include <array>
#include <nlohmann/json.hpp>
#include <vector>

namespace bellhole::sheets {
namespace {

using wire::Json;

/// RFC 4180, section 2: quoted where it must be, quotes doubled.
std::string cell(const Json& value) {
  if (value.is_null()) return {};
  if (!value.is_string()) return value.dump();
  const auto& text = value.get_ref<const std::string&>();
  if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
  std::string quoted = "\"";
  for (const char c : text) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + '"';
}

const Json& under(const Json& row, std::string_view path) {
  static const Json nothing;
  const Json* at = &row;
  while (!path.empty()) {
    const auto dot = path.find('.');
    const auto found = at->is_object() ? at->find(std::string(path.substr(0, dot))) : at->end();
    if (!at->is_object() || found == at->end()) return nothing;
    at = &*found;
    path = dot == std::string_view::npos ? std::string_view() : path.substr(dot + 1);
  }
  return *at;
}

std::string table(const Json& rows, const std::vector<std::string_view>& columns) {
  std::string text;
  const auto line = [&](const auto& cell_of) {
    for (std::size_t i = 0; i < columns.size(); ++i)
      text += (i > 0 ? "," : "") + cell_of(columns[i]);
    text += "\r\n";
  };
  line([](std::string_view column) { return std::string(column); });
  for (const Json& row : rows)
    line([&](std::string_view column) { return cell(under(row, column)); });
  return text;
}

/// The inner lists of a list as one, each row with the id of what it belongs to.
Json flat(const Json& outer, const char* id, const char* inner) {
  Json rows = Json::array();
  for (const Json& one : outer)
    for (Json row : one.value(inner, Json::array())) {
      row["of"] = one.value(id, Json());
      rows.push_back(std::move(row));
    }
  return rows;
}

}  // namespace

Result<std::string> record_csv(const Record& record, std::string_view sheet) {
  const Json &state = record.state, &audit = record.audit;
  if (sheet == "record")
    return table(audit.at("deviations"),
                 {"grade", "at", "by", "device", "rule", "says", "quantity", "value_si", "limit_si",
                  "unit_si", "source", "evidence", "about", "event"});
  if (sheet == "squeeze")
    return table(flat(state.at("shutoffs"), "id", "bars"),
                 {"of", "stamp.happened_at", "stamp.by", "gap_m", "pump_pa_gauge", "stamp.source",
                  "stamp.event"});
  if (sheet == "test")
    return table(state.at("tests"), {"section", "medium", "began", "ended", "at_start_pa_gauge",
                                     "at_end_pa_gauge", "held", "instrument", "elevation", "leaks",
                                     "employee", "company", "stamp.event"});
  if (sheet == "purge")
    return table(state.at("purges"),
                 {"section", "direction", "medium", "began", "ended", "vent", "at_vent", "detector",
                  "volume_m3", "reading_1", "reading_2", "stamp.by", "stamp.event"});
  if (sheet == "outage")
    return table(flat(state.at("outage").at("meters"), "meter", "visits"),
                 {"meter", "did", "stamp.happened_at", "stamp.by", "says", "stamp.event"});
  if (sheet == "as-laid")
    return table(state.at("laid"),
                 {"what", "about", "element", "station_m", "depth_m", "lon", "lat", "marked",
                  "stamp.happened_at", "stamp.by", "stamp.event"});
  if (sheet == "handover") return table(record.handover.at("lines"), {"head", "says"});
  return trouble(Code::unreadable_value, "sheet", std::string(sheet),
                 "record, squeeze, test, purge, outage, as-laid or handover");
}

}  // namespace bellhole::sheets
