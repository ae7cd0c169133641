#include "demo/write.hpp"

#include "maps/write.hpp"

namespace bellhole::demo {
namespace {

using maps::Holds;
using maps::OutCell;
using maps::OutTable;
using maps::Shape;
using maps::text_cell;

constexpr const char* metres = "EPSG:32624";

maps::Line line_of(const Line& line) {
  maps::Line out;
  for (const XY& point : line) out.push_back({point.x, point.y});
  return out;
}

OutTable points(const char* name, const std::vector<const char*>& columns,
                const std::vector<PointRecord>& records) {
  OutTable out{.name = name, .shape = Shape::point};
  for (const char* column : columns) out.columns.push_back({column});
  for (const PointRecord& record : records) {
    maps::OutRow row{.parts = {{{record.at.x, record.at.y}}}};
    for (const std::string& cell : record.cells) row.cells.push_back(text_cell(cell));
    out.rows.push_back(std::move(row));
  }
  return out;
}

OutTable main_table(const std::vector<MainRecord>& records) {
  OutTable out{.name = "gas_main",
               .shape = Shape::other,
               .columns = {{"MAIN_ID"},
                           {"PRESS"},
                           {"PIPE_CODE"},
                           {"STATUS"},
                           {"STREET"},
                           {"SURFACE"},
                           {"YEAR_LAID", Holds::whole},
                           {"LEN_FT", Holds::number},
                           {"DEPTH_IN", Holds::number},
                           {"INSERTED"},
                           {"CASED"},
                           {"TWO_WAY"}}};
  for (const MainRecord& record : records) {
    maps::OutRow row{
        .cells = {text_cell(record.id), text_cell(record.press), text_cell(record.code),
                  text_cell(record.status), text_cell(record.street), text_cell(record.surface),
                  record.year > 0 ? OutCell(std::int64_t{record.year}) : OutCell(),
                  record.length_ft > 0.0 ? OutCell(record.length_ft) : OutCell(),
                  record.depth_in > 0.0 ? OutCell(record.depth_in) : OutCell(),
                  text_cell(record.inserted), text_cell(record.cased), text_cell(record.two_way)}};
    for (const Line& part : record.parts) row.parts.push_back(line_of(part));
    row.heights = record.heights;
    out.rows.push_back(std::move(row));
  }
  return out;
}

OutTable drawn(const char* kind, const std::vector<DrawnRecord>& records) {
  OutTable out{.name = kind, .shape = Shape::line, .columns = {{"NAME"}}};
  for (const DrawnRecord& record : records) {
    if (record.kind == kind) out.rows.push_back({{text_cell(record.name)}, {line_of(record.line)}});
  }
  return out;
}

/// Meters were placed with a handset, so they are in degrees.
Result<OutTable> premises(const std::vector<PointRecord>& records) {
  OutTable out = points("premise", {"METER", "CLASS", "STREET", "MUST", "WHY", "EFV"}, records);
  out.crs = "EPSG:4326";
  BELLHOLE_TRY(projection, maps::Projection::of(metres, -39.0, 46.2));
  for (maps::OutRow& row : out.rows) {
    BELLHOLE_TRY(done, projection.to_degrees(row.parts[0]));
    static_cast<void>(done);
  }
  return out;
}

}  // namespace

Result<bool> write_map(const Town& town, const std::string& path) {
  BELLHOLE_TRY(meters, premises(town.premises));
  std::vector<OutTable> tables{
      main_table(town.mains),
      points("gas_valve", {"VALVE_ID", "POS", "NORMAL", "LAST_TURNED", "HOLDS", "REACH"},
             town.valves),
      points("gas_station",
             {"REG_ID", "NAME", "IN_PRESS", "OUT_PRESS", "SET_AT", "SENSE", "CAP_MSCFH", "LEAST_IN",
              "LOCKUP", "RELIEF", "CHECKED", "RESET"},
             town.stations),
      points("sense_tap", {"REG_ID"}, town.taps),
      points("gate", {"GATE_ID", "PRESS", "SET_AT", "CAP_MSCFH"}, town.gates),
      meters,
      points("gas_fitting", {"FIT_ID", "TYPE", "LEN_IN", "NOTE"}, town.fittings),
      points("hydrant", {"HYD_ID"}, town.hydrants),
      points("pole", {"POLE_NO"}, town.poles)};
  for (const char* kind : {"coast", "street", "building", "water"})
    tables.push_back(drawn(kind, town.drawn));
  tables.push_back(points("tree", {"SPECIES"}, {{place(750, 600), {"sycamore"}}}));
  return maps::write_geopackage(path, metres, tables);
}

}  // namespace bellhole::demo
