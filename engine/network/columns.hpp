// The network as columns: one vector per field, one index per element. It is the map as imported;
// nothing in Bellhole edits it. What a crew finds is laid over it (plan/found.hpp) and recorded.
//
// Conventions
//   - Every vector of one struct has the same length; check() says where that or anything else is
//   broken.
//   - Indices are positions in these columns and mean nothing outside one network; ids are the
//   map's own
//     words and are what documents carry.
//   - Stations run along a pipe in metres from its `from` node, 0 to length.
//   - x, y are metres in the projected system named by `crs`; lon, lat are degrees, for people and
//   paper.
//   - nan marks a number that the map does not give; it is said wherever it matters, never filled
//   in silently.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

#include "units/quantity.hpp"

namespace bellhole::network {

using Index = std::int32_t;
inline constexpr Index none = -1;

enum class Ternary : std::uint8_t { no, yes, unknown };

/// A pressure tier: mains that are meant to run at one level.
struct Tiers {
  std::vector<std::string> id;
  std::vector<GaugePressure> maop;   ///< most that the tier may ever see; nan: not recorded
  std::vector<GaugePressure> least;  ///< least at a main for a customer without a figure of its own
  [[nodiscard]] std::size_t size() const { return id.size(); }
};

struct Nodes {
  std::vector<std::string> id;
  std::vector<double> x, y;       ///< projected metres
  std::vector<double> lon, lat;   ///< degrees
  std::vector<Length> elevation;  ///< above the datum; nan: not recorded (taken as level, and said)
  std::vector<Index> tier;
  [[nodiscard]] std::size_t size() const { return id.size(); }
};

enum class Material : std::uint8_t { pe, steel, cast_iron, pvc, other, unknown };

/// What makes a length of PE something other than a plain buried pipe. Any of them forbids a
/// squeeze or leaves it undecided; none of them is ever assumed away.
struct Lining {
  Ternary inserted = Ternary::unknown;  ///< pushed through an old pipe
  Ternary cased = Ternary::unknown;
  Ternary layered = Ternary::unknown;  ///< peelable skin or barrier layer
  Ternary lined = Ternary::unknown;
};

struct Pipes {
  std::vector<std::string> id;
  std::vector<Index> from, to;
  std::vector<Length> length;  ///< as recorded or measured along the line
  std::vector<Length> bore;    ///< inside diameter used for flow
  std::vector<Length> roughness;
  std::vector<Material> material;
  std::vector<std::string> grade;         ///< "PE2708", "PE100", "X42", "" if unknown
  std::vector<std::string> nominal_size;  ///< "IPS 4", "dn 125", "NPS 6", "" if unknown
  std::vector<double> ratio;              ///< DR / SDR; nan: unknown
  std::vector<std::int16_t> year;         ///< laid; 0: unknown
  std::vector<Lining> lining;
  std::vector<std::string> street;
  std::vector<std::string> surface;  ///< what must be dug through: "asphalt", "grass", "" unknown
  std::vector<Length> depth;         ///< cover; nan: unknown
  /// Line of each pipe between its end nodes: vertices [first[i], first[i+1]) of vx, vy
  /// (projected), ends included.
  std::vector<std::int32_t> first;  ///< size() + 1 entries
  std::vector<double> vx, vy;
  [[nodiscard]] std::size_t size() const { return id.size(); }
};

enum class Position : std::uint8_t { open, closed, unknown };

/// A valve sits on a pipe at a station. A closed one parts the pipe there.
struct Valves {
  std::vector<std::string> id;
  std::vector<Index> pipe;
  std::vector<Length> station;
  std::vector<Position> position;          ///< as recorded
  std::vector<Position> normal;            ///< as meant
  std::vector<double> last_operated_year;  ///< 2024.5 = mid 2024; nan: never proven
  std::vector<Ternary> operable;           ///< yes: turned and seen to hold when last operated
  std::vector<Ternary> reachable;          ///< no: paved over, under water, in a locked yard
  [[nodiscard]] std::size_t size() const { return id.size(); }
};

/// Where a regulator feels the pressure that it controls.
enum class Sensing : std::uint8_t { own_outlet, remote, unknown };

struct Regulators {
  std::vector<std::string> id, station_name;
  std::vector<Index> inlet, outlet;  ///< nodes
  std::vector<Sensing> sensing;
  std::vector<Index> tap_pipe;  ///< remote only: the main that is tapped; none: not recorded
  std::vector<Length> tap_station;
  std::vector<GaugePressure> set_point;
  std::vector<StdFlow> capacity;           ///< most it passes at design inlet; nan: not recorded
  std::vector<GaugePressure> least_inlet;  ///< inlet at which `capacity` holds; nan: not recorded
  std::vector<double> lock_up;  ///< rise over set point at no flow, fraction of set point; nan
  std::vector<GaugePressure> relief;  ///< relief set point; nan: none recorded
  std::vector<Ternary>
      blocks_reverse;  ///< check or slam-shut recorded; unknown counts as reverse possible
  std::vector<Ternary> needs_reset;  ///< has a device that a hand must reset after it trips
  [[nodiscard]] std::size_t size() const { return id.size(); }
};

/// Where gas enters: a gate station, a producer, a trailer.
struct Sources {
  std::vector<std::string> id;
  std::vector<Index> node;
  std::vector<GaugePressure> pressure;
  std::vector<StdFlow> capacity;  ///< nan: not recorded (taken as unlimited, and said)
  [[nodiscard]] std::size_t size() const { return id.size(); }
};

/// How a kind of customer draws gas: flow(T, hour) = hour_factor[hour] x (base + per_k x max(0,
/// reference - T)). The factors are means of the day: they average 1.
struct LoadShapes {
  std::vector<std::string> id;
  std::vector<Temperature> reference;
  std::vector<std::array<double, 24>> hour_factor;
  std::vector<double> low, high;  ///< multipliers on the expected draw
  [[nodiscard]] std::size_t size() const { return id.size(); }
};

struct Customers {
  std::vector<std::string> id;  ///< meter or premise number; names live in a register, not here
  std::vector<Index> pipe;
  std::vector<Length> station;
  std::vector<Index> shape;
  std::vector<StdFlow> base;
  std::vector<double> per_k;                ///< std m3/s per kelvin below the shape's reference
  std::vector<GaugePressure> least;         ///< at the main; nan: the tier's
  std::vector<std::uint8_t> must_not_lose;  ///< hospital, school, dialysis at home …
  std::vector<std::string> why_not;         ///< in words, where must_not_lose
  std::vector<std::string> street;
  std::vector<Ternary> excess_flow_valve;
  [[nodiscard]] std::size_t size() const { return id.size(); }
};

/// Things along a pipe that a squeeze must keep clear of, or that a plan must know about.
enum class FeatureKind : std::uint8_t {
  joint,
  fitting,
  service_tee,
  transition,
  squeeze,
  repair,
  cap,
  relief,
  telemetry,
  control_line,
  stub,
  other
};

struct Features {
  std::vector<std::string> id;
  std::vector<FeatureKind> kind;
  std::vector<Index> pipe;
  std::vector<Length> begin, end;  ///< stations; equal for a point
  std::vector<std::string> says;   ///< the map's own words
  [[nodiscard]] std::size_t size() const { return id.size(); }
};

/// A repair or an assumption made on import. It travels into every answer that touches the element.
struct Notes {
  std::vector<std::string> rule;     ///< "import.snapped", "import.assumed_ratio" …
  std::vector<std::string> element;  ///< "pipe M-12", "valve V-3"
  std::vector<std::string> says;
  std::vector<std::uint8_t> assumed;  ///< 1: a value was assumed; 0: a repair or a remark
  [[nodiscard]] std::size_t size() const { return rule.size(); }
};

/// Lines that carry no gas and are only drawn: the coast, streets, buildings.
enum class BackdropKind : std::uint8_t { coast, street, building, water, other };

struct Backdrop {
  std::vector<BackdropKind> kind;
  std::vector<std::string> says;    ///< "Harbour Street", "" if it has no name
  std::vector<std::int32_t> first;  ///< size() + 1 entries, into vx, vy
  std::vector<double> vx, vy;       ///< projected
  [[nodiscard]] std::size_t size() const { return kind.size(); }
};

/// Things that stay where they are and that a crew can measure from: a hydrant, a pole, a house
/// corner.
struct FixedPoints {
  std::vector<std::string> id;
  std::vector<double> x, y;
  std::vector<std::string> says;  ///< "hydrant H-31"
  [[nodiscard]] std::size_t size() const { return id.size(); }
};

struct Network {
  std::string name;
  std::string crs;                 ///< "EPSG:32630"; a projected system in metres
  std::string imported_from;       ///< name of the map file, for paper
  std::string map_date;            ///< RFC 3339 date or time of the map, for paper; "" unknown
  AbsolutePressure base_pressure;  ///< at which every standard volume of this network is counted
  Temperature base_temperature;
  AbsolutePressure barometer;  ///< of the place
  Length datum_altitude;
  Tiers tiers;
  Nodes nodes;
  Pipes pipes;
  Valves valves;
  Regulators regulators;
  Sources sources;
  LoadShapes shapes;
  Customers customers;
  Features features;
  Backdrop backdrop;
  FixedPoints fixed_points;
  Notes notes;
};

}  // namespace bellhole::network
