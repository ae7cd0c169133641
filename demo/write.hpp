// Writes a town as a map: a GeoPackage with the layers and columns that demo/marlhaven.mapping.json
// reads.
#pragma once

#include <string>

#include "demo/town.hpp"
#include "findings/trouble.hpp"

namespace bellhole::demo {

/// Mains, valves, stations and fittings in EPSG:32624, premises in EPSG:4326. Errors:
/// unwritable_file.
Result<bool> write_map(const Town& town, const std::string& path);

}  // namespace bellhole::demo
