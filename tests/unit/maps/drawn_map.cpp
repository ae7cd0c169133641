#include "tests/unit/maps/drawn_map.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace bellhole::test {
namespace {

using maps::Cell;
using maps::RawLayer;
using maps::Shape;

// clang-format off
const char* const mapping_text = R"({
"document": "bellhole.mapping", "version": 1, "name": "drawn", "map_date": "2026-01-01",
"base": {"pressure": "14.73psia", "temperature": "60degF"}, "barometer": "14.696psia",
"snap_tolerance": "0.5m", "report_gap": "3m", "station_reach": "5m", "most_not_snapping": "50%",
"tiers": [{"id": "feeder", "maop": "60psig", "least": "20psig"}, {"id": "district", "maop": "45psig", "least": "10psig"}],
"shapes": [{"id": "house", "reference": "65degF", "low": 0.8, "high": 1.2,
  "hour_factor": [1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1,1]}],
"load_classes": {"RES": {"shape": "house", "base": "5 scfh", "slope": "1 scfh/degF", "because": "bills"}},
"pipe_codes": {"codes": {"4PE": {"material": "pe", "grade": "PE2406", "size": "IPS 4", "ratio": 11.5},
                         "6ST": {"material": "steel", "size": "NPS 6", "wall": "0.28in"}}},
"layers": {
  "mains": [{"layer": "main", "fields": {"id": "ID", "tier": {"column": "TIER", "codes": {"F": "feeder", "D": "district"}},
    "code": "CODE", "size": "SIZE", "ratio": "DR", "length": {"column": "LEN_FT", "unit": "ft"}, "year": "YEAR",
    "inserted": {"column": "INS", "codes": {"Y": true, "N": false}}, "two_way": {"column": "TWO", "codes": {"Y": true, "N": false}},
    "street": "STREET", "from_node": "FROM", "to_node": "TO"}}],
  "valves": [{"layer": "valve", "reach": "2m", "fields": {"id": "ID", "position": {"column": "POS", "codes": {"O": "open", "C": "closed"}},
    "pipe": "PIPE", "station": {"column": "AT_FT", "unit": "ft"}, "last_operated": "TURNED"}}],
  "regulators": [{"layer": "station", "fields": {"id": "ID", "inlet_tier": {"column": "IN", "codes": {"F": "feeder", "D": "district"}},
    "outlet_tier": {"column": "OUT", "codes": {"F": "feeder", "D": "district"}}, "set_point": {"value": "40psig"}}}],
  "sources": [{"layer": "gate", "fields": {"id": "ID", "tier": {"value": "feeder"}, "pressure": {"value": "55psi"}}}],
  "customers": [{"layer": "meter", "reach": "40m", "fields": {"id": "ID", "class": "CLASS", "street": "STREET", "must_not_lose": "MUST", "why_not": "WHY"}}],
  "features": [{"layer": "fitting", "reach": "2m", "fields": {"id": "ID", "kind": {"column": "TYPE", "codes": {"TEE": "service_tee", "SQ": "squeeze"}},
    "length": {"column": "LEN", "unit": "in"}}}]
}})";
// clang-format on

RawLayer layer(std::string name, std::vector<std::string> columns) {
  return {.name = std::move(name),
          .crs = "EPSG:32630",
          .projected_here = false,
          .columns = std::move(columns),
          .features = {}};
}

}  // namespace

std::vector<maps::Row> Built::rows(std::string_view rule) const {
  std::vector<maps::Row> out;
  for (const auto& row : report.rows()) {
    if (row.rule == rule) out.push_back(row);
  }
  return out;
}
std::size_t Built::pipe(std::string_view id) const {
  const auto found = std::ranges::find(network.pipes.id, id);
  EXPECT_NE(found, network.pipes.id.end()) << id;
  return static_cast<std::size_t>(found - network.pipes.id.begin());
}
bool Built::has_pipe(std::string_view id) const {
  return std::ranges::find(network.pipes.id, id) != network.pipes.id.end();
}
bool Built::joined(std::string_view a, std::string_view b) const {
  const auto i = pipe(a), k = pipe(b);
  const auto& p = network.pipes;
  return p.from[i] == p.from[k] || p.from[i] == p.to[k] || p.to[i] == p.from[k] ||
         p.to[i] == p.to[k];
}

