// The map of a plan: a clean line drawing of the mains around the work, what is isolated, where to
// shut, who loses gas. For paper and, as SVG, for pictures; the same code draws both.
//
// Mains are drawn by weight for their size, PE as full lines and other materials broken. What is
// isolated is a ladder, the work is an X, a shut-off is its letter beside its sign (two bars for a
// squeeze, a bow tie for a valve, a square for a station outlet). North is up in the map's own
// projection. Only the surroundings of the work are shown; the scale bar says how far that is.
#pragma once

#include <cstddef>
#include <string>

#include "findings/trouble.hpp"
#include "sheets/canvas.hpp"
#include "sheets/reply.hpp"
#include "units/print.hpp"
#include "wire/json.hpp"

namespace bellhole::sheets {

struct MapOptions {
  double width = 540, height = 400;  ///< points
  std::size_t plan = 0;  ///< position in plans[]; beyond the last: the work and the mains alone
  units::System system = units::System::us;
};

/// SVG bytes of the map in a plan reply; the same reply gives the same bytes. Errors:
/// unreadable_document when the reply has no map or a part of it is not as the contract says.
Result<std::string> map_svg(const wire::Json& plan_reply, const MapOptions& options);

/// Draws the map into a box, with its frame. Trouble is noted in the reply's faults.
void draw_map(Canvas& canvas, const Box& box, const Reply& plan_reply, const MapOptions& options);

/// Explains the signs that draw_map shows in the box `map` for this plan, in a line or two; answers
/// the height.
double draw_legend(Canvas& canvas, const Box& at, const Box& map, const Reply& plan_reply,
                   std::size_t plan);

}  // namespace bellhole::sheets
