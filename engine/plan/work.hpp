// The place of work: what must be without gas so that people can cut, join or repair there.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "findings/trouble.hpp"
#include "network/columns.hpp"
#include "network/locate.hpp"
#include "units/print.hpp"

namespace bellhole::plan {

/// A length of one main, stations in metres; begin = end for a point.
struct Piece {
  network::Index pipe = network::none;
  Length begin, end;
};

struct Work {
  std::vector<Piece> pieces;          ///< never empty; the first is where the person pointed
  std::vector<network::Index> nodes;  ///< nodes that lie in the work
  network::Point centre;              ///< middle of the first piece, projected metres
  Length away;                        ///< from the point asked for to the main; 0 when named by id
};

/// The main nearest to a point on the map.
/// Errors: work_not_found when no main lies within `reach` (the trouble names the nearest one and
/// how far it is); bad_network as network::project.
Result<Work> work_at(const network::Network& network, network::Degrees place, Length reach);

/// A stretch of a main; begin = end for a point. Errors: unknown_element, work_on_equipment (the id
/// is a regulator, a valve or a source), out_of_range (a station beyond the main's length).
Result<Work> work_on_pipe(const network::Network& network, std::string_view pipe, Length begin,
                          Length end);

/// A node with the fitting there. Errors: unknown_element, work_on_equipment (a regulator or a
/// source stands there), work_not_found (no main ends there).
Result<Work> work_at_node(const network::Network& network, std::string_view node);

/// Every main inside a closed polygon (at least three corners, no need to repeat the first).
/// Errors: out_of_range for fewer corners; work_not_found when no main is inside.
Result<Work> work_inside(const network::Network& network,
                         const std::vector<network::Degrees>& corners);

/// "main M-12 at 41.0 m, Harbour Street".
std::string describe(const network::Network& network, const Work& work, units::System system);

}  // namespace bellhole::plan
