#include "apps/cli/lanes.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <atomic>
#include <cstdio>
#include <thread>
#include <vector>

namespace bellhole::cli {
namespace {

using namespace std::chrono_literals;
using Clock = std::chrono::steady_clock;

}  // namespace

ProgressLine::ProgressLine(std::string what)
    : what_(std::move(what)),
      begun_(Clock::now()),
      shown_(begun_),
      terminal_(::isatty(STDERR_FILENO) == 1) {}

ProgressLine::~ProgressLine() {
  if (drawn_) fmt::print(stderr, "\r\033[K");
}

bool ProgressLine::tick(double fraction) {
  const auto now = Clock::now();
  if (!terminal_ || now - begun_ < 2s || now - shown_ < 200ms) return true;
  shown_ = now;
  drawn_ = true;
  fmt::print(stderr, "\r\033[K{} {:.0f} %", what_, 100.0 * std::clamp(fraction, 0.0, 1.0));
  std::fflush(stderr);
  return true;
}

void Threads::for_each(std::size_t n, const std::function<void(std::size_t)>& work) {
  const std::size_t count =
      std::min<std::size_t>(n, std::max(1u, std::thread::hardware_concurrency()));
  std::atomic<std::size_t> next{0};
  const auto lane = [&] {
    for (std::size_t i = next++; i < n; i = next++) work(i);
  };
  std::vector<std::jthread> threads;
  for (std::size_t t = 1; t < count; ++t) threads.emplace_back(lane);
  lane();
}

}  // namespace bellhole::cli
