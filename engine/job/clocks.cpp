#include <fmt/format.h>

#include <cmath>
#include <map>
#include <set>

#include "job/chain.hpp"
#include "procedure/judge.hpp"
#include "units/print.hpp"

namespace bellhole::job {
namespace {

/// Each finding once a device: a clock that is wrong all day is one thing to settle.
class Clocks {
 public:
  Clocks(const Log& log, const procedure::Profile& profile, units::System system)
      : log_(log), ruling_(profile.ruling("job.clock_error", {})), system_(system) {}

  std::vector<ClockFault> run() {
    for (std::size_t i = 0; i < log_.events().size(); ++i) {
      const Event& event = log_.events()[i];
      if (event.happened_at.at > event.entered_at.at)
        hold(event, "happened", event.happened_at.at - event.entered_at.at,
             fmt::format("device {}: an event happened {{}} after it was entered", event.device));
      for (const std::size_t parent : log_.before(i)) against(event, log_.events()[parent]);
      running(event);
    }
    return std::move(faults_);
  }

 private:
  void against(const Event& event, const Event& seen) {
    if (seen.device == event.device || seen.entered_at.at <= event.entered_at.at) return;
    hold(event, "seen", seen.entered_at.at - event.entered_at.at,
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
      if (ran.si() < 0.0)
        hold(event, "backwards", -ran,
             fmt::format("device {}: its monotonic clock ran back by {{}}", event.device));
      else
        hold(event, "set", Duration::from_si(std::abs((wall - ran).si())),
             fmt::format("device {}: its wall clock was set by {{}} while it ran", event.device));
    }
    before = &event;
  }

  void hold(const Event& event, const char* what, Duration by, const std::string& says) {
    const auto limit = ruling_.as<kinds::Duration>();
    if (limit && by <= *limit) return;
    if (by.si() <= 0.0) return;
    if (!said_.insert({event.device, what}).second) return;
    Findings held = procedure::judge(ruling_,
                                     {.quantity = "error of the clock of device " + event.device,
                                      .value_si = by.si(),
                                      .about = "device " + event.device,
                                      .action = "say which times are meant; a person decides which "
                                                "clock is believed"},
                                     system_);
    for (Finding& finding : held) {
      if (limit) finding.says = fmt::format(fmt::runtime(says), units::print(by, system_));
      faults_.push_back({std::move(finding), event.hash});
    }
  }

  const Log& log_;
  procedure::Ruling ruling_;
  units::System system_;
  std::vector<ClockFault> faults_;
  std::map<std::string, const Event*> last_;
  std::set<std::pair<std::string, std::string>> said_;
};

}  // namespace

std::vector<ClockFault> check_clocks(const Log& log, const procedure::Profile& profile,
                                     units::System system) {
  return Clocks(log, profile, system).run();
}

}  // namespace bellhole::job
