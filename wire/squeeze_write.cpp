#include <array>
#include <nlohmann/json.hpp>

#include "procedure/date.hpp"
#include "squeeze/forces.hpp"
#include "squeeze/gap.hpp"
#include "wire/squeeze.hpp"
#include "wire/tool.hpp"

namespace bellhole::wire {
namespace {

using squeeze::Sheet;

constexpr std::array told_words{"no", "yes", "unknown"};
constexpr std::array arrangement_words{"one", "two", "undecided"};
constexpr std::array basis_words{"minimum", "nominal", "maximum", "measured_else_minimum"};

Json ratio_or_null(const std::optional<double>& value) {
  return value ? number_or_null(*value) : Json(nullptr);
}

Json lining_json(const pipe::Lining& lining) {
  const auto word = [](pipe::Told told) { return told_words[static_cast<std::size_t>(told)]; };
  return {{"inserted", word(lining.inserted)},
          {"cased", word(lining.cased)},
          {"layered", word(lining.layered)},
          {"lined", word(lining.lined)}};
}

Json pipe_json(const Sheet& sheet) {
  const squeeze::Found& found = sheet.pipe;
  Json json;
  json["size"] = found.size.name;
  put(json, "od", found.size.od);
  put(json, "od_low", found.size.od_low);
  put(json, "od_high", found.size.od_high);
  json["od_source"] = found.size.source;
  json["od_evidence"] = to_string(found.size.evidence);
  json["ratio"] = ratio_or_null(found.ratio);
  json["material"] = found.material != nullptr ? Json(found.material->name) : Json(nullptr);
  json["made"] = Json(nullptr);
  if (found.made)
    json["made"] = {{"from", procedure::print_date(found.made->first)},
                    {"to", procedure::print_date(found.made->last)}};
  const auto wall = [&](Length pipe::Walls::* member) {
    return sheet.walls ? std::optional(*sheet.walls.*member) : std::optional<Length>();
  };
  put(json, "wall_min", wall(&pipe::Walls::minimum));
  put(json, "wall_nominal", wall(&pipe::Walls::nominal));
  put(json, "wall_max", wall(&pipe::Walls::maximum));
  json["wall_measured"] = sheet.walls && sheet.walls->measured;
  json["wall_source"] = sheet.walls ? sheet.walls->source : "";
  json["wall_evidence"] = sheet.walls ? Json(to_string(sheet.walls->evidence)) : Json(nullptr);
  put(json, "pressure", found.pressure);
  put(json, "maop", found.maop);
  put(json, "temperature", found.temperature);
  json["lining"] = lining_json(found.lining);
  Json design;
  put(design, "pressure", sheet.rated.pressure);
  design["form"] = sheet.rated.form;
  design["source"] = sheet.rated.source;
  put(design, "strength", sheet.rated.strength);
  design["strength_source"] = sheet.rated.strength_source;
  design["strength_evidence"] = sheet.rated.strength_evidence
                                    ? Json(to_string(*sheet.rated.strength_evidence))
                                    : Json(nullptr);
  json["design"] = design;
  return json;
}

void put_compressions(Json& json, const squeeze::Compressions& does) {
  put(json, "at_min_wall", does.at_min);
  put(json, "at_nominal_wall", does.at_nominal);
  put(json, "at_max_wall", does.at_max);
}

Json stops_json(const Sheet& sheet) {
  Json list = Json::array();
  for (const auto& answer : sheet.stops) {
    Json json;
    json["id"] = answer.stop.id;
    put(json, "gap", answer.stop.gap);
    json["sizes"] = answer.stop.sizes;
    json["ratios"] = answer.stop.ratios;
    put_compressions(json, answer.does);
    json["fits"] = answer.fits;
    json["because"] = answer.because;
    list.push_back(json);
  }
  return list;
}

void put_gap(Json& json, const Sheet& sheet) {
  put(json, "stop_gap", sheet.gap_wanted);
  Json on;
  const bool known = sheet.basis && sheet.walls;
  on["basis"] =
      sheet.basis ? Json(basis_words[static_cast<std::size_t>(*sheet.basis)]) : Json(nullptr);
  put(on, "wall",
      known ? std::optional(wall_of(*sheet.basis, *sheet.walls)) : std::optional<Length>());
  put(on, "compression", sheet.compression_most);
  json["stop_gap_on"] = on;
  json["stop"] = Json(nullptr);
  if (sheet.chosen) {
    const squeeze::Stop& stop = sheet.stops[*sheet.chosen].stop;
    Json chosen;
    chosen["id"] = stop.id;
    put(chosen, "gap", stop.gap);
    json["stop"] = chosen;
  }
  json["stops"] = stops_json(sheet);
  put(json, "gap", sheet.gap);
  json["wall_compression"] = Json(nullptr);
  if (sheet.compressions) {
    Json does;
    does["of"] =
        sheet.chosen ? "stop " + sheet.stops[*sheet.chosen].stop.id : std::string("gap wanted");
    put_compressions(does, *sheet.compressions);
    json["wall_compression"] = does;
  }
  put(json, "travel",
      sheet.gap ? std::optional(sheet.pipe.size.od - *sheet.gap) : std::optional<Length>());
}

Json timetable_json(const squeeze::Timetable& table) {
  Json json;
  put(json, "speed", table.speed);
  put(json, "shortest_moving", table.moving);
  put(json, "shortest_with_waits", table.with_waits);
  put(json, "shortest", table.with_waits);
  put(json, "shortest_per_count", table.per_count);
  Json steps = Json::array();
  for (const auto& stretch : table.stretches) {
    Json step;
    put(step, "from_gap", stretch.from);
    put(step, "to_gap", stretch.to);
    put(step, "starts", stretch.starts);
    put(step, "ends", stretch.ends);
    put(step, "wait", stretch.wait);
    steps.push_back(step);
  }
  json["steps"] = steps;
  json["waits"] = table.stretches.empty() ? 0 : table.stretches.size() - 1;
  Json marks = Json::array();
  for (const auto& mark : table.marks) {
    Json point;
    put(point, "gap", mark.gap);
    put(point, "travelled", mark.travelled);
    put(point, "at", mark.at);
    point["count"] = ratio_or_null(mark.count);
    marks.push_back(point);
  }
  json["marks"] = marks;
  return json;
}

void put_pace(Json& json, const Sheet& sheet) {
  json["close"] = sheet.close ? timetable_json(*sheet.close) : Json(nullptr);
  json["open"] = sheet.open ? timetable_json(*sheet.open) : Json(nullptr);
  Json limit;
  put(limit, "wait", sheet.wait_at_limit);
  limit["says"] =
      "at the pump's limit and not on the stops is not shut: wait, pump up again, and if the stops "
      "are still not reached find out why";
  json["at_limit"] = limit;
  put(json, "hold_most", sheet.hold_most);
}

Json pairs(const std::vector<squeeze::Window>& windows) {
  Json list = Json::array();
  for (const auto& [from, to] : windows) list.push_back({from.si(), to.si()});
  return list;
}

void put_places(Json& json, const Sheet& sheet, const squeeze::Question& question) {
  put(json, "clearance", sheet.clearance);
  put(json, "tool_half_width", sheet.half_width);
  json["exposed_m"] = Json(nullptr);
  if (question.exposed)
    json["exposed_m"] = {question.exposed->first.si(), question.exposed->second.si()};
  Json features = Json::array();
  for (const auto& feature : question.features) {
    features.push_back({{"kind", feature.kind}, {"at_m", {feature.from.si(), feature.to.si()}}});
  }
  json["features"] = features;
  json["windows_m"] = sheet.places ? pairs(sheet.places->windows) : Json(nullptr);
  json["windows_seen_m"] = sheet.places ? pairs(sheet.places->seen) : Json(nullptr);
  put(json, "place", sheet.places ? sheet.places->at : std::optional<Length>());
  Json fit = Json::array();
  if (sheet.places) {
    for (const Length place : sheet.places->fit) fit.push_back(place.si());
  }
  json["places_m"] = fit;
  json["hole"] = Json(nullptr);
  if (sheet.hole) {
    Json hole;
    put(hole, "one", sheet.hole->one);
    put(hole, "one_and_spare", sheet.hole->one_and_spare);
    put(hole, "two", sheet.hole->two);
    put(hole, "two_and_spare", sheet.hole->two_and_spare);
    hole["beside_joint"] = Json(nullptr);
    if (const auto& beside = sheet.hole->beside_joint) {
      Json side;
      put(side, "one", beside->one);
      put(side, "one_and_spare", beside->one_and_spare);
      put(side, "two", beside->two);
      put(side, "two_and_spare", beside->two_and_spare);
      hole["beside_joint"] = side;
    }
    json["hole"] = hole;
  }
  json["arrangement"] = arrangement_words[static_cast<std::size_t>(sheet.arrangement)];
}

Json limits_json(const Sheet& sheet, units::System units) {
  Json list = Json::array();
  for (const procedure::Row& row : sheet.limits) {
    Json json;
    json["rule"] = row.rule->id;
    json["asks"] = row.rule->asks;
    json["says"] = procedure::print(*row.rule, row.value, units);
    const auto* number = std::get_if<double>(&row.value);
    json["value_si"] = number != nullptr ? number_or_null(*number) : Json(nullptr);
    json["unit_si"] = procedure::unit_si(row.rule->dimension);
    json["law"] = row.rule->law;
    json["source"] = row.source;
    json["evidence"] = to_string(row.evidence);
    json["row"] = row.place;
    json["approved_by"] = row.approved_by;
    list.push_back(json);
  }
  return list;
}

Json head(std::string_view question, const Sheet& sheet, const procedure::Profile& profile,
          units::System units) {
  Json json;
  json["question"] = question;
  json["units"] = units == units::System::us ? "us" : "metric";
  json["profile"] = {{"id", profile.id()}, {"title", profile.title()}};
  json["pipe"] = pipe_json(sheet);
  put_gap(json, sheet);
  put_pace(json, sheet);
  json["limits"] = limits_json(sheet, units);
  json["tool"] = sheet.tool ? tool_json(*sheet.tool) : Json(nullptr);
  return json;
}

constexpr std::array reaches_words{"yes", "no", "unsure"};
constexpr std::array source_words{"closed_form", "table", "full"};

Json band_json(const flatten::Band& band) {
  return {{"low", number_or_null(band.low.si())},
          {"expected", number_or_null(band.expected.si())},
          {"high", number_or_null(band.high.si())}};
}
Json band_json(const squeeze::PumpBand& band) {
  return {{"low", number_or_null(band.low.si())},
          {"expected", number_or_null(band.expected.si())},
          {"high", number_or_null(band.high.si())}};
}

Json pump_json(const squeeze::PumpGauge& pump) {
  Json json;
  json["at_touch_pa_gauge"] = band_json(pump.at_touch);
  json["at_half_pa_gauge"] = band_json(pump.at_half);
  json["at_walls_meeting_pa_gauge"] = band_json(pump.at_walls_meeting);
  json["at_stops_pa_gauge"] = band_json(pump.at_stops);
  json["after_wait_pa_gauge"] = band_json(pump.after_wait);
  json["pumped_again_pa_gauge"] = band_json(pump.pumped_again);
  json["reaches_stops"] = pump.reaches_stops
                              ? Json(reaches_words[static_cast<std::size_t>(*pump.reaches_stops)])
                              : Json(nullptr);
  put(json, "reaches_down_to", pump.reaches_down_to);
  return json;
}

void put_force(Json& json, const Sheet& sheet) {
  json["force_n"] = nullptr;
  json["pump"] = nullptr;
  json["hold"] = Json::array();
  const squeeze::Source source = squeeze::source_of(sheet);
  json["source"] = source_words[static_cast<std::size_t>(source)];
  json["band_method"] = squeeze::band_method_of(source);
  if (!sheet.flattening) return;
  const squeeze::Flattening& flattening = *sheet.flattening;
  Json curve = Json::array();
  for (const flatten::Point& point : flattening.curve) {
    Json item = band_json(point.force);
    put(item, "gap", point.gap);
    curve.push_back(item);
  }
  json["force_n"] = {{"curve", curve},
                     {"at_walls_meeting", band_json(flattening.at_walls_meeting)},
                     {"at_stops", band_json(flattening.at_stops)}};
  if (flattening.pump) json["pump"] = pump_json(*flattening.pump);
  for (const squeeze::HeldShare& held : flattening.hold) {
    Json item;
    put(item, "t", held.after);
    item["fraction"] = number_or_null(held.share);
    json["hold"].push_back(item);
  }
}

}  // namespace

Json sheet_json(const Sheet& sheet, const squeeze::Question& question,
                const procedure::Profile& profile, units::System units) {
  Json json = head("squeeze", sheet, profile, units);
  put_places(json, sheet, question);
  put_force(json, sheet);
  return json;
}

Json pace_json(const Sheet& sheet, const procedure::Profile& profile, units::System units) {
  return head("pace", sheet, profile, units);
}

}  // namespace bellhole::wire
