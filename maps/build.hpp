// From layers as read to a network with its report. Free of files and of GDAL.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "findings/trouble.hpp"
#include "maps/elements.hpp"
#include "maps/mapping.hpp"
#include "maps/report.hpp"
#include "network/columns.hpp"

namespace bellhole::maps {

struct Input {
  const Mapping& mapping;
  const Layers& layers;  ///< one RawLayer for each entry of the mapping
  std::string crs;       ///< the working system
  std::string imported_from;
  std::function<Result<bool>(std::vector<XY>&)> to_degrees;  ///< of points in the working system
  const std::vector<std::string>& accept;  ///< rules whose halts a person lets pass
};

/// Mains further than this from the middle of the map are not of this map: a coordinate that was
/// typed or projected wrongly. No town is that wide; a mapping can say otherwise.
inline constexpr double furthest_from_middle_m = 100e3;

/// Builds the network; rows are added to `report`, and the same rows stand in the network's notes.
/// A network comes back even where the report has halts: whether to keep it is the caller's.
/// Errors: bad_mapping, bad_network (no main could be used), unreadable_value (a rule in `accept`
/// that nothing halts by).
Result<network::Network> build_network(const Input& input, Report& report);

/// Writes the rows of the report into the notes of the network, each with the pipes that its main
/// became.
void take_notes(const Report& report,
                const std::function<std::vector<std::string>(const std::string&)>& elements,
                network::Network& network);

}  // namespace bellhole::maps
