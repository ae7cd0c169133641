// The chart of a timeline.
#pragma once

#include "sheets/canvas.hpp"
#include "sheets/reply.hpp"

namespace bellhole::sheets {

/// Draws the chart of a "timeline" reply in a box whose x, y, w are given; answers its height.
double draw_timeline(Canvas& canvas, const Box& at, const Reply& reply);

}  // namespace bellhole::sheets
