// The pace of each squeeze, from its measured points and from nothing else.
#include <fmt/format.h>

#include <algorithm>

#include "job/audit_work.hpp"
#include "units/print.hpp"

namespace bellhole::job {
namespace {

/// Points of one squeeze on one clock: the monotonic one where one device measured them all without
/// being started anew, else the wall clock of when it happened.
squeeze::Recording recording_of(const ShutoffState& shutoff, const Log& log, Length read_to,
                                std::vector<Stamp>& stamps) {
  struct Point {
    const Event* event;
    const Said<Bars>* said;
  };
  std::vector<Point> points;
  bool one_clock = true;
  for (const Said<Bars>& said : shutoff.bars) {
    const Event& event = log.events()[*log.find(said.stamp.event)];
    const bool live = event.source == Source::tapped || event.source == Source::sensor;
    if (!live || (!points.empty() && (event.boot != points.front().event->boot ||
                                      event.device != points.front().event->device)))
      one_clock = false;
    points.push_back({&event, &said});
  }
  const auto at = [&](const Point& point) {
    return one_clock ? point.event->monotonic
                     : point.event->happened_at.at - points.front().event->happened_at.at;
  };
  std::ranges::stable_sort(points, {}, at);
  squeeze::Recording recording;
  recording.read_to = read_to;
  for (const Point& point : points) {
    recording.points.push_back({at(point), point.said->what.gap, point.said->what.pump,
                                fmt::format("bars of {}, {}", shutoff.letter,
                                            print_moment(point.said->stamp.happened_at))});
    stamps.push_back(point.said->stamp);
  }
  return recording;
}

/// A pace and its limit to three places, so that no rounding makes them alike.
std::string exactly(const squeeze::Deviation& deviation, units::System system) {
  if (deviation.unit_si != "m/s") return {};
  const auto print = [&](double si) {
    const Speed speed = Speed::from_si(si);
    return system == units::System::us ? units::print_in(speed, "in/min", 3)
                                       : units::print_in(speed, "mm/min", 3);
  };
  return fmt::format(" ({} against {})", print(deviation.value_si), print(deviation.limit_si));
}

/// Who recorded the point at which a stretch ends.
const Stamp& stamp_at(const squeeze::Recording& recording, const std::vector<Stamp>& stamps,
                      Duration since_first) {
  for (std::size_t i = 0; i < stamps.size(); ++i)
    if (recording.points[i].at - recording.points.front().at >= since_first) return stamps[i];
  return stamps.back();
}

void list(const AuditWork& work, const squeeze::Judged& judged, const std::string& letter,
          const squeeze::Recording& recording, const std::vector<Stamp>& stamps) {
  for (const squeeze::Deviation& deviation : judged.deviations) {
    const auto same = std::ranges::find(judged.findings, deviation.rule, &Finding::rule);
    Finding finding = same != judged.findings.end() ? *same : Finding{.rule = deviation.rule};
    finding.says = fmt::format("squeeze {}: {}{}", letter, deviation.says,
                               exactly(deviation, work.question.units));
    finding.value_si = deviation.value_si;
    finding.limit_si = deviation.limit_si;
    finding.unit_si = deviation.unit_si;
    finding.about = "squeeze " + letter;
    work.add(std::move(finding), stamp_at(recording, stamps, deviation.to));
  }
  for (Finding finding : judged.findings) {
    const bool listed = std::ranges::find(judged.deviations, finding.rule,
                                          &squeeze::Deviation::rule) != judged.deviations.end();
    if (listed) continue;
    finding.says = fmt::format("squeeze {}: {}", letter, finding.says);
    finding.about = "squeeze " + letter;
    work.add(std::move(finding), stamps.back());
  }
}

Result<bool> judge_one(const AuditWork& work, const ShutoffState& shutoff) {
  JudgedSqueeze out{.letter = shutoff.letter};
  const squeeze::Question* pipe = shutoff.found ? &shutoff.found->what.found
                                  : shutoff.planned && shutoff.planned->mapped
                                      ? &*shutoff.planned->mapped
                                      : nullptr;
  const auto unjudged = [&](std::string says) {
    work.add(
        AuditWork::said("job.pace_not_judged", Grade::undecided,
                        fmt::format("squeeze {}: {}", shutoff.letter, says),
                        "enter what is missing, as typed from memory", "squeeze " + shutoff.letter),
        shutoff.bars.empty() ? shutoff.acts.back().stamp : shutoff.bars.back().stamp);
    return true;
  };
  if (pipe == nullptr) return unjudged("no pipe is on record, so its pace cannot be judged");
  if (shutoff.bars.size() < 2) return unjudged("its pace was not measured");
  if (!shutoff.found)
    out.assumed.push_back("the pipe as the map has it: none was recorded as found");
  squeeze::Question asked = *pipe;
  asked.places = false;
  BELLHOLE_TRY(sheet, squeeze::assess(asked, work.question.profile, work.question.units));
  std::vector<Stamp> stamps;
  const squeeze::Recording recording =
      recording_of(shutoff, work.log, work.question.gap_read_to, stamps);
  out.began = stamps.front().happened_at;
  auto judged = squeeze::judge(recording, sheet, work.question.units);
  if (!judged)
    return unjudged(fmt::format("its points cannot be judged ({}: {}; {})", judged.error().where,
                                judged.error().value, judged.error().fix));
  list(work, *judged, shutoff.letter, recording, stamps);
  out.judged = std::move(*judged);
  work.audit.squeezes.push_back(std::move(out));
  return true;
}

}  // namespace

Result<bool> audit_paces(const AuditWork& work) {
  for (const ShutoffState& shutoff : work.state.shutoffs) {
    const bool squeeze = shutoff.found || (shutoff.planned && shutoff.planned->mapped);
    const bool touched = !shutoff.bars.empty() || (squeeze && !shutoff.acts.empty());
    if (!touched) continue;
    BELLHOLE_TRY(judged, judge_one(work, shutoff));
    static_cast<void>(judged);
  }
  return true;
}

}  // namespace bellhole::job
