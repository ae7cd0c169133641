#include "maps/write.hpp"

#include <cpl_conv.h>
#include <cpl_error.h>
#include <fmt/format.h>
#include <gdal_priv.h>
#include <ogrsf_frmts.h>

#include <filesystem>
#include <memory>
#include <nlohmann/json.hpp>

#include "maps/files.hpp"
#include "maps/gdal_errors.hpp"
#include "wire/json.hpp"

namespace bellhole::maps {
namespace {

/// A GeoPackage carries the time of its writing, which would make every file differ.
constexpr const char* fixed_time = "2000-01-01T00:00:00.000Z";

class PackageWriter {
 public:
  PackageWriter(std::string path, std::string crs) : path_(std::move(path)), crs_(std::move(crs)) {}

  Result<bool> write(const std::vector<OutTable>& tables) {
    BELLHOLE_TRY(opened, open());
    for (const OutTable& table : tables) {
      BELLHOLE_TRY(done, write(table));
      static_cast<void>(done);
    }
    if (set_->CommitTransaction() != OGRERR_NONE) return failed("cannot be finished");
    set_.reset();
    if (gdal_.failed()) return failed("cannot be closed");
    return opened;
  }

 private:
  std::unexpected<Trouble> failed(const std::string& what) {
    return trouble(Code::unwritable_file, path_, fmt::format("{}: {}", what, gdal_.said()),
                   "check the folder, its rights and the space left");
  }
  Result<bool> open() {
    GDALAllRegister();
    CPLSetConfigOption("OGR_CURRENT_DATE", fixed_time);
    GDALDriver* driver = GetGDALDriverManager()->GetDriverByName("GPKG");
    if (driver == nullptr) return failed("this GDAL cannot write GeoPackages");
    set_.reset(driver->Create(path_.c_str(), 0, 0, 0, GDT_Unknown, nullptr));
    if (!set_ || set_->StartTransaction() != OGRERR_NONE) return failed("cannot be created");
    return true;
  }

  static OGRwkbGeometryType type_of(const OutTable& table) {
    switch (table.shape) {
      case Shape::point:
        return wkbPoint;
      case Shape::line:
        return wkbLineString;
      case Shape::none:
        return wkbNone;
      default:
        return wkbUnknown;
    }
  }
  Result<bool> write(const OutTable& table) {
    OGRSpatialReference srs;
    const std::string& crs = table.crs.empty() ? crs_ : table.crs;
    if (table.shape != Shape::none &&
        srs.SetFromUserInput(crs.c_str(),
                             OGRSpatialReference::SET_FROM_USER_INPUT_LIMITATIONS_get()) !=
            OGRERR_NONE) {
      return trouble(Code::bad_mapping, "crs", crs, "this coordinate system is not known here");
    }
    srs.SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
    OGRLayer* layer = set_->CreateLayer(
        table.name.c_str(), table.shape == Shape::none ? nullptr : &srs, type_of(table), nullptr);
    if (layer == nullptr) return failed("layer " + table.name);
    for (const OutColumn& column : table.columns) {
      OGRFieldDefn field(column.name.c_str(), column.holds == Holds::text    ? OFTString
                                              : column.holds == Holds::whole ? OFTInteger64
                                                                             : OFTReal);
      if (layer->CreateField(&field) != OGRERR_NONE) return failed("column " + column.name);
    }
    for (const OutRow& row : table.rows) {
      const std::unique_ptr<OGRFeature, void (*)(OGRFeature*)> feature(
          OGRFeature::CreateFeature(layer->GetLayerDefn()), OGRFeature::DestroyFeature);
      for (std::size_t i = 0; i < row.cells.size(); ++i)
        put(*feature, static_cast<int>(i), row.cells[i]);
      put(*feature, table, row);
      if (layer->CreateFeature(feature.get()) != OGRERR_NONE) return failed("layer " + table.name);
    }
    return true;
  }
  static void put(OGRFeature& feature, int column, const OutCell& cell) {
    if (const auto* text = std::get_if<std::string>(&cell)) feature.SetField(column, text->c_str());
    if (const auto* number = std::get_if<double>(&cell)) feature.SetField(column, *number);
    if (const auto* whole = std::get_if<std::int64_t>(&cell))
      feature.SetField(column, static_cast<GIntBig>(*whole));
  }
  static void put(OGRFeature& feature, const OutTable& table, const OutRow& row) {
    const std::vector<Line>& parts = row.parts;
    if (parts.empty()) return;
    if (table.shape == Shape::point) {
      OGRPoint point(parts[0][0].x, parts[0][0].y);
      feature.SetGeometry(&point);
    } else if (parts.size() == 1) {
      const auto line = line_of(parts[0], row.heights);
      feature.SetGeometry(line.get());
    } else {
      OGRMultiLineString lines;
      for (const Line& part : parts)
        lines.addGeometryDirectly(line_of(part, row.heights).release());
      feature.SetGeometry(&lines);
    }
  }
  static std::unique_ptr<OGRLineString> line_of(const Line& line, bool heights) {
    auto out = std::make_unique<OGRLineString>();
    for (std::size_t i = 0; i < line.size(); ++i) {
      if (heights) {
        out->addPoint(line[i].x, line[i].y, static_cast<double>(i));
      } else {
        out->addPoint(line[i].x, line[i].y);
      }
    }
    return out;
  }

