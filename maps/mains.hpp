// The mains of a map: lines with what is known of the pipe, before they are joined.
#pragma once

#include <string>
#include <vector>

#include "maps/geometry.hpp"
#include "maps/mapping.hpp"
#include "maps/raw.hpp"
#include "maps/report.hpp"
#include "network/columns.hpp"

namespace bellhole::maps {

/// What is known of a pipe, whatever its line.
struct PipeFacts {
  Length bore, roughness, depth;  ///< nan: unknown
  network::Material material = network::Material::unknown;
  std::string grade, size;
  double ratio = 0.0;  ///< nan: unknown
  std::int16_t year = 0;
  network::Lining lining;
  std::string street, surface;
};

struct Main {
  std::string id;
  std::string name;          ///< id before it was told apart from others or from other parts
  std::string layer, label;  ///< of the map, for the report
  network::Index tier = network::none;
  Line line;
  double recorded = 0.0;  ///< length as the map records it; nan: not
  PipeFacts facts;
  network::Ternary two_way = network::Ternary::unknown;  ///< what the map claims
  std::string from_node, to_node;                        ///< as the map names them; ""
};

/// Reads all entries of `mains`. Rows are added for everything that was repaired or taken for
/// granted. `layers[i]` is the layer of entry i. Errors: bad_mapping.
Result<std::vector<Main>> read_mains(const Mapping& mapping,
                                     const std::vector<const RawLayer*>& layers, Report& report);

}  // namespace bellhole::maps
