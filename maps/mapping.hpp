// The mapping file: how the layers and columns of a company's map become a network.
// docs/handbook/maps.md is its reference, schema/mapping.schema.json its schema.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "findings/trouble.hpp"
#include "units/quantity.hpp"

namespace bellhole::maps {

/// Where one field of an element comes from: a column, a value that is the same for all rows, or a
/// column with a value for the rows where it is empty.
struct Field {
  std::string column;
  std::optional<std::string> value;       ///< the same for all rows
  std::optional<std::string> if_missing;  ///< used where the column is empty; reported each time
  std::string because;                    ///< why `value` or `if_missing` may be taken
  std::string unit;                       ///< of a column of bare numbers: "ft", "psig"
  std::map<std::string, std::string, std::less<>>
      codes;  ///< the map's word -> ours; empty: taken as it is
};

/// Which rows of a layer an entry takes: those whose column has one of the values.
struct Only {
  std::string column;
  std::vector<std::string> is;
};

/// One layer (or part of a layer) as elements of one kind.
struct LayerEntry {
  std::string layer;
  std::string source;  ///< another file than the map, beside the mapping; "" the map
  std::string crs;     ///< of a layer that does not say; "" as the layer says
  std::optional<Only> only;
  std::optional<Only> leave_out;  ///< rows that are known and not wanted: abandoned, proposed
  std::map<std::string, Field, std::less<>> fields;
  std::optional<Length> reach;     ///< furthest that an element may lie from its main
  std::vector<std::string> tiers;  ///< mains that it may belong to; empty: all
};

/// What a material code or a size code stands for. Empty: the code does not say.
struct PipeCode {
  std::map<std::string, std::string, std::less<>>
      fields;  ///< material, grade, size, ratio, bore, wall, roughness, …
};

struct LoadClass {
  std::string shape;
  StdFlow base;
  double per_k = 0.0;   ///< std m3/s per kelvin
  GaugePressure least;  ///< nan: the tier's
  std::string because;
};

struct TierEntry {
  std::string id;
  GaugePressure maop, least;  ///< nan: not given
};

struct ShapeEntry {
  std::string id;
  Temperature reference;
  std::array<double, 24> hour_factor{};
  double low = 1.0, high = 1.0;
};

struct Roughness {
  std::string material;  ///< "pe"
  Length value;
  std::string because;
};

struct Mapping {
  std::string file;  ///< as named on the command line, for trouble
  std::string name, map_date;
  std::string crs;                 ///< projected system to work in; "": see choose_crs()
  AbsolutePressure base_pressure;  ///< nan: not given
  Temperature base_temperature;
  AbsolutePressure barometer;
  Length datum_altitude;
  Length snap;           ///< ends nearer than this are one joint
  Length report_gap;     ///< ends nearer than this to a main, but not joined, are reported
  Length station_reach;  ///< how far the two sides of a regulator station may lie from its point
  double most_not_snapping = 0.1;  ///< fraction of mains with open ends at which the import halts
  bool join_crossings = false;
  /// The map was written by `export-network`: mains are joined by the nodes that they name and not
  /// otherwise, its notes come with it, and what this import finds stands in the report only.
  bool already_imported = false;
  std::string imported_from;  ///< of an exported network: the map that it once came from
  std::vector<TierEntry> tiers;
  std::vector<ShapeEntry> shapes;
  std::map<std::string, std::map<std::string, PipeCode, std::less<>>, std::less<>> pipe_codes;
  std::map<std::string, LoadClass, std::less<>> load_classes;
  std::vector<Roughness> roughness;
  std::map<std::string, std::vector<LayerEntry>, std::less<>>
      layers;                       ///< by kind: "mains", "valves", …
  std::vector<std::string> ignore;  ///< layers of the map that are meant to be left alone
  std::vector<std::string>
      assumed;  ///< what reading the file took for granted ("60 psi read as gauge")

  [[nodiscard]] const std::vector<LayerEntry>& entries(std::string_view kind) const;
  [[nodiscard]] std::optional<std::size_t> tier(std::string_view id) const;
};

/// Reads a mapping. Errors: those of wire::parse_json and of its readers, bad_mapping (an unknown
/// field of an element, a shape or tier named and not given, no mains, no snap tolerance); `where`
/// names the place in the file: "town.mapping.json: layers.valves[0].fields.station".
Result<Mapping> read_mapping(std::string_view bytes, std::string_view file);

}  // namespace bellhole::maps
