#include "maps/source.hpp"

#include <fmt/format.h>
#include <gdal_priv.h>
#include <ogrsf_frmts.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "maps/gdal_errors.hpp"

namespace bellhole::maps {
namespace {

struct SrsEnd {
  void operator()(OGRSpatialReference* srs) const { srs->Release(); }
};
using Srs = std::unique_ptr<OGRSpatialReference, SrsEnd>;
struct TransformEnd {
  void operator()(OGRCoordinateTransformation* t) const {
    OGRCoordinateTransformation::DestroyCT(t);
  }
};
using Transform = std::unique_ptr<OGRCoordinateTransformation, TransformEnd>;

/// A system by its name, with x before y whatever the authority says.
Srs srs_of(const std::string& name) {
  Srs srs(new OGRSpatialReference());
  if (srs->SetFromUserInput(name.c_str(),
                            OGRSpatialReference::SET_FROM_USER_INPUT_LIMITATIONS_get()) !=
      OGRERR_NONE) {
    return nullptr;
  }
  srs->SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
  return srs;
}
Srs copy_of(const OGRSpatialReference& srs) {
  Srs copy(srs.Clone());
  copy->SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
  return copy;
}

std::string name_of(const OGRSpatialReference& srs) {
  const char* authority = srs.GetAuthorityName(nullptr);
  const char* code = srs.GetAuthorityCode(nullptr);
  if (authority != nullptr && code != nullptr) return fmt::format("{}:{}", authority, code);
  Srs guess(srs.Clone());
  if (guess->AutoIdentifyEPSG() == OGRERR_NONE && guess->GetAuthorityCode(nullptr) != nullptr) {
    return fmt::format("{}:{}", guess->GetAuthorityName(nullptr), guess->GetAuthorityCode(nullptr));
  }
  const char* name = srs.GetName();
  return name == nullptr ? "" : name;
}

bool in_metres(const OGRSpatialReference& srs) {
  return srs.IsProjected() != 0 && std::abs(srs.GetLinearUnits() - 1.0) < 1e-9;
}

/// No projected system of this world has coordinates beyond this.
constexpr double furthest_m = 1e9;

std::string text_of(const OGRFeature& feature, int i) {
  const OGRFieldDefn* column = feature.GetFieldDefnRef(i);
  switch (column->GetType()) {
    case OFTReal:
      return fmt::format("{}", feature.GetFieldAsDouble(i));
    case OFTInteger:
      if (column->GetSubType() == OFSTBoolean)
        return feature.GetFieldAsInteger(i) != 0 ? "true" : "false";
      return fmt::format("{}", feature.GetFieldAsInteger(i));
    case OFTInteger64:
      return fmt::format("{}", feature.GetFieldAsInteger64(i));
    case OFTDate:
    case OFTDateTime: {
      int year = 0, month = 0, day = 0, hour = 0, minute = 0, second = 0, zone = 0;
      feature.GetFieldAsDateTime(i, &year, &month, &day, &hour, &minute, &second, &zone);
      return fmt::format("{:04}-{:02}-{:02}", year, month, day);
    }
    default:
      return feature.GetFieldAsString(i);
  }
}

/// Bytes that are not UTF-8 become U+FFFD, so that every document stays readable.
std::string readable(const std::string& text) {
  if (CPLIsUTF8(text.c_str(), static_cast<int>(text.size())) != 0) return text;
  std::string out;
  for (const char c : text)
    out += static_cast<unsigned char>(c) < 0x80 ? std::string(1, c) : "\xEF\xBF\xBD";
  return out;
}

Cell cell_of(const OGRFeature& feature, int i) {
  if (feature.IsFieldSetAndNotNull(i) == 0) return std::nullopt;
  std::string text = readable(text_of(feature, i));
  const auto first = text.find_first_not_of(" \t\r\n"), last = text.find_last_not_of(" \t\r\n");
  if (first == std::string::npos) return std::nullopt;
  return text.substr(first, last - first + 1);
}

// --- geometry
// -------------------------------------------------------------------------------------------
void take_curve(const OGRSimpleCurve& curve, RawFeature& out) {
  std::vector<XY> part;
  std::vector<double> heights;
  for (int i = 0; i < curve.getNumPoints(); ++i) {
    part.push_back({curve.getX(i), curve.getY(i)});
    if (curve.Is3D() != 0) heights.push_back(curve.getZ(i));
  }
  out.parts.push_back(std::move(part));
  if (curve.Is3D() != 0) out.heights.push_back(std::move(heights));
}

void take(const OGRGeometry& geometry, RawFeature& out) {
  const auto shape = [&](Shape is) {
    out.shape = out.parts.empty() || out.shape == is ? is : Shape::other;
  };
  switch (wkbFlatten(geometry.getGeometryType())) {
    case wkbPoint: {
      const auto* point = geometry.toPoint();
      if (point->IsEmpty() != 0) return;
      shape(Shape::point);
      out.parts.push_back({{point->getX(), point->getY()}});
      if (point->Is3D() != 0) out.heights.push_back({point->getZ()});
      return;
    }
    case wkbLineString:
      if (geometry.IsEmpty() != 0) return;
      shape(Shape::line);
      return take_curve(*geometry.toLineString(), out);
    case wkbPolygon:
      if (geometry.IsEmpty() != 0) return;
      shape(Shape::area);
      for (const auto* ring : *geometry.toPolygon()) take_curve(*ring, out);
      return;
    case wkbMultiPoint:
    case wkbMultiLineString:
    case wkbMultiPolygon:
    case wkbGeometryCollection:
      for (const auto* member : *geometry.toGeometryCollection()) take(*member, out);
      return;
    default:
      out.shape = Shape::other;
  }
}

void take_geometry(const OGRGeometry* geometry, RawFeature& out) {
  if (geometry == nullptr) return;
  out.curved = geometry->hasCurveGeometry(TRUE) != 0;
  if (out.curved) {
    const std::unique_ptr<OGRGeometry> linear(geometry->getLinearGeometry());
    if (linear) take(*linear, out);
  } else {
    take(*geometry, out);
  }
}

void project(RawFeature& feature, OGRCoordinateTransformation* transform) {
  for (auto& part : feature.parts) {
    for (auto& point : part) {
      bool good = std::isfinite(point.x) && std::isfinite(point.y);
      if (good && transform != nullptr) good = transform->Transform(1, &point.x, &point.y) != 0;
      if (!good || !(std::abs(point.x) < furthest_m) || !(std::abs(point.y) < furthest_m)) {
        feature.broken = true;
        point = {0.0, 0.0};
      } else {
        point = {kept(point.x), kept(point.y)};
      }
    }
  }
}

/// Ratio of a short distance on paper to the same distance on the ellipsoid, the worse of east and
/// north. Radii of curvature: Snyder 1987, USGS PP 1395, equations (4-18) to (4-21).
double stretch_at(const OGRSpatialReference& geographic, OGRCoordinateTransformation& into,
                  double lon, double lat) {
  const double a = geographic.GetSemiMajor(),
               f = geographic.GetInvFlattening() > 0 ? 1.0 / geographic.GetInvFlattening() : 0.0;
  const double e2 = f * (2.0 - f), degree = std::numbers::pi / 180.0, s = std::sin(lat * degree);
  const double across = a / std::sqrt(1.0 - e2 * s * s);
  const double along = a * (1.0 - e2) / std::pow(1.0 - e2 * s * s, 1.5);
  const double step = 0.001;  // degrees
  double x[3] = {lon, lon + step, lon}, y[3] = {lat, lat, lat + step};
  if (into.Transform(3, x, y) == 0) return HUGE_VAL;
  const double east =
      std::hypot(x[1] - x[0], y[1] - y[0]) / (across * std::cos(lat * degree) * step * degree);
  const double north = std::hypot(x[2] - x[0], y[2] - y[0]) / (along * step * degree);
  return std::max(std::abs(east - 1.0), std::abs(north - 1.0));
}

}  // namespace

// --- projection
// -----------------------------------------------------------------------------------------
struct Projection::Inside {
  std::string name;
  Srs srs;
  Transform to_degrees;
};
Projection::Projection(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Projection::~Projection() = default;
Projection::Projection(Projection&&) noexcept = default;
Projection& Projection::operator=(Projection&&) noexcept = default;
const std::string& Projection::name() const { return inside_->name; }

Result<Projection> Projection::of(const std::string& name, double lon, double lat) {
  const GdalErrors gdal;
  auto inside = std::make_unique<Inside>();
  inside->name = name;
  inside->srs = srs_of(name);
  if (!inside->srs || !in_metres(*inside->srs)) {
    return trouble(Code::bad_mapping, "crs", name,
                   "name a projected system in metres, as \"EPSG:32630\", or leave `crs` out");
  }
  const Srs degrees(inside->srs->CloneGeogCS());
  degrees->SetAxisMappingStrategy(OAMS_TRADITIONAL_GIS_ORDER);
  const Srs world = srs_of("EPSG:4326");
  const Transform into(OGRCreateCoordinateTransformation(degrees.get(), inside->srs.get()));
  inside->to_degrees.reset(OGRCreateCoordinateTransformation(inside->srs.get(), world.get()));
  if (!into || !inside->to_degrees) {
    return trouble(Code::bad_mapping, "crs", name,
                   "this system cannot be projected here: " + gdal.said());
  }
  const double stretch = stretch_at(*degrees, *into, lon, lat);
  if (!(stretch <= most_stretch)) {
    return trouble(Code::bad_mapping, "crs", name,
                   fmt::format("at this place the system changes lengths by {:.1f} %: name one "
                               "made for the place, or leave "
                               "`crs` out",
                               100.0 * stretch));
  }
  return Projection(std::move(inside));
}

Result<bool> Projection::to_degrees(std::vector<XY>& points) const {
  const GdalErrors gdal;
  for (auto& point : points) {
    if (inside_->to_degrees->Transform(1, &point.x, &point.y) == 0) {
      return trouble(Code::bad_geometry, "crs", inside_->name,
                     "a node cannot be given in degrees: " + gdal.said());
    }
    constexpr double steps = 1e9;  // a billionth of a degree is a tenth of a millimetre
    point = {std::round(point.x * steps) / steps, std::round(point.y * steps) / steps};
  }
  return true;
}

// --- source
// ---------------------------------------------------------------------------------------------
struct Source::Inside {
  std::string path;
  GDALDatasetUniquePtr set;

  [[nodiscard]] OGRLayer* layer(const std::string& name) const {
    return set->GetLayerByName(name.c_str());
  }
  [[nodiscard]] Srs srs(OGRLayer& layer, const std::string& stand_in) const {
    if (const auto* own = layer.GetSpatialRef(); own != nullptr) return copy_of(*own);
    return stand_in.empty() ? nullptr : srs_of(stand_in);
  }
};
Source::Source(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
Source::~Source() = default;
Source::Source(Source&&) noexcept = default;
Source& Source::operator=(Source&&) noexcept = default;

Result<Source> Source::open(const std::string& path) {
  static const bool ready = [] {
    GDALAllRegister();
    return true;
  }();
  static_cast<void>(ready);
  const GdalErrors gdal;
  auto inside = std::make_unique<Inside>();
  inside->path = path;
  inside->set.reset(GDALDataset::Open(path.c_str(), GDAL_OF_VECTOR | GDAL_OF_READONLY));
  if (!inside->set) {
    return trouble(Code::unreadable_file, path, gdal.said(),
                   "give a file or folder with vector layers, as GeoPackage, shapefiles, GeoJSON");
  }
  return Source(std::move(inside));
}

std::vector<std::string> Source::layers() const {
  std::vector<std::string> names;
  for (int i = 0; i < inside_->set->GetLayerCount(); ++i)
    names.emplace_back(inside_->set->GetLayer(i)->GetName());
  return names;
}

Result<LayerHead> Source::head(const std::string& name, const std::string& crs,
                               const std::string& where) {
  const GdalErrors gdal;
  OGRLayer* layer = inside_->layer(name);
  if (layer == nullptr) {
    return trouble(Code::bad_mapping, where, name,
                   fmt::format("the map has no such layer; it has: {}", fmt::join(layers(), ", ")));
  }
  LayerHead head{.name = name, .crs = "", .spatial = layer->GetGeomType() != wkbNone};
  if (!head.spatial) return head;
  const Srs srs = inside_->srs(*layer, crs);
  if (!srs) {
    return trouble(Code::bad_mapping, where, name,
                   "this layer does not say its coordinate system: give `crs` beside the layer's "
                   "name, as \"EPSG:4326\"");
  }
  head.crs = name_of(*srs);
  head.metres = in_metres(*srs) && head.crs.starts_with("EPSG:");
  return head;
}

Result<XY> Source::middle(const std::string& name, const std::string& crs,
                          const std::string& where) {
  BELLHOLE_TRY(head, this->head(name, crs, where));
  const GdalErrors gdal;
  OGRLayer* layer = inside_->layer(name);
  std::vector<double> x, y;
  layer->ResetReading();
  for (const auto& feature : *layer) {
    RawFeature raw;
    take_geometry(feature->GetGeometryRef(), raw);
    if (raw.parts.empty() || raw.parts[0].empty()) continue;
    const XY first = raw.parts[0][0];
    if (!std::isfinite(first.x) || !std::isfinite(first.y)) continue;
    x.push_back(first.x);
    y.push_back(first.y);
  }
  if (x.empty()) {
    return trouble(Code::bad_geometry, where, name, "no feature of this layer has a place");
  }
  const auto half = static_cast<std::ptrdiff_t>(x.size() / 2);
  std::nth_element(x.begin(), x.begin() + half, x.end());
  std::nth_element(y.begin(), y.begin() + half, y.end());
  XY middle{x[static_cast<std::size_t>(half)], y[static_cast<std::size_t>(half)]};
  const Srs srs = inside_->srs(*layer, crs), world = srs_of("EPSG:4326");
  const Transform to_world(OGRCreateCoordinateTransformation(srs.get(), world.get()));
  const bool good =
      to_world && to_world->Transform(1, &middle.x, &middle.y) != 0 && std::abs(middle.y) <= 90.0;
  if (!good) {
    return trouble(Code::bad_geometry, where, fmt::format("{}: {}", name, head.crs),
                   "the middle of this layer lies outside its coordinate system: the system is not "
                   "the one that the "
                   "coordinates are in");
  }
  return middle;
}

Result<RawLayer> Source::read(const std::string& name, const std::string& crs,
                              const Projection& into, const std::string& where) {
  BELLHOLE_TRY(head, this->head(name, crs, where));
  const GdalErrors gdal;
  OGRLayer* layer = inside_->layer(name);
  RawLayer out{
      .name = name, .crs = head.crs, .projected_here = false, .columns = {}, .features = {}};
  Transform transform;
  if (head.spatial) {
    const Srs srs = inside_->srs(*layer, crs);
    out.projected_here = srs->IsSame(into.inside_->srs.get()) == 0;
    if (out.projected_here) {
      transform.reset(OGRCreateCoordinateTransformation(srs.get(), into.inside_->srs.get()));
      if (!transform) {
        return trouble(
            Code::bad_mapping, where, head.crs,
            fmt::format("this system cannot be projected into {}: {}", into.name(), gdal.said()));
      }
    }
  }
  const OGRFeatureDefn* columns = layer->GetLayerDefn();
  for (int i = 0; i < columns->GetFieldCount(); ++i)
    out.columns.emplace_back(columns->GetFieldDefn(i)->GetNameRef());
  layer->ResetReading();
  for (const auto& feature : *layer) {
    RawFeature raw;
    raw.fid = feature->GetFID();
    take_geometry(feature->GetGeometryRef(), raw);
    project(raw, transform.get());
    for (int i = 0; i < columns->GetFieldCount(); ++i) raw.cells.push_back(cell_of(*feature, i));
    out.features.push_back(std::move(raw));
  }
  if (layer->GetFeatureCount(TRUE) != static_cast<GIntBig>(out.features.size())) {
    return trouble(Code::unreadable_file, fmt::format("{}: layer {}", inside_->path, name),
                   gdal.said(), "reading stopped before the last feature: the file is damaged");
  }
  return out;
}

std::string utm_zone(double lon, double lat) {
  const int zone = std::clamp(static_cast<int>(std::floor((lon + 180.0) / 6.0)) + 1, 1, 60);
  return fmt::format("EPSG:{}", (lat < 0.0 ? 32700 : 32600) + zone);
}

}  // namespace bellhole::maps
