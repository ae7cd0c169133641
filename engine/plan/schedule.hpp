// Crews in parallel: who is ready when.
//
// A list schedule: the next task of the list goes to the crew that is free first. With tasks that
// wait for nothing but a crew, one more crew never makes any task later (the crews' clocks, sorted,
// are each no later than before, task by task). Longest first it is never more than 4/3 of the
// shortest possible (Graham 1969).
#pragma once

#include <cstdint>
#include <vector>

#include "units/quantity.hpp"

namespace bellhole::plan {

class Crews {
 public:
  /// REQUIRES count >= 1.
  explicit Crews(std::int64_t count) : count_(count) {}

  /// Gives the tasks out, the longest first, after whatever was given out before; when the last of
  /// them is done. Tasks in seconds; without any, when the last given out before was done.
  Duration give(std::vector<double> tasks);

 private:
  std::int64_t count_;
  std::vector<double> busy_;  ///< until when, of the crews that have had a task
  double done_ = 0.0;
};

}  // namespace bellhole::plan
