#include "demo/write.hpp"

#include <cpl_conv.h>
#include <gdal_priv.h>
#include <ogrsf_frmts.h>

#include <cstdio>
#include <filesystem>
#include <memory>
#include <stdexcept>

namespace bellhole::demo {
namespace {

[[noreturn]] void fail(const std::string& what) {
  throw std::runtime_error(what + ": " + CPLGetLastErrorMsg());
}

OGRSpatialReference system(int epsg) {
  OGRSpatialReference srs;
  if (srs.importFromEPSG(epsg) != OGRERR_NONE) fail("coordinate system");
  srs.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
  return srs;
}

class MapWriter {
 public:
  explicit MapWriter(const std::string& path) : metres_(system(32624)), degrees_(system(4326)) {
    GDALAllRegister();
    // The file carries a date of its own; without this it would be today's and every file would
    // differ.
    CPLSetConfigOption("OGR_CURRENT_DATE", "2026-05-01T00:00:00.000Z");
    GDALDriver* driver = GetGDALDriverManager()->GetDriverByName("GPKG");
    if (driver == nullptr) fail("GeoPackage driver");
    set_.reset(driver->Create(path.c_str(), 0, 0, 0, GDT_Unknown, nullptr));
    if (!set_) fail(path);
    if (set_->StartTransaction() != OGRERR_NONE) fail(path);
    to_degrees_.reset(OGRCreateCoordinateTransformation(&metres_, &degrees_));
  }
  void done() {
    if (set_->CommitTransaction() != OGRERR_NONE) fail("commit");
    set_.reset();
  }

  OGRLayer* layer(const char* name, OGRwkbGeometryType type,
                  const std::vector<std::pair<const char*, OGRFieldType>>& columns,
                  bool in_degrees = false) {
    OGRLayer* layer = set_->CreateLayer(name, in_degrees ? &degrees_ : &metres_, type, nullptr);
    if (layer == nullptr) fail(name);
    for (const auto& [column, kind] : columns) {
      OGRFieldDefn field(column, kind);
      if (layer->CreateField(&field) != OGRERR_NONE) fail(column);
    }
    return layer;
  }

  void points(const char* name, const std::vector<const char*>& columns,
              const std::vector<PointRecord>& records, bool in_degrees = false) {
    std::vector<std::pair<const char*, OGRFieldType>> typed;
    for (const char* column : columns) typed.emplace_back(column, OFTString);
    OGRLayer* out = layer(name, wkbPoint, typed, in_degrees);
    for (const PointRecord& record : records) {
      const auto feature = fresh(out);
      for (std::size_t i = 0; i < columns.size(); ++i)
        set(*feature, static_cast<int>(i), record.cells[i]);
      double x = record.at.x, y = record.at.y;
      if (in_degrees) to_degrees_->Transform(1, &x, &y);
      OGRPoint point(x, y);
      feature->SetGeometry(&point);
      put(out, *feature);
    }
  }

  void mains(const std::vector<MainRecord>& records) {
    OGRLayer* out = layer("gas_main", wkbUnknown,
                          {{"MAIN_ID", OFTString},
                           {"PRESS", OFTString},
                           {"PIPE_CODE", OFTString},
                           {"STATUS", OFTString},
                           {"STREET", OFTString},
                           {"SURFACE", OFTString},
                           {"YEAR_LAID", OFTInteger},
                           {"LEN_FT", OFTReal},
                           {"DEPTH_IN", OFTReal},
                           {"INSERTED", OFTString},
                           {"CASED", OFTString},
                           {"TWO_WAY", OFTString}});
    for (const MainRecord& record : records) {
      const auto feature = fresh(out);
      const std::string* texts[] = {&record.id,     &record.press,  &record.code,
                                    &record.status, &record.street, &record.surface};
      for (int i = 0; i < 6; ++i) set(*feature, i, *texts[i]);
      if (record.year > 0) feature->SetField("YEAR_LAID", record.year);
      if (record.length_ft > 0.0) feature->SetField("LEN_FT", record.length_ft);
      if (record.depth_in > 0.0) feature->SetField("DEPTH_IN", record.depth_in);
      set(*feature, 9, record.inserted);
      set(*feature, 10, record.cased);
      set(*feature, 11, record.two_way);
      geometry(*feature, record);
      put(out, *feature);
    }
  }

