#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "job/chain.hpp"
#include "procedure/judge.hpp"
#include "units/print.hpp"

namespace bellhole::job {
namespace {

/// Moments are told to the millisecond, so that two differences of them part by up to one without
/// any fault of a clock.
constexpr double told_to_s = 0.001;

/// The greatest error of each kind a device: a clock that is wrong all day is one thing to settle.
/// Where no limit is set, that is one thing to settle as well: the greatest of all stands for it.
class Clocks {
 public:
  Clocks(const Log& log, const procedure::Profile& profile, units::System system)
      : log_(log), ruling_(profile.ruling("job.clock_error", {})), system_(system) {}

  std::vector<ClockFault> run() {
    for (std::size_t i = 0; i < log_.events().size(); ++i) {
      const Event& event = log_.events()[i];
      look(event, "happened", event.happened_at.at - event.entered_at.at,
           fmt::format("device {}: an event happened {{}} after it was entered", event.device));
      for (const std::size_t parent : log_.before(i)) against(event, log_.events()[parent]);
      running(event);
    }
    return ruling_.as<kinds::Duration>() ? broken() : undecided();
  }

 private:
  struct Error {
    Duration by;
    std::string says;  ///< with a place for `by`
    const Event* event = nullptr;
  };

  void against(const Event& event, const Event& seen) {
    if (seen.device == event.device) return;
    look(event, "seen", seen.entered_at.at - event.entered_at.at,
         fmt::format(
             "device {} is {{}} behind device {}: it had seen an event of the other's future",
             event.device, seen.device));
  }

  /// Wall against monotonic clock since the event before, as long as the device kept running.
  void running(const Event& event) {
    auto& before = last_[event.device];
    if (before != nullptr && before->boot == event.boot) {
      const Duration ran = event.monotonic - before->monotonic;
      const Duration wall = event.entered_at.at - before->entered_at.at;
      look(event, "backwards", -ran,
           fmt::format("device {}: its monotonic clock ran back by {{}}", event.device));
      if (ran.si() >= 0.0)
        look(event, "set", Duration::from_si(std::abs((wall - ran).si())),
             fmt::format("device {}: its wall clock was set by {{}} while it ran, or it slept",
                         event.device));
    }
    before = &event;
  }

  void look(const Event& event, const char* what, Duration by, std::string says) {
    if (by.si() <= told_to_s) return;
    Error& worst = worst_[{event.device, what}];
    if (worst.event == nullptr || by > worst.by) worst = {by, std::move(says), &event};
  }

  [[nodiscard]] std::vector<ClockFault> broken() const {
    std::vector<ClockFault> faults;
    for (const auto& [key, error] : worst_)
      if (error.by > *ruling_.as<kinds::Duration>())
        for (Finding& finding : judged(error)) {
          finding.says = fmt::format(fmt::runtime(error.says), units::print(error.by, system_));
          faults.push_back({std::move(finding), error.event->hash});
        }
    return faults;
  }

  [[nodiscard]] std::vector<ClockFault> undecided() const {
    std::vector<ClockFault> faults;
    const auto worst =
        std::ranges::max_element(worst_, {}, [](const auto& one) { return one.second.by; });
    if (worst == worst_.end()) return faults;
    const Error& error = worst->second;
    for (Finding& finding : judged(error))
      faults.push_back({std::move(finding), error.event->hash});
    return faults;
  }

  [[nodiscard]] Findings judged(const Error& error) const {
    return procedure::judge(ruling_,
                            {.quantity = "error of the clock of device " + error.event->device,
                             .value_si = error.by.si(),
                             .about = "device " + error.event->device,
                             .action = "say which times are meant; a person decides which "
                                       "clock is believed"},
                            system_);
  }

  const Log& log_;
  procedure::Ruling ruling_;
  units::System system_;
  std::map<std::string, const Event*> last_;
  std::map<std::pair<std::string, std::string>, Error> worst_;
};

}  // namespace

std::vector<ClockFault> check_clocks(const Log& log, const procedure::Profile& profile,
                                     units::System system) {
  return Clocks(log, profile, system).run();
}

}  // namespace bellhole::job
