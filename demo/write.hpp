// Writes a town as a map: a GeoPackage with the layers and columns that demo/marlhaven.mapping.json
// reads.
#pragma once

#include <string>

#include "demo/town.hpp"

namespace bellhole::demo {

/// Mains, valves, stations and fittings in EPSG:32624, premises in EPSG:4326. Throws
/// std::runtime_error when the file cannot be written; nothing is left behind then.
void write_map(const Town& town, const std::string& path);

}  // namespace bellhole::demo
