// What somebody who takes a job over must know, short enough to be read aloud in 90 seconds.
#pragma once

#include <string>
#include <vector>

#include "job/state.hpp"
#include "units/print.hpp"

namespace bellhole::job {

struct HandoverLine {
  std::string head;  ///< "Shut now", "Pressures", "Next"
  std::vector<std::string> says;
};

struct Handover {
  std::vector<HandoverLine> lines;
  std::size_t words = 0;  ///< in all
  Duration read_aloud;    ///< at a reader's 150 words a minute
};

/// What, where, shut-offs with the tool on, pressures last read, what is cut, next step, what
/// stands against it. Long lists are cut short and say how many more there are.
Handover handover(const State& state, units::System units);

}  // namespace bellhole::job
