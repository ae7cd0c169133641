// Gauges of a rehearsal through time: one panel each, one clock for all.
#pragma once

#include <string>
#include <vector>

#include "sheets/canvas.hpp"
#include "sheets/reply.hpp"
#include "units/print.hpp"

namespace bellhole::sheets {

/// The span of the clock that is drawn, and what is marked on it.
struct ClockAxis {
  double from_s = 0, to_s = 1;
  double begins_hour = 0;
  struct Mark {
    double at_s = 0;
    std::string says;  ///< "A shut"
  };
  std::vector<Mark> marks;
};
/// From a little before the first closing to the end of what was followed.
ClockAxis clock_axis(const Reply& reply);

/// The marks, named, over the panels.
double draw_clock_marks(Canvas& canvas, const Box& at, const ClockAxis& axis);
/// One gauge: the band between low and high draw hatched, the expected draw as a line, the limits
/// of its steps dashed, a black wedge where it goes beyond one.
double draw_gauge_panel(Canvas& canvas, const Box& at, const Reply& gauge, const Reply& reply,
                        const ClockAxis& axis, units::System system);
/// The hours under the last panel.
double draw_clock_scale(Canvas& canvas, const Box& at, const ClockAxis& axis);

}  // namespace bellhole::sheets
