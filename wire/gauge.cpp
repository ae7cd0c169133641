#include "wire/gauge.hpp"

#include <fmt/format.h>

#include <array>
#include <nlohmann/json.hpp>

#include "pipe/materials.hpp"
#include "pipe/walls.hpp"
#include "units/parse.hpp"
#include "wire/text_table.hpp"

namespace bellhole::wire {
namespace {

using squeeze::GaugeReading;
using squeeze::LoggedSqueeze;

constexpr std::array map_words{"nothing", "fits", "contradicted"};

Result<GaugeReading> read_reading(const std::string& text, const std::string& where) {
  const auto blank = text.find(' ');
  if (blank == std::string::npos)
    return trouble(Code::unreadable_value, where, text,
                   "write gap and pump pressure: 2.5in 1800psi");
  BELLHOLE_TRY(gap, units::parse<kinds::Length>(text.substr(0, blank), where));
  BELLHOLE_TRY(pump, units::parse<kinds::GaugePressure>(text.substr(blank + 1), where));
  return GaugeReading{gap.value, pump.value};
}

/// "8", "IPS 8": sizes of a log as of a request; ratio or wall.
Result<Length> wall_of(const TextRow& row, const pipe::Size& size, const std::string& wall_unit) {
  if (row.cells[2]) {
    BELLHOLE_TRY(wall, read_cell<kinds::Length>(*row.cells[2], wall_unit, row.where));
    const std::array list{wall};
    BELLHOLE_TRY(walls, pipe::walls_measured(size, list, row.where));
    return walls.nominal;
  }
  if (!row.cells[1])
    return trouble(Code::missing_value, row.where, "", "give dr, or a measured wall");
  BELLHOLE_TRY(ratio, units::parse_number(*row.cells[1], row.where));
  BELLHOLE_TRY(walls, pipe::walls_by_ratio(size, ratio, row.where));
  return walls.nominal;
}

Result<LoggedSqueeze> logged(const TextTable& table, const TextRow& row) {
  LoggedSqueeze one{.where = row.where};
  BELLHOLE_TRY(size, pipe::read_size(*row.cells[0], row.where));
  BELLHOLE_TRY(wall, wall_of(row, size, table.units[2]));
  BELLHOLE_TRY(material, pipe::read_material(*row.cells[3], row.where));
  const auto cell = [&]<class Kind>(std::size_t i, Kind) {
    return read_cell<Kind>(*row.cells[i], table.units[i], row.where);
  };
  BELLHOLE_TRY(temperature, cell(4, kinds::Temperature()));
  BELLHOLE_TRY(gap, cell(5, kinds::Length()));
  BELLHOLE_TRY(pump, cell(6, kinds::GaugePressure()));
  BELLHOLE_TRY(ram, cell(7, kinds::Area()));
  BELLHOLE_TRY(radius, cell(8, kinds::Length()));
  BELLHOLE_TRY(closing, cell(9, kinds::Duration()));
  if (row.cells[10]) {
    BELLHOLE_TRY(line, cell(10, kinds::GaugePressure()));
    one.line = line;
  }
  if (!(gap.si() > 0.0 && ram.si() > 0.0 && radius.si() > 0.0 && closing.si() > 0.0 &&
        pump.si() > 0.0))
    return trouble(Code::out_of_range, row.where, *row.cells[5],
                   "gap, pump, ram, bar radius and closing are above nought");
  one.od = size.od;
  one.wall = wall;
  one.material = material->name;
  one.pipe = temperature;
  one.gap = gap;
  one.pump = pump;
  one.ram = ram;
  one.bar_radius = radius;
  one.closing = closing;
  return one;
}

}  // namespace

Result<squeeze::GaugeQuestion> read_gauge(const Object& request) {
  squeeze::GaugeQuestion asked;
  BELLHOLE_TRY(size_text, request.need_text("size", "say what pipe it is: IPS 8, CTS 1/2, dn 125"));
  BELLHOLE_TRY(size, pipe::read_size(size_text, request.at("size")));
  BELLHOLE_TRY(radius, request.need<kinds::Length>("bar_radius", "give the radius of the bars"));
  BELLHOLE_TRY(ram, request.need<kinds::Area>("ram_area", "give the area of the tool's ram"));
  BELLHOLE_TRY(closing,
               request.need<kinds::Duration>("close_in", "give the time from touch to now"));
  BELLHOLE_TRY(line, request.quantity<kinds::GaugePressure>("pressure"));
  BELLHOLE_TRY(step, request.quantity<kinds::GaugePressure>("read_to"));
  BELLHOLE_TRY(between, request.range<kinds::Temperature>("pipe_temperature"));
  BELLHOLE_TRY(texts, request.texts("readings"));
  for (std::size_t i = 0; i < texts.size(); ++i) {
    BELLHOLE_TRY(reading, read_reading(texts[i], fmt::format("{}[{}]", request.at("readings"), i)));
    asked.readings.push_back(reading);
  }
  BELLHOLE_TRY(ratio, request.number("map_dr"));
  BELLHOLE_TRY(material, request.text("map_material"));
  if (material) {
    BELLHOLE_TRY(known, pipe::read_material(*material, request.at("map_material")));
    asked.map_material = known->name;
  }
  if (!line) request.assumed()->emplace_back("no gas in the pipe: no pressure was given");
  asked.size = size;
  asked.bar_radius = radius;
  asked.ram = ram;
  asked.closing = closing;
  asked.line = line.value_or(GaugePressure());
  asked.read_to = step.value_or(GaugePressure());
  asked.pipe_between = between;
  asked.map_ratio = ratio;
  return asked;
}

Json gauge_json(const squeeze::GaugeQuestion& asked, const squeeze::GaugeAnswer& answer) {
  Json json;
  json["question"] = "gauge";
  json["size"] = asked.size.name;
  Json readings = Json::array();
  for (const GaugeReading& reading : asked.readings) {
    Json item;
    put(item, "gap", reading.gap);
    put(item, "pump", reading.pump);
    readings.push_back(item);
  }
  json["readings"] = readings;
  Json list = Json::array();
  for (const squeeze::Fitting& fit : answer.fitting) {
    Json item;
    item["ratio"] = fit.ratio;
    item["materials"] = fit.materials;
    put(item, "coldest", fit.coldest);
    put(item, "warmest", fit.warmest);
    list.push_back(item);
  }
  json["cannot_tell_apart"] = list;
  json["map"] = map_words[static_cast<std::size_t>(answer.map)];
  return json;
}

Result<std::vector<LoggedSqueeze>> read_pump_log(const std::string& text) {
  BELLHOLE_TRY(table, read_table(text, "log",
                                 {{{"size"}},
                                  {{"dr", "sdr"}, false},
                                  {{"wall"}, false},
                                  {{"material"}},
                                  {{"temperature", "pipe temperature"}},
                                  {{"gap"}},
                                  {{"pump", "pump pressure"}},
                                  {{"ram", "ram area"}},
                                  {{"bar radius", "bar"}},
                                  {{"closing", "close in"}},
                                  {{"line", "line pressure"}, false}}));
  std::vector<LoggedSqueeze> log;
  for (const TextRow& row : table.rows) {
    BELLHOLE_TRY(one, logged(table, row));
    log.push_back(std::move(one));
  }
  return log;
}

Json refit_json(const squeeze::Refit& refit) {
  Json json;
  json["question"] = "refit";
  json["yield_scale"] =
      refit.scale ? Json{{"low", *refit.low}, {"expected", *refit.scale}, {"high", *refit.high}}
                  : Json(nullptr);
  json["used"] = refit.used;
  Json rows = Json::array();
  for (const squeeze::RefitRow& row : refit.rows) {
    Json item;
    item["where"] = row.where;
    put(item, "measured", row.measured);
    put(item, "expected", row.expected);
    item["scale"] = number_or_null(row.scale);
    item["left_out"] = row.left_out ? Json(*row.left_out) : Json(nullptr);
    rows.push_back(item);
  }
  json["rows"] = rows;
  return json;
}

}  // namespace bellhole::wire