DrawnMap::DrawnMap()
    : main_(layer("main", {"ID", "TIER", "CODE", "SIZE", "DR", "LEN_FT", "YEAR", "INS", "TWO",
                           "STREET", "FROM", "TO"})),
      valve_(layer("valve", {"ID", "POS", "PIPE", "AT_FT", "TURNED"})),
      station_(layer("station", {"ID", "IN", "OUT"})),
      gate_(layer("gate", {"ID"})),
      meter_(layer("meter", {"ID", "CLASS", "STREET", "MUST", "WHY"})),
      fitting_(layer("fitting", {"ID", "TYPE", "LEN"})),
      mapping_(mapping_text) {}

maps::RawFeature& DrawnMap::add(RawLayer& to, Shape shape, std::vector<maps::Line> lines,
                                std::initializer_list<std::pair<std::string, std::string>> cells) {
  maps::RawFeature feature;
  feature.fid = static_cast<std::int64_t>(to.features.size()) + 1;
  feature.shape = shape;
  feature.parts = std::move(lines);
  feature.cells.assign(to.columns.size(), Cell());
  for (const auto& [column, value] : cells) {
    const auto index = to.column(column);
    EXPECT_TRUE(index) << column;
    if (!value.empty()) feature.cells[*index] = value;
    if (value.empty()) feature.cells[*index].reset();
  }
  to.features.push_back(std::move(feature));
  last_layer_ = &to;
  return to.features.back();
}
DrawnMap& DrawnMap::main(const std::string& id, maps::Line line,
                         std::initializer_list<std::pair<std::string, std::string>> cells) {
  auto& feature =
      add(main_, Shape::line, {std::move(line)}, {{"ID", id}, {"TIER", "D"}, {"CODE", "4PE"}});
  for (const auto& [column, value] : cells) {
    auto& cell = feature.cells[*main_.column(column)];
    cell.reset();
    if (!value.empty()) cell = value;
  }
  return *this;
}
DrawnMap& DrawnMap::parts(const std::string& id, std::vector<maps::Line> lines) {
  main(id, {});
  last().parts = std::move(lines);
  return *this;
}
DrawnMap& DrawnMap::valve(const std::string& id, maps::XY at,
                          std::initializer_list<std::pair<std::string, std::string>> cells) {
  auto& feature = add(valve_, Shape::point, {{at}}, {{"ID", id}, {"POS", "O"}});
  for (const auto& [column, value] : cells) feature.cells[*valve_.column(column)] = value;
  return *this;
}
DrawnMap& DrawnMap::station(const std::string& id, maps::XY at, const std::string& in,
                            const std::string& out) {
  add(station_, Shape::point, {{at}}, {{"ID", id}, {"IN", in}, {"OUT", out}});
  return *this;
}
DrawnMap& DrawnMap::gate(const std::string& id, maps::XY at) {
  add(gate_, Shape::point, {{at}}, {{"ID", id}});
  return *this;
}
DrawnMap& DrawnMap::meter(const std::string& id, maps::XY at,
                          std::initializer_list<std::pair<std::string, std::string>> cells) {
  auto& feature = add(meter_, Shape::point, {{at}}, {{"ID", id}, {"CLASS", "RES"}});
  for (const auto& [column, value] : cells) feature.cells[*meter_.column(column)] = value;
  return *this;
}
DrawnMap& DrawnMap::fitting(const std::string& id, maps::XY at, const std::string& type,
                            const std::string& length_in) {
  add(fitting_, Shape::point, {{at}}, {{"ID", id}, {"TYPE", type}, {"LEN", length_in}});
  return *this;
}
DrawnMap& DrawnMap::with(std::string_view from, std::string_view to) {
  const auto at = mapping_.find(from);
  EXPECT_NE(at, std::string::npos) << from;
  mapping_.replace(at, from.size(), to);
  return *this;
}

Result<network::Network> DrawnMap::try_build(maps::Report& report) const {
  BELLHOLE_TRY(mapping, maps::read_mapping(mapping_, "drawn.mapping.json"));
  const maps::Layers layers{{"mains", {&main_}},         {"valves", {&valve_}},
                            {"regulators", {&station_}}, {"sources", {&gate_}},
                            {"customers", {&meter_}},    {"features", {&fitting_}}};
  const maps::Input input{mapping,
                          layers,
                          "EPSG:32630",
                          "drawn.gpkg",
                          [](std::vector<maps::XY>& points) -> Result<bool> {
                            for (auto& point : points) point = {point.x / 1e5, point.y / 1e5};
                            return true;
                          },
                          accept};
  return maps::build_network(input, report);
}
Built DrawnMap::build() const {
  Built built;
  auto network = try_build(built.report);
  if (!network) {
    ADD_FAILURE() << network.error().where << ": " << network.error().value << ": "
                  << network.error().fix;
    return built;
  }
  built.network = std::move(*network);
  return built;
}

}  // namespace bellhole::test
