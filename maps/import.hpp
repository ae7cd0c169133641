// `bellhole-maps import`: map and mapping in, network and report out.
#pragma once

#include <string>
#include <vector>

#include "findings/trouble.hpp"
#include "maps/report.hpp"
#include "network/columns.hpp"

namespace bellhole::maps {

struct ImportRequest {
  std::string map;      ///< file, folder or whatever GDAL opens
  std::string mapping;  ///< file
  std::vector<std::string>
      accept;  ///< rules whose halts a person lets pass: "import.many_not_snapping"
};

struct Imported {
  network::Network network;
  Report report;
  Summary summary;  ///< network_hash is empty when the report halts
};

/// Reads the map. A report with a halt comes back as well: the network is then not to be written.
/// Errors: of read_mapping, Source and build_network; unreadable_value for a rule in `accept` that
/// did not halt.
Result<Imported> import_map(const ImportRequest& request);

}  // namespace bellhole::maps
