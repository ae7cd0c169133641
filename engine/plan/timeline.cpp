#include "plan/timeline.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plan/timeline_work.hpp"

namespace bellhole::plan {
namespace {

constexpr double hour_s = 3600.0;

Result<bool> check(const TimelineQuestion& question) {
  if (question.steps.empty())
    return trouble(Code::missing_value, "steps", "",
                   "this plan has no steps: ask the question plan again, with this version");
  if (question.crews < 1)
    return trouble(Code::out_of_range, "crews", std::to_string(question.crews),
                   "somebody must do it: give one or more");
  return true;
}

std::optional<std::size_t> first_of(const TimelineQuestion& question, StepKind kind) {
  const auto found = std::ranges::find(question.steps, kind, &Step::kind);
  if (found == question.steps.end()) return std::nullopt;
  return static_cast<std::size_t>(found - question.steps.begin());
}

/// Steps that close a shut-off, in order.
std::vector<std::size_t> closings_of(const TimelineQuestion& question) {
  std::vector<std::size_t> list;
  for (std::size_t i = 0; i < question.steps.size(); ++i)
    if (question.steps[i].kind == StepKind::shut) list.push_back(i);
  return list;
}

/// When each customer's gas goes: the step that takes it.
std::size_t lost_by(const TimelineQuestion& question, const CustomerLost& customer,
                    const std::vector<std::size_t>& closings, const Course& course) {
  const std::size_t closing = closings[std::min(customer.closing, closings.size() - 1)];
  const auto meters = first_of(question, StepKind::meters_shut);
  if (!meters) return closing;
  const bool before = course.bars[*meters].begins.expected < course.bars[closing].begins.expected;
  return before ? *meters : closing;
}

/// Customer-hours, by a share of customers who are visited twice and are back at the end only.
Hours hours_of(const std::vector<Outage>& outages, const restore::Relight& relight) {
  Hours hours;
  for (const Outage& outage : outages) {
    const double once = outage.lasts.expected.si(), twice = outage.lasts.longest.si();
    hours.shortest += outage.lasts.shortest.si() / hour_s;
    hours.expected += (once + relight.revisits * std::max(0.0, twice - once)) / hour_s;
    hours.longest += twice / hour_s;
  }
  return hours;
}

/// Work of the crews, and of technicians at their rates.
std::optional<std::int64_t> crew_seconds(const TimelineQuestion& question, const Course& course,
                                         const restore::Relight& relight) {
  double seconds = 0.0;
  for (const Bar& bar : course.bars)
    if (bar.crew > 0) seconds += (bar.ends.expected - bar.begins.expected).si();
  if (!question.out.empty()) {
    if (!relight.all || !relight.rate) return std::nullopt;
    seconds += relight.visits_needed / relight.rate->expected * hour_s;
    if (relight.shutting)
      seconds += relight.shutting->expected.si() * static_cast<double>(*question.technicians);
  }
  return static_cast<std::int64_t>(std::ceil(seconds));
}

void put_people(const TimelineQuestion& question, const restore::Relight& relight, Course& course,
                std::vector<Outage>& outages) {
  course.crew_s = crew_seconds(question, course, relight);
  if (question.out.empty()) {
    course.customer_hours = Hours{};
    return;
  }
  outages = outages_of(question, course, relight);
  if (outages.empty()) return;
  course.restored = course.bars[*first_of(question, StepKind::relight)].ends;
  course.customer_hours = hours_of(outages, relight);
}

std::string in_hours(Duration time, units::System system) {
  return units::print(time, system, units::Toward::down);
}

/// What another way of doing it saves against the first.
Saving saving_of(std::string by, const Course& now, const Course& then, units::System system) {
  Saving saving;
  saving.by = std::move(by);
  saving.lasts = now.lasts.expected - then.lasts.expected;
  if (now.stopped && then.stopped) saving.stopped = now.stopped->expected - then.stopped->expected;
  if (now.customer_hours && then.customer_hours)
    saving.customer_hours = now.customer_hours->expected - then.customer_hours->expected;
  const bool longer = saving.lasts < Duration(), same = saving.lasts == Duration();
  saving.says =
      same ? saving.by + " makes the job no shorter"
           : fmt::format("{} makes the job {} {}", saving.by,
                         in_hours(longer ? Duration() - saving.lasts : saving.lasts, system),
                         longer ? "longer" : "shorter");
  constexpr double least_said = 0.05;  // hours
  if (saving.customer_hours && std::abs(*saving.customer_hours) >= least_said)
    saving.says += fmt::format(" and saves {:.1f} customer-hours", *saving.customer_hours);
  return saving;
}

}  // namespace

Result<restore::Relight> relight_of(const TimelineQuestion& question) {
  restore::RelightQuestion ask;
  for (const CustomerLost& customer : question.out) ask.meters.push_back(customer.meter);
  ask.technicians = question.technicians;
  ask.rate = question.rate;
  ask.revisits = question.revisits;
  return restore::relight(ask, question.profile, question.system);
}

std::vector<Outage> outages_of(const TimelineQuestion& question, const Course& course,
                               const restore::Relight& relight) {
  const auto step = first_of(question, StepKind::relight);
  const auto closings = closings_of(question);
  if (!step || closings.empty() || !relight.all) return {};
  const Bar& lighting = course.bars[*step];
  std::vector<Outage> outages;
  for (const restore::Visit& visit : relight.visits) {
    const CustomerLost& customer = question.out[visit.meter];
    const Band& lost = course.bars[lost_by(question, customer, closings, course)].begins;
    Outage outage{visit.meter, lost.expected, lighting.begins.expected + visit.done->expected, {}};
    outage.lasts.shortest = lighting.begins.shortest + visit.done->shortest - lost.shortest;
    outage.lasts.expected = outage.back - outage.lost;
    outage.lasts.longest = lighting.ends.longest - lost.longest;
    outages.push_back(outage);
  }
  return outages;
}

bool makes_bypass(const TimelineQuestion& question) {
  return first_of(question, StepKind::bypass_made).has_value();
}

TimelineQuestion with_bypass(const TimelineQuestion& question) {
  TimelineQuestion with = question;
  std::erase_if(with.out, [](const CustomerLost& customer) {
    return customer.meter.lost == restore::Lost::pocket ||
           customer.meter.lost == restore::Lost::short_of;
  });
  const bool nobody = with.out.empty();
  std::erase_if(with.steps, [&](const Step& step) {
    return step.kind == StepKind::bypass_none ||
           (nobody && (step.kind == StepKind::meters_shut || step.kind == StepKind::relight));
  });
  const auto made = [](std::string id, StepKind kind, std::vector<std::string> after) {
    Step step;
    step.id = std::move(id);
    step.kind = kind;
    step.after = std::move(after);
    return step;
  };
  const auto first = std::ranges::find_if(with.steps, [](const Step& step) {
    return step.kind == StepKind::meters_shut || step.kind == StepKind::shut;
  });
  std::vector<Step> bypass{made("a bypass", StepKind::bypass_made, {}),
                           made("its test", StepKind::bypass_tested, {"a bypass"}),
                           made("its purge", StepKind::bypass_purged, {"its test"}),
                           made("its flow", StepKind::bypass_flowing, {"its purge"})};
  bypass.back().hold_point = true;
  with.steps.insert(first, bypass.begin(), bypass.end());
  std::vector<std::string> opened;
  for (const Step& step : with.steps)
    if (step.kind == StepKind::open) opened.push_back(step.id);
  with.steps.push_back(made("bypass away", StepKind::bypass_off, opened));
  return with;
}

Result<Course> course_of(const TimelineQuestion& question) {
  BELLHOLE_TRY(fine, check(question));
  static_cast<void>(fine);
  BELLHOLE_TRY(relight, relight_of(question));
  Course course = scheduled(question, times_of(question, relight));
  std::vector<Outage> outages;
  put_people(question, relight, course, outages);
  return course;
}

namespace {

Result<std::vector<Saving>> savings_of(const TimelineQuestion& question, const Course& course) {
  std::vector<Saving> savings;
  TimelineQuestion more = question;
  ++more.crews;
  BELLHOLE_TRY(crews, course_of(more));
  savings.push_back(saving_of("one crew more", course, crews, question.system));
  if (makes_bypass(question)) return savings;
  const TimelineQuestion with = with_bypass(question);
  const std::size_t kept = question.out.size() - with.out.size();
  if (kept == 0) return savings;
  BELLHOLE_TRY(bypass, course_of(with));
  Saving saving = saving_of("a bypass", course, bypass, question.system);
  saving.customers = kept;
  saving.says +=
      fmt::format("; it would keep {} of {} on, if it carries their load: ask the question bypass",
                  kept, question.out.size());
  savings.push_back(std::move(saving));
  return savings;
}

}  // namespace

Result<Timeline> timeline(const TimelineQuestion& question) {
  BELLHOLE_TRY(fine, check(question));
  static_cast<void>(fine);
  Timeline out;
  BELLHOLE_TRY(relight, relight_of(question));
  StepTimes times = times_of(question, relight);
  out.course = scheduled(question, times);
  put_people(question, relight, out.course, out.outages);
  BELLHOLE_TRY(savings, savings_of(question, out.course));
  out.savings = std::move(savings);
  if (!question.out.empty()) {
    out.assumed = relight.assumed;
    out.relight = std::move(relight);
  }
  append(out.findings, times.findings);
  append(out.findings, timeline_findings(question, out, times));
  out.gas = gas_lost(question, out);
  return out;
}

}  // namespace bellhole::plan
