// The log of one job: a set of events, put in one order that every device finds alike.
//
// An event comes after those that its device had seen: its own previous one and the heads that it
// names. Events that did not know of each other are ordered by a hybrid clock (the time of
// entering, but never before what was seen), then by device, sequence and hash. So the order is a
// function of the set: however logs were carried about, cut up, doubled or shuffled, the same
// events fold to the same state.
#pragma once

#include <cstddef>
#include <string>
#include <unordered_map>
#include <vector>

#include "job/event.hpp"

namespace bellhole::job {

/// The last event of one device.
struct Head {
  std::string device;
  std::int64_t sequence = 0;
  Hash hash;
  friend bool operator==(const Head&, const Head&) = default;
};

class Log {
 public:
  /// Orders the events; one that comes again is one event. Events of several jobs may be handed in:
  /// they are ordered together and it is the reader's part to ask for one job.
  static Log of(std::vector<Event> events);

  [[nodiscard]] const std::vector<Event>& events() const { return events_; }
  /// Position of an event in the order; nothing where it is not in the log.
  [[nodiscard]] std::optional<std::size_t> find(const Hash& hash) const;
  /// Whether the device that entered `later` knew `earlier` then, directly or through others.
  [[nodiscard]] bool knew(std::size_t later, std::size_t earlier) const;
  /// Every event that nothing in the log follows on its device, by device.
  [[nodiscard]] std::vector<Head> heads() const;
  /// What comes directly before an event: positions, earlier than its own.
  [[nodiscard]] const std::vector<std::size_t>& before(std::size_t event) const {
    return before_[event];
  }

 private:
  std::vector<Event> events_;
  std::vector<std::vector<std::size_t>> before_;
  std::unordered_map<Hash, std::size_t> at_;
};

/// The events of both logs. merge(a, b) is merge(b, a), and merging again changes nothing.
Log merge(const Log& a, const Log& b);

}  // namespace bellhole::job
