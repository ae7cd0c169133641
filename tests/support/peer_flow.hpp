// What both peers need of a main and no library gives: its law the other way round.
#pragma once

#include <cmath>

#include "gas/pipe_law.hpp"

namespace bellhole::support {

/// Flow for a loss of potential along a length, by Newton's method held between bounds, from
/// `guess`.
inline double flow_for(const gas::PipeLaw& law, double length, double loss, double guess) {
  if (loss == 0.0) return 0.0;
  double low = loss > 0 ? 0.0 : -HUGE_VAL, high = loss > 0 ? HUGE_VAL : 0.0;
  double flow = guess * loss > 0 ? guess : 0.0;
  for (int i = 0; i < 60; ++i) {
    const gas::Loss now = law.loss(flow, length);
    (now.value > loss ? high : low) = flow;
    double next = flow - (now.value - loss) / now.slope;
    if (std::abs(next - flow) <= 1e-14 * std::abs(next)) return next;
    if (!(next > low && next < high)) next = 0.5 * (low + high);
    flow = next;
  }
  return flow;
}

}  // namespace bellhole::support
