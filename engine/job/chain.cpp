#include "job/chain.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

namespace bellhole::job {
namespace {

std::string name_of(const Event& event) {
  return fmt::format("event {} of device {} ({}, {})", event.sequence, event.device,
                     kind_of(event.fact.is), print_moment(event.entered_at));
}

using Place = std::pair<std::string, std::int64_t>;  // device, sequence

class FileCheck {
 public:
  FileCheck(const std::vector<LogLine>& lines, const std::vector<Head>& heads)
      : lines_(lines), heads_(heads) {
    for (const LogLine& line : lines_) {
      if (!line.event) {
        unread_.push_back(line.number);
        continue;
      }
      present_.insert(line.event->hash);
      where_.emplace(Place(line.event->device, line.event->sequence), line.number);
    }
  }

  std::vector<ChainFault> run() {
    for (const LogLine& line : lines_) {
      if (line.event)
        look_at(line);
      else
        fault(Broken::unread, line,
              fmt::format("line {} cannot be read: {}", line.number, line.why_not));
    }
    if (faults_.empty()) look_at_order();
    look_at_heads();
    std::ranges::stable_sort(faults_, {}, [](const ChainFault& fault) {
      return fault.line == 0 ? SIZE_MAX : fault.line;
    });
    return std::move(faults_);
  }

 private:
  void fault(Broken how, const LogLine& line, std::string says) {
    faults_.push_back({how, line.number, std::move(says), line.event ? line.event->hash : Hash()});
  }

  void look_at(const LogLine& line) {
    const Event& event = *line.event;
    if (!event.sealed) {
      fault(Broken::edited, line,
            fmt::format("{} was edited: its bytes are not those that were sealed", name_of(event)));
    } else if (!taken_.insert(event.hash).second) {
      fault(Broken::doubled, line, fmt::format("{} stands here a second time", name_of(event)));
      return;
    }
    if (job_.empty()) job_ = event.job;
    if (event.job != job_)
      fault(Broken::strange, line, fmt::format("{} belongs to job {}", name_of(event), event.job));
    follow(line, event);
    for (const Hash& hash : event.seen)
      if (!present_.contains(hash) && event.sealed && unread_.empty())
        fault(Broken::removed, line,
              fmt::format("{} had seen an event that is not here: {}", name_of(event), hash));
  }

  /// A line that cannot be read stands for whatever is missing there: it is named itself.
  [[nodiscard]] bool unread_between(std::size_t from, std::size_t to) const {
    return std::ranges::any_of(unread_, [&](std::size_t line) { return from < line && line < to; });
  }

  void follow(const LogLine& line, const Event& event) {
    auto& [sequence, hash, number] = last_[event.device];
    if (event.sequence == sequence && sequence > 0) {
      fault(Broken::forked, line,
            fmt::format("{}: another event stands in its place on that device", name_of(event)));
      return;
    }
    if (event.sequence < sequence) {
      fault(Broken::moved, line,
            fmt::format("{} was moved: later ones stand before it", name_of(event)));
      return;
    }
    const Place wanted{event.device, sequence + 1};
    if (event.sequence != sequence + 1 && !unread_between(number, line.number)) {
      const auto elsewhere = where_.find(wanted);
      if (elsewhere != where_.end())
        fault(Broken::moved, line,
              fmt::format("{} was moved: event {} of that device stands after it, in line {}",
                          name_of(event), wanted.second, elsewhere->second));
      else
        fault(Broken::removed, line,
              fmt::format("event {} of device {} was removed: {} follows {}", wanted.second,
                          event.device, name_of(event),
                          sequence == 0 ? "nothing" : fmt::format("event {}", sequence)));
    } else if (event.sealed && event.sequence == sequence + 1 && event.previous != hash) {
      fault(Broken::forked, line,
            fmt::format("{} follows another event {} than the one that stands here", name_of(event),
                        sequence));
    }
    sequence = event.sequence;
    hash = event.hash;
    number = line.number;
  }

  /// With every chain whole, lines of several devices can still have been moved against each other.
  void look_at_order() {
    std::vector<Event> events;
    for (const LogLine& line : lines_) events.push_back(*line.event);
    const Log log = Log::of(std::move(events));
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      if (log.events()[i].hash == lines_[i].event->hash) continue;
      fault(Broken::moved, lines_[i],
            fmt::format("{} was moved: {} belongs here", name_of(*lines_[i].event),
                        name_of(log.events()[i])));
      return;
    }
  }

  void look_at_heads() {
    for (const Head& head : heads_) {
      if (present_.contains(head.hash)) continue;
      const auto last = last_.find(head.device);
      const std::int64_t reached = last == last_.end() ? 0 : std::get<0>(last->second);
      if (reached >= head.sequence && !faults_.empty()) continue;
      const std::string says =
          reached < head.sequence
              ? fmt::format("event {} of device {} was removed: the log went on to event {} of it",
                            reached + 1, head.device, head.sequence)
              : fmt::format(
                    "event {} of device {} was edited and sealed anew: the heads name another",
                    head.sequence, head.device);
      faults_.push_back({reached < head.sequence ? Broken::removed : Broken::edited, 0, says, {}});
    }
  }

  const std::vector<LogLine>& lines_;
  const std::vector<Head>& heads_;
  std::vector<ChainFault> faults_;
  std::set<Hash> present_, taken_;
  std::map<Place, std::size_t> where_;
  std::map<std::string, std::tuple<std::int64_t, Hash, std::size_t>> last_;
  std::vector<std::size_t> unread_;
  std::string job_;
};

}  // namespace

std::vector<ChainFault> check_file(const std::vector<LogLine>& lines,
                                   const std::vector<Head>& heads) {
  return FileCheck(lines, heads).run();
}

std::vector<ChainFault> check_log(const Log& log) {
  std::vector<ChainFault> faults;
  std::map<Place, Hash> places;
  std::set<Hash> missed;
  for (const Event& event : log.events()) {
    if (!event.sealed)
      faults.push_back(
          {Broken::edited, 0,
           fmt::format("{} was edited: its bytes are not those that were sealed", name_of(event)),
           event.hash});
    const auto [place, fresh] = places.emplace(Place(event.device, event.sequence), event.hash);
    if (!fresh)
      faults.push_back(
          {Broken::forked, 0,
           fmt::format("{}: another event stands in its place on that device", name_of(event)),
           event.hash});
    std::vector<Hash> named = event.seen;
    if (!event.previous.empty()) named.push_back(event.previous);
    for (const Hash& hash : named)
      if (!log.find(hash) && missed.insert(hash).second)
        faults.push_back({Broken::removed, 0,
                          fmt::format("{} names an event that has not arrived or was removed: {}",
                                      name_of(event), hash),
                          event.hash});
  }
  return faults;
}

}  // namespace bellhole::job
