// Progress, cancelling and lanes for work that can take long. The door hands them in; the engine
// never makes a thread or reads a clock.
#pragma once

#include <cstddef>
#include <functional>

namespace bellhole {

/// Told how far the work is (0 to 1); answers whether to go on.
class Watch {
 public:
  virtual ~Watch() = default;
  virtual bool tick(double fraction) = 0;
};

/// Never cancels, tells nobody.
class Unwatched final : public Watch {
 public:
  bool tick(double) override { return true; }
};

/// Runs work(i) for i in [0, n), in any order, and returns when all are done. Results must be
/// reduced in index order by the caller, so that one lane and many give the same bits.
class Lanes {
 public:
  virtual ~Lanes() = default;
  virtual void for_each(std::size_t n, const std::function<void(std::size_t)>& work) = 0;
};

class OneLane final : public Lanes {
 public:
  void for_each(std::size_t n, const std::function<void(std::size_t)>& work) override {
    for (std::size_t i = 0; i < n; ++i) work(i);
  }
};

}  // namespace bellhole
