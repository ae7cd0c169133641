// The door out: tables as a GeoPackage or as GeoJSON. GDAL's errors stop here; nothing is
// half-written.
#pragma once

#include <string>
#include <vector>

#include "findings/trouble.hpp"
#include "maps/source.hpp"
#include "maps/tables.hpp"

namespace bellhole::maps {

/// Writes a GeoPackage with one layer a table, in the system `crs` ("EPSG:32630"). The same tables
/// give the same bytes. Errors: unwritable_file, bad_mapping (a system that is not known).
Result<bool> write_geopackage(const std::string& path, const std::string& crs,
                              const std::vector<OutTable>& tables);

/// Writes one FeatureCollection (RFC 7946, so in degrees of WGS 84); each feature carries its
/// table's name under "layer". Without a projection the tables are in degrees already. Errors:
/// unwritable_file, bad_geometry.
Result<bool> write_geojson(const std::string& path, const Projection* projection,
                           const std::vector<OutTable>& tables);

}  // namespace bellhole::maps
