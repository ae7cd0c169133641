// Progress on the terminal and work on all cores, handed to the engine.
#pragma once

#include <chrono>
#include <string>

#include "findings/watch.hpp"

namespace bellhole::cli {

/// A line on standard error once work has taken two seconds, and only on a terminal.
class ProgressLine final : public Watch {
 public:
  explicit ProgressLine(std::string what);
  ~ProgressLine() override;
  bool tick(double fraction) override;

 private:
  std::string what_;
  std::chrono::steady_clock::time_point begun_, shown_;
  bool terminal_ = false;
  bool drawn_ = false;
};

/// One thread a core. The order of the work's pieces is free; who uses it reduces in index order.
class Threads final : public Lanes {
 public:
  void for_each(std::size_t n, const std::function<void(std::size_t)>& work) override;
};

}  // namespace bellhole::cli