  std::string path_, crs_;
  GdalErrors gdal_;
  GDALDatasetUniquePtr set_;
};

wire::Json json_of(const OutCell& cell) {
  if (const auto* text = std::get_if<std::string>(&cell)) return *text;
  if (const auto* number = std::get_if<double>(&cell)) return *number;
  if (const auto* whole = std::get_if<std::int64_t>(&cell)) return *whole;
  return nullptr;
}

wire::Json line_json(const Line& line) {
  wire::Json json = wire::Json::array();
  for (const XY& point : line) json.push_back({point.x, point.y});
  return json;
}

Result<wire::Json> feature_json(const OutTable& table, const OutRow& row,
                                const Projection* projection) {
  wire::Json feature;
  feature["type"] = "Feature";
  feature["properties"]["layer"] = table.name;
  for (std::size_t i = 0; i < row.cells.size(); ++i)
    feature["properties"][table.columns[i].name] = json_of(row.cells[i]);
  feature["geometry"] = nullptr;
  if (row.parts.empty()) return feature;
  std::vector<Line> parts = row.parts;
  for (Line& part : parts) {
    if (projection == nullptr) break;
    BELLHOLE_TRY(done, projection->to_degrees(part));
    static_cast<void>(done);
  }
  wire::Json& geometry = feature["geometry"];
  geometry = wire::Json::object();
  if (table.shape == Shape::point) {
    geometry["type"] = "Point";
    geometry["coordinates"] = {parts[0][0].x, parts[0][0].y};
  } else if (parts.size() == 1) {
    geometry["type"] = "LineString";
    geometry["coordinates"] = line_json(parts[0]);
  } else {
    geometry["type"] = "MultiLineString";
    geometry["coordinates"] = wire::Json::array();
    for (const Line& part : parts) geometry["coordinates"].push_back(line_json(part));
  }
  return feature;
}

}  // namespace

Result<bool> write_geopackage(const std::string& path, const std::string& crs,
                              const std::vector<OutTable>& tables) {
  return write_through(path, [&](const std::string& beside) {
    std::error_code ignored;
    std::filesystem::remove(beside, ignored);
    return PackageWriter(beside, crs).write(tables);
  });
}

Result<bool> write_geojson(const std::string& path, const Projection* projection,
                           const std::vector<OutTable>& tables) {
  wire::Json json;
  json["type"] = "FeatureCollection";
  json["features"] = wire::Json::array();
  for (const OutTable& table : tables) {
    for (const OutRow& row : table.rows) {
      BELLHOLE_TRY(feature, feature_json(table, row, projection));
      json["features"].push_back(std::move(feature));
    }
  }
  return write_file(path, json.dump(1, ' ', false, wire::Json::error_handler_t::replace) + "\n");
}

}  // namespace bellhole::maps
