#include "job/log.hpp"

#include <algorithm>
#include <map>
#include <tuple>

namespace bellhole::job {
namespace {

using Before = std::vector<std::vector<std::size_t>>;

/// Of each device its events by sequence, so that a gap still leaves the later event the later one.
std::map<std::string, std::vector<std::size_t>> by_device(const std::vector<Event>& events) {
  std::map<std::string, std::vector<std::size_t>> devices;
  for (std::size_t i = 0; i < events.size(); ++i) devices[events[i].device].push_back(i);
  for (auto& [device, own] : devices)
    std::ranges::sort(own, {},
                      [&](std::size_t i) { return std::tie(events[i].sequence, events[i].hash); });
  return devices;
}

Before parents(const std::vector<Event>& events, const std::unordered_map<Hash, std::size_t>& at) {
  Before before(events.size());
  const auto devices = by_device(events);
  for (std::size_t i = 0; i < events.size(); ++i) {
    const Event& event = events[i];
    const auto add = [&](const Hash& hash) {
      const auto found = at.find(hash);
      if (found != at.end() && found->second != i) before[i].push_back(found->second);
    };
    for (const Hash& hash : event.seen) add(hash);
    if (at.contains(event.previous)) {
      add(event.previous);
      continue;
    }
    const auto& own = devices.at(event.device);
    const auto next = std::ranges::lower_bound(own, event.sequence, {},
                                               [&](std::size_t j) { return events[j].sequence; });
    if (next != own.begin()) before[i].push_back(*(next - 1));
  }
  return before;
}

/// The hybrid clock of each event: when it was entered, but later than all that it had seen. A ring
/// of events that name each other (no honest device makes one) goes by the wall clock alone.
std::vector<std::int64_t> hybrid_clocks(const std::vector<Event>& events, const Before& before) {
  std::vector<std::vector<std::size_t>> after(events.size());
  std::vector<std::size_t> waiting(events.size()), ready;
  std::vector<std::int64_t> clock;
  for (const Event& event : events) clock.push_back(event.entered_at.at.ms);
  for (std::size_t i = 0; i < events.size(); ++i) {
    waiting[i] = before[i].size();
    for (const std::size_t parent : before[i]) after[parent].push_back(i);
    if (waiting[i] == 0) ready.push_back(i);
  }
  while (!ready.empty()) {
    const std::size_t i = ready.back();
    ready.pop_back();
    for (const std::size_t child : after[i]) {
      clock[child] = std::max(clock[child], clock[i] + 1);
      if (--waiting[child] == 0) ready.push_back(child);
    }
  }
  return clock;
}

}  // namespace

Log Log::of(std::vector<Event> events) {
  // One that comes again is one; of two with the same hash the sealed one is believed.
  std::ranges::stable_sort(events, [](const Event& a, const Event& b) {
    const int by_hash = a.hash.compare(b.hash);
    return by_hash != 0 ? by_hash < 0 : a.sealed && !b.sealed;
  });
  const auto repeated = std::ranges::unique(events, {}, &Event::hash);
  events.erase(repeated.begin(), repeated.end());
  Log log;
  for (std::size_t i = 0; i < events.size(); ++i) log.at_[events[i].hash] = i;
  const Before before = parents(events, log.at_);
  const auto clock = hybrid_clocks(events, before);
  std::vector<std::size_t> order(events.size()), place(events.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::ranges::sort(order, [&](std::size_t a, std::size_t b) {
    return std::tie(clock[a], events[a].device, events[a].sequence, events[a].hash) <
           std::tie(clock[b], events[b].device, events[b].sequence, events[b].hash);
  });
  for (std::size_t i = 0; i < order.size(); ++i) place[order[i]] = i;
  for (const std::size_t i : order) {
    std::vector<std::size_t> own;
    for (const std::size_t parent : before[i])
      if (place[parent] < place[i]) own.push_back(place[parent]);
    log.before_.push_back(std::move(own));
    log.events_.push_back(std::move(events[i]));
  }
  for (std::size_t i = 0; i < log.events_.size(); ++i) log.at_[log.events_[i].hash] = i;
  return log;
}

std::optional<std::size_t> Log::find(const Hash& hash) const {
  const auto found = at_.find(hash);
  if (found == at_.end()) return {};
  return found->second;
}

bool Log::knew(std::size_t later, std::size_t earlier) const {
  if (earlier >= later) return false;
  std::vector<std::size_t> open{later};
  std::vector<bool> seen(later - earlier + 1);
  while (!open.empty()) {
    const std::size_t i = open.back();
    open.pop_back();
    for (const std::size_t parent : before_[i]) {
      if (parent == earlier) return true;
      if (parent < earlier || seen[parent - earlier]) continue;
      seen[parent - earlier] = true;
      open.push_back(parent);
    }
  }
  return false;
}

std::vector<Head> Log::heads() const {
  std::vector<bool> followed(events_.size());
  for (std::size_t i = 0; i < events_.size(); ++i)
    for (const std::size_t parent : before_[i])
      if (events_[parent].device == events_[i].device) followed[parent] = true;
  std::vector<Head> heads;
  for (std::size_t i = 0; i < events_.size(); ++i)
    if (!followed[i]) heads.push_back({events_[i].device, events_[i].sequence, events_[i].hash});
  std::ranges::sort(heads, {}, [](const Head& head) { return std::tie(head.device, head.hash); });
  return heads;
}

Log merge(const Log& a, const Log& b) {
  std::vector<Event> all = a.events();
  all.insert(all.end(), b.events().begin(), b.events().end());
  return Log::of(std::move(all));
}

}  // namespace bellhole::job
