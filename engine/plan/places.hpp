// Where the gas can be shut off around a place of work: every squeeze that the pipe allows, every
// valve that is trusted, every station outlet; and the graph that the shut-off search works on.
//
// Between two customers on a main all squeezes lose the same customers, so each free stretch
// (between neighbouring customers, valves, the work and the main's ends) is one place. It lies at
// the allowed position nearest to the work, a spare clearance back where there is room.
//
// What stays joined whatever is shut is one vertex of the graph: a part.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "findings/finding.hpp"
#include "findings/trouble.hpp"
#include "isolate/cuts.hpp"
#include "isolate/graph.hpp"
#include "network/columns.hpp"
#include "network/steady.hpp"
#include "plan/work.hpp"
#include "procedure/profile.hpp"
#include "units/print.hpp"

namespace bellhole::plan {

enum class Kind : std::uint8_t { planned, emergency };

/// `placed`: a plug, a bag, a cap, which a person names. None is ever looked for.
enum class ShutKind : std::uint8_t { squeeze, valve, regulator_outlet, source_outlet, placed };

/// What a person places.
enum class Means : std::uint8_t { none, plug, bag, cap, other };
std::string_view word(Means means);  ///< "plug"; "other shut-off"

/// Whether one squeeze does at the line's pressure or two with a vent between are asked.
enum class Squeezes : std::uint8_t { one, two, undecided };

struct Place {
  ShutKind kind = ShutKind::squeeze;
  network::Index element = network::none;  ///< pipe, valve, regulator, source; HandPlaced's place
  network::Index pipe = network::none;     ///< where it is on a main: squeeze, valve, placed
  Length station;
  Length window_begin,
      window_end;    ///< squeeze: allowed positions of the bar's centreline around it
  Length clearance;  ///< squeeze: kept from everything on the main
  Length apart;      ///< squeeze: from one place to the next, as far as the tools ask
  Squeezes squeezes = Squeezes::one;
  Means means = Means::none;  ///< placed: what
  std::int64_t crew_s = 0;    ///< crew-time, whole seconds, rounded up
  double time_s = 0.0;        ///< from the order until it holds; nan: not set
};

/// A shut-off that a qualified person puts where the question says. What is missing is not known.
struct HandPlaced {
  Means means = Means::other;
  network::Index pipe = network::none;
  Length station;
  std::optional<Duration> cost;  ///< crew-time; missing: the profile's
  std::optional<Duration> time;  ///< from the order until it holds; missing: the profile's
  std::optional<GaugePressure> pressure_most;  ///< that it is rated for
};

/// A length of main that always has one part's gas.
struct PartPiece {
  Piece piece;
  isolate::Vertex part = 0;
};

/// A main or a valve that looks usable on the map but is not used, and why.
struct PassedOver {
  network::Index pipe = network::none;  ///< on this main
  std::string element, why;
};

struct Places {
  std::vector<Place> places;  ///< graph edges in the same order; sources follow as supplies
  isolate::Graph graph;
  std::vector<PartPiece> pieces;  ///< by pipe, then station
  std::vector<isolate::Vertex> part_of_node, part_of_customer;
  std::vector<isolate::Vertex> work;  ///< parts that the work lies in
  std::vector<PassedOver> passed_over;
  Findings findings;  ///< unset costs, stand-off, clearance
};

/// What a plan costs is packed into one integer: must-not-lose customers first, crew-seconds below
/// them.
inline constexpr isolate::Cost one_must_not_lose = isolate::Cost{1} << 40;

struct PlacesInput {
  const network::Network& network;
  const procedure::Profile& profile;
  const Work& work;
  Kind kind = Kind::planned;
  double today_year = 0.0;             ///< for the age of valves; nan: not given
  const network::SteadyState& before;  ///< pressures that the squeezes meet
  units::System system = units::System::us;
  std::optional<Length> half_width = {};  ///< of the widest squeeze tool, along the main
  std::span<const HandPlaced> placed = {};
};

/// Errors: bad_network from the graph. A cost that the profile leaves unset is taken as one
/// crew-hour and is an undecided finding.
Result<Places> find_places(const PlacesInput& in);

/// On which side of a place on a main the part lies that a cut leaves without gas: +1 at higher
/// stations, -1 at lower ones.
int toward_part(const Places& places, const isolate::Cut& cut, const Place& place);

}  // namespace bellhole::plan
