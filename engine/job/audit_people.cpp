// Was everybody who acted known and qualified on that day, every instrument within its date and on
// its scale, the kit there.
#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "job/audit_work.hpp"

namespace bellhole::job {
namespace {

int day_of(const Stamp& stamp) {
  const auto day = procedure::parse_date(local_date(stamp.happened_at), "");
  return day ? day->first : 0;
}

const PersonState* person(const State& state, const std::string& id) {
  const auto found = std::ranges::find(state.people, id, &PersonState::id);
  return found == state.people.end() ? nullptr : &*found;
}

Finding expired(std::string rule, std::string says, int day, int last, std::string about) {
  Finding finding = AuditWork::said(std::move(rule), Grade::halt, std::move(says),
                                    "the person in charge answers for it", std::move(about));
  finding.quantity = "day of use, counted from 1970-01-01";
  finding.value_si = day;
  finding.limit_si = last;
  finding.unit_si = "d";
  return finding;
}

/// Each person who did something, once for each thing that is wrong with it.
void people(const AuditWork& work) {
  std::set<std::string> said;
  for (const auto& [act, stamp] : work.state.acts) {
    const auto once = [&](std::string key) { return said.insert(std::move(key)).second; };
    if (stamp.by.empty()) {
      work.add(AuditWork::said(
                   "job.nobody", Grade::undecided,
                   fmt::format("{} {} was recorded without a name", to_string(act.did), act.about),
                   "the person who did it says so", std::string(to_string(act.did))),
               stamp);
      continue;
    }
    const PersonState* who = person(work.state, stamp.by);
    if ((who == nullptr || who->roles.empty()) && once("role " + stamp.by))
      work.add(AuditWork::said("job.role", Grade::undecided,
                               fmt::format("{} acted and has no role on this job", stamp.by),
                               "say who it is", stamp.by),
               stamp);
    if (who == nullptr || who->qualifications.empty()) {
      if (once("qualified " + stamp.by))
        work.add(AuditWork::said("job.qualification", Grade::undecided,
                                 fmt::format("no qualification of {} is on record", stamp.by),
                                 "enter it with its last day", stamp.by),
                 stamp);
      continue;
    }
    for (const auto& [qualified, shown] : who->qualifications)
      if (day_of(stamp) > qualified.expires.last && once("expired " + stamp.by + qualified.task))
        work.add(expired("job.qualification_expired",
                         fmt::format("{}'s qualification for {} ended on {}", stamp.by,
                                     qualified.task, procedure::print_date(qualified.expires.last)),
                         day_of(stamp), qualified.expires.last, stamp.by),
                 stamp);
  }
}

void instruments(const AuditWork& work) {
  std::set<std::string> said;
  for (const auto& [reading, stamp] : work.state.readings) {
    const std::string& id = reading.instrument;
    const auto once = [&](const char* what) { return said.insert(what + id).second; };
    const auto found = work.state.instruments.find(id);
    if (found == work.state.instruments.end()) {
      if (once("unknown"))
        work.add(AuditWork::said("job.instrument", Grade::undecided,
                                 id.empty() ? std::string("readings name no instrument")
                                            : fmt::format("instrument {} was never shown", id),
                                 "say which it was, its scale and its date", "instrument " + id),
                 stamp);
      continue;
    }
    const Instrument& shown = found->second.what;
    if (shown.scale != reading.scale && once("scale"))
      work.add(AuditWork::said("job.scale", Grade::halt,
                               fmt::format("instrument {} reads {}, and a reading of it is {}", id,
                                           to_string(shown.scale), to_string(reading.scale)),
                               "find out which is meant", "instrument " + id),
               stamp);
    if (!shown.due) {
      if (once("due"))
        work.add(AuditWork::said("job.calibration", Grade::undecided,
                                 fmt::format("instrument {} has no date of calibration", id),
                                 "enter the day it is due", "instrument " + id),
                 stamp);
    } else if (day_of(stamp) > shown.due->last && once("late")) {
      work.add(expired("job.calibration_due",
                       fmt::format("instrument {} was due on {}", id,
                                   procedure::print_date(shown.due->last)),
                       day_of(stamp), shown.due->last, "instrument " + id),
               stamp);
    }
  }
}

void kit(const AuditWork& work) {
  for (const auto& [item, stamp] : work.state.kit) {
    if (item.answer == Answer::no || item.answer == Answer::unknown)
      work.add(AuditWork::said("job.kit", Grade::warn,
                               fmt::format("{}: {}{}", item.item, to_string(item.answer),
                                           item.says.empty() ? "" : ", " + item.says),
                               "the person in charge answers for it", item.item),
               stamp);
    if (item.due && day_of(stamp) > item.due->last)
      work.add(expired("job.kit_due",
                       fmt::format("{} {} was due for inspection on {}", item.item, item.id,
                                   procedure::print_date(item.due->last)),
                       day_of(stamp), item.due->last, item.item),
               stamp);
  }
}

void outage(const AuditWork& work) {
  if (!work.state.plan) return;
  for (const std::string& id : work.state.plan->what.meters) {
    const auto found = work.state.meters.find(id);
    const bool off = found != work.state.meters.end() &&
                     std::ranges::any_of(found->second, [](const Said<Meter>& visit) {
                       return visit.what.did == Meter::Did::off;
                     });
    const bool back = std::ranges::any_of(
        work.state.acts, [](const Said<Act>& act) { return act.what.did == Did::put_back; });
    if (!off && back)
      work.add(AuditWork::said("job.meter_not_shut", Grade::halt,
                               fmt::format("meter {} loses gas by the plan, gas went back, and it "
                                           "was never recorded shut",
                                           id),
                               "see that it is shut or relit by a person there", "meter " + id),
               Stamp{});
    else if (off && found->second.back().what.did != Meter::Did::on)
      work.add(AuditWork::said("job.meter_off", Grade::warn,
                               fmt::format("meter {} is {}: its gas is not back", id,
                                           to_string(found->second.back().what.did)),
                               "go again", "meter " + id),
               found->second.back().stamp);
  }
}

}  // namespace

void audit_people(const AuditWork& work) {
  people(work);
  instruments(work);
  kit(work);
  outage(work);
}

}  // namespace bellhole::job
