// Devices that keep a log as a phone does: each chains its own events, names the heads it knows,
// and has clocks of its own.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "job/log.hpp"
#include "wire/event.hpp"

namespace bellhole::job {

inline constexpr const char* test_job = "019abcde-0000-7000-8000-000000000001";

/// A log as lines, as a device or a file holds it.
struct Lines {
  std::vector<std::string> lines;
  [[nodiscard]] std::string text() const;
  [[nodiscard]] Log log() const;
};

class Device {
 public:
  explicit Device(std::string name, std::string by = "P-1", Instant starts = {1'764'000'000'000});

  /// Lets both clocks run on.
  Device& wait(double seconds);
  /// The wall clock alone is set; the monotonic one runs on.
  Device& set_wall(double by_seconds);
  /// Starts anew: the monotonic clock begins at nought.
  void restart(const std::string& boot);

  /// Enters a fact (JSON of "fact"); answers its hash.
  Hash enter(const std::string& kind, const std::string& fact, const std::string& more = "{}");
  /// Takes over what another device has.
  void learn(const Device& other);

  [[nodiscard]] const Lines& own() const { return own_; }  ///< what this device entered
  [[nodiscard]] const Lines& all() const { return all_; }  ///< and what it learned

 private:
  std::string name_, by_, boot_ = "boot-1";
  Instant wall_;
  double monotonic_ = 100.0;
  std::int64_t sequence_ = 0;
  Hash previous_;
  std::map<std::string, Hash> heads_;
  std::uint8_t random_ = 0;
  Lines own_, all_;
};

/// A plan of nine steps with squeezes A and B on IPS 4 DR 11.5, as the fact of a planned event.
std::string small_plan(const std::string& plan_id = "plan-1", char result = 'a');
std::string hash_of(char digit);

}  // namespace bellhole::job
