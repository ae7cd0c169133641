#include "plan/schedule.hpp"

#include <algorithm>
#include <functional>

namespace bellhole::plan {

Duration Crews::give(std::vector<double> tasks) {
  std::ranges::sort(tasks, std::ranges::greater());
  for (const double task : tasks) {
    // A crew that has had nothing yet is free at once.
    if (static_cast<std::int64_t>(busy_.size()) < count_) busy_.push_back(0.0);
    double& free_first = *std::ranges::min_element(busy_);
    free_first += task;
    done_ = std::max(done_, free_first);
  }
  return Duration::from_si(done_);
}

}  // namespace bellhole::plan
