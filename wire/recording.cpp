#include "wire/recording.hpp"

#include <fmt/format.h>

#include <array>
#include <nlohmann/json.hpp>

#include "units/parse.hpp"
#include "wire/text_table.hpp"

namespace bellhole::wire {
namespace {

using squeeze::RecordedPoint;
using squeeze::Recording;

constexpr std::array moved_words{"closing", "still", "opening"};
/// How near a gap is read where nobody says: half a hundredth of an inch, a tenth of a millimetre.
constexpr auto read_to_us = Length::from_si(0.005 * 0.0254), read_to_metric = Length::from_si(1e-4);

/// "0s 4.5in 200psi": time, gap and, if it was read, pump pressure; each with its unit and no blank
/// inside.
Result<RecordedPoint> typed_point(const std::string& text, const std::string& where,
                                  Moments& moments, OneUnit& gaps, OneUnit& pumps) {
  const auto first = text.find(' ');
  const auto second = first == std::string::npos ? first : text.find(' ', first + 1);
  if (first == std::string::npos) {
    return trouble(Code::unreadable_value, where, text,
                   "write time, gap and, if it was read, pump pressure: 30s 3.50in 2200psi");
  }
  RecordedPoint point;
  point.where = where;
  BELLHOLE_TRY(at, moments.read(text.substr(0, first), "", where));
  const std::string gap_text = text.substr(first + 1, second - first - 1);
  BELLHOLE_TRY(gap, units::parse<kinds::Length>(gap_text, where));
  BELLHOLE_TRY(same, gaps.hold(gap_text, where));
  static_cast<void>(same);
  point.at = at;
  point.gap = gap.value;
  if (second == std::string::npos) return point;
  BELLHOLE_TRY(pump, units::parse<kinds::GaugePressure>(text.substr(second + 1), where));
  BELLHOLE_TRY(same_pump, pumps.hold(text.substr(second + 1), where));
  static_cast<void>(same_pump);
  point.pump = pump.value;
  return point;
}

Result<std::vector<RecordedPoint>> table_points(const std::string& text) {
  BELLHOLE_TRY(table, read_table(text, "recording",
                                 {{{"time", "at", "clock", "t"}},
                                  {{"gap", "gap between the bars", "bar gap"}},
                                  {{"pump", "pump pressure", "pressure", "oil"}, false}}));
  std::vector<RecordedPoint> points;
  Moments moments;
  OneUnit gaps, pumps;
  for (const TextRow& row : table.rows) {
    RecordedPoint point;
    point.where = row.where;
    BELLHOLE_TRY(at, moments.read(*row.cells[0], table.units[0], row.where));
    BELLHOLE_TRY(gap, read_cell<kinds::Length>(*row.cells[1], table.units[1], row.where));
    BELLHOLE_TRY(same, gaps.hold(*row.cells[1], row.where));
    static_cast<void>(same);
    point.at = at;
    point.gap = gap;
    if (row.cells[2]) {
      BELLHOLE_TRY(pump, read_cell<kinds::GaugePressure>(*row.cells[2], table.units[2], row.where));
      BELLHOLE_TRY(same_pump, pumps.hold(*row.cells[2], row.where));
      static_cast<void>(same_pump);
      point.pump = pump;
    }
    points.push_back(std::move(point));
  }
  return points;
}

Result<std::vector<RecordedPoint>> typed_points(const std::vector<std::string>& texts) {
  std::vector<RecordedPoint> points;
  Moments moments;
  OneUnit gaps, pumps;
  for (std::size_t i = 0; i < texts.size(); ++i) {
    BELLHOLE_TRY(point,
                 typed_point(texts[i], fmt::format("point {}", i + 1), moments, gaps, pumps));
    points.push_back(point);
  }
  return points;
}

Json deviation_json(const squeeze::Deviation& deviation) {
  Json json;
  json["rule"] = deviation.rule;
  json["says"] = deviation.says;
  put(json, "from", deviation.from);
  put(json, "to", deviation.to);
  put(json, "from_gap", deviation.from_gap);
  put(json, "to_gap", deviation.to_gap);
  json["value_si"] = number_or_null(deviation.value_si);
  json["limit_si"] = number_or_null(deviation.limit_si);
  json["unit_si"] = deviation.unit_si;
  return json;
}

Json phase_json(const std::optional<squeeze::Phase>& phase) {
  if (!phase) return nullptr;
  Json json;
  put(json, "began", phase->began);
  put(json, "took", phase->took);
  put(json, "travel", phase->travel);
  put(json, "least_moving", phase->least_moving);
  put(json, "least", phase->least);
  json["waits_needed"] = phase->waits_needed;
  json["waits_seen"] = phase->waits_seen;
  json["waits_missing"] = phase->waits_missing;
  return json;
}

Json stretches_json(const squeeze::Judged& judged) {
  Json list = Json::array();
  for (const auto& stretch : judged.stretches) {
    Json json;
    json["moved"] = moved_words[static_cast<std::size_t>(stretch.moved)];
    put(json, "from", stretch.from);
    put(json, "to", stretch.to);
    put(json, "from_gap", stretch.from_gap);
    put(json, "to_gap", stretch.to_gap);
    put(json, "pace", stretch.pace);
    json["too_fast"] = stretch.too_fast;
    list.push_back(json);
  }
  return list;
}

}  // namespace

Length gap_read_to(units::System units) {
  return units == units::System::us ? read_to_us : read_to_metric;
}

Result<std::optional<Recording>> read_recording(const Object& request, units::System units) {
  BELLHOLE_TRY(table, request.text("recording"));
  BELLHOLE_TRY(typed, request.texts("points"));
  BELLHOLE_TRY(read_to, request.quantity<kinds::Length>("gap_read_to"));
  BELLHOLE_TRY(still, request.quantity<kinds::Length>("still_within"));
  for (const auto& [key, value] :
       {std::pair("gap_read_to", read_to), std::pair("still_within", still)}) {
    if (value && value->si() < 0.0)
      return trouble(Code::out_of_range, request.at(key), fmt::format("{:g} m", value->si()),
                     "give a length, nought or more");
  }
  if (!table && typed.empty()) return std::optional<Recording>();
  if (table && !typed.empty()) {
    return trouble(Code::contradiction, request.at("points"), "given beside a recording",
                   "give the recording as a table or as points, not both");
  }
  Recording recording;
  BELLHOLE_TRY(points, table ? table_points(*table) : typed_points(typed));
  recording.points = points;
  recording.read_to = read_to.value_or(gap_read_to(units));
  recording.still_within = still.value_or(Length());
  if (!read_to && request.assumed() != nullptr) {
    request.assumed()->push_back(
        fmt::format("gaps are read to {}: bars that near their stop are on it",
                    units::print(recording.read_to, units)));
  }
  return std::optional(recording);
}

Json recording_json(const squeeze::Judged& judged) {
  Json json;
  json["stretches"] = stretches_json(judged);
  Json deviations = Json::array();
  for (const auto& deviation : judged.deviations) deviations.push_back(deviation_json(deviation));
  json["deviations"] = deviations;
  json["closing"] = phase_json(judged.closing);
  json["opening"] = phase_json(judged.opening);
  put(json, "least_gap", judged.least_gap);
  put(json, "most_pump", judged.most_pump);
  json["on_the_stops"] = judged.on_the_stops ? Json(*judged.on_the_stops) : Json(nullptr);
  json["pump_at_limit"] = judged.at_the_limit;
  put(json, "squeezed", judged.squeezed);
  json["not_known"] = judged.not_known;
  return json;
}

}  // namespace bellhole::wire
