// The door to the map: any vector source that GDAL reads. GDAL's errors stop here.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "findings/trouble.hpp"
#include "maps/raw.hpp"

namespace bellhole::maps {

/// A projected system in metres to work in, and back to degrees.
class Projection {
 public:
  /// `name` as "EPSG:32630". Errors: bad_mapping when it is not a projected system in metres, or
  /// stretches lengths at `lon`, `lat` by more than `most_stretch`.
  static Result<Projection> of(const std::string& name, double lon, double lat);
  ~Projection();
  Projection(Projection&&) noexcept;
  Projection& operator=(Projection&&) noexcept;

  [[nodiscard]] const std::string& name() const;
  /// Longitude (x) and latitude (y) in degrees of points in this system, in place.
  Result<bool> to_degrees(std::vector<XY>& points) const;

  /// Lengths on paper may differ from lengths in the street by this much. A transverse Mercator
  /// zone stays within 0.1 % of true length inside its own zone (Snyder 1987, USGS PP 1395, section
  /// 8: scale 0.9996 on the central meridian); a web Mercator map does not.
  static constexpr double most_stretch = 0.002;

 private:
  struct Inside;
  explicit Projection(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
  friend class Source;
};

/// What is known of a layer before it is read.
struct LayerHead {
  std::string name, crs;  ///< crs: "EPSG:4326", or the name that the layer gives; "" none
  bool spatial = true;
  bool metres = false;  ///< its system is projected in metres and has an EPSG number
};

class Source {
 public:
  /// Errors: unreadable_file.
  static Result<Source> open(const std::string& path);
  ~Source();
  Source(Source&&) noexcept;
  Source& operator=(Source&&) noexcept;

  [[nodiscard]] std::vector<std::string> layers() const;
  /// `crs` stands in for a layer that does not say. Errors: bad_mapping when the layer is not there
  /// or its system is not known; `where` names the place in the mapping.
  Result<LayerHead> head(const std::string& layer, const std::string& crs,
                         const std::string& where);
  /// The middle of a layer in degrees: the median of its features' first points, which strays do
  /// not move. Errors: as head(), bad_geometry when no feature has a place.
  Result<XY> middle(const std::string& layer, const std::string& crs, const std::string& where);
  /// Reads a layer into the working system. Errors: as head(), unreadable_file when reading stops
  /// early.
  Result<RawLayer> read(const std::string& layer, const std::string& crs, const Projection& into,
                        const std::string& where);

 private:
  struct Inside;
  explicit Source(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

/// The zone of the universal transverse Mercator grid for a place: "EPSG:32631" north, "EPSG:32731"
/// south.
std::string utm_zone(double lon, double lat);

}  // namespace bellhole::maps