  void drawn(const char* name, const char* kind, const std::vector<DrawnRecord>& records) {
    OGRLayer* out = layer(name, wkbLineString, {{"NAME", OFTString}});
    for (const DrawnRecord& record : records) {
      if (record.kind != kind) continue;
      const auto feature = fresh(out);
      set(*feature, 0, record.name);
      const auto line = line_of(record.line, false);
      feature->SetGeometry(line.get());
      put(out, *feature);
    }
  }

 private:
  using Feature = std::unique_ptr<OGRFeature, void (*)(OGRFeature*)>;
  static Feature fresh(OGRLayer* layer) {
    return {OGRFeature::CreateFeature(layer->GetLayerDefn()), OGRFeature::DestroyFeature};
  }
  static void put(OGRLayer* layer, OGRFeature& feature) {
    if (layer->CreateFeature(&feature) != OGRERR_NONE) fail(layer->GetName());
  }
  static void set(OGRFeature& feature, int column, const std::string& text) {
    if (!text.empty()) feature.SetField(column, text.c_str());
  }
  static std::unique_ptr<OGRLineString> line_of(const Line& line, bool heights) {
    auto out = std::make_unique<OGRLineString>();
    for (std::size_t i = 0; i < line.size(); ++i) {
      if (heights) {
        out->addPoint(line[i].x, line[i].y, 3.0 + 0.02 * static_cast<double>(i));
      } else {
        out->addPoint(line[i].x, line[i].y);
      }
    }
    return out;
  }
  static void geometry(OGRFeature& feature, const MainRecord& record) {
    if (record.parts.empty()) return;
    if (record.parts.size() == 1) {
      const auto line = line_of(record.parts[0], record.heights);
      feature.SetGeometry(line.get());
      return;
    }
    OGRMultiLineString lines;
    for (const Line& part : record.parts)
      lines.addGeometryDirectly(line_of(part, record.heights).release());
    feature.SetGeometry(&lines);
  }

  OGRSpatialReference metres_, degrees_;
  GDALDatasetUniquePtr set_;
  std::unique_ptr<OGRCoordinateTransformation> to_degrees_;
};

void write_layers(const Town& town, const std::string& path) {
  MapWriter map(path);
  map.mains(town.mains);
  map.points("gas_valve", {"VALVE_ID", "POS", "NORMAL", "LAST_TURNED", "HOLDS", "REACH"},
             town.valves);
  map.points("gas_station",
             {"REG_ID", "NAME", "IN_PRESS", "OUT_PRESS", "SET_AT", "SENSE", "CAP_MSCFH", "LEAST_IN",
              "LOCKUP", "RELIEF", "CHECKED", "RESET"},
             town.stations);
  map.points("sense_tap", {"REG_ID"}, town.taps);
  map.points("gate", {"GATE_ID", "PRESS", "SET_AT", "CAP_MSCFH"}, town.gates);
  map.points("premise", {"METER", "CLASS", "STREET", "MUST", "WHY", "EFV"}, town.premises, true);
  map.points("gas_fitting", {"FIT_ID", "TYPE", "LEN_IN", "NOTE"}, town.fittings);
  map.points("hydrant", {"HYD_ID"}, town.hydrants);
  for (const char* kind : {"coast", "street", "building", "water"})
    map.drawn(kind, kind, town.drawn);
  map.points("tree", {"SPECIES"}, {{place(750, 600), {"sycamore"}}});
  map.done();
}

}  // namespace

void write_map(const Town& town, const std::string& path) {
  const std::filesystem::path target(path);
  const std::string beside =
      (target.parent_path() / (target.stem().string() + ".part" + target.extension().string()))
          .string();
  std::filesystem::remove(beside);
  try {
    write_layers(town, beside);
    std::filesystem::rename(beside, target);
  } catch (...) {
    std::filesystem::remove(beside);
    throw;
  }
}

}  // namespace bellhole::demo
