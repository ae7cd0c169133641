// What is known of a pipe, from the columns and codes of its layer.
#pragma once

#include <map>
#include <string>

#include "maps/cells.hpp"
#include "maps/mains.hpp"

namespace bellhole::maps {

/// Reads the facts of pipes. One lives as long as an import, so that what holds for thousands of
/// pipes is reported once.
class FactReader {
 public:
  FactReader(const Mapping& mapping, Report& report) : mapping_(mapping), report_(report) {}

  PipeFacts read(Cells& cells);

  /// Reports what was taken for granted over all pipes: a roughness for each material.
  void finish();

 private:
  class Row;
  Length roughness(network::Material material, Cells& cells);

  const Mapping& mapping_;
  Report& report_;
  std::map<network::Material, std::size_t> assumed_roughness_;
};

}  // namespace bellhole::maps
