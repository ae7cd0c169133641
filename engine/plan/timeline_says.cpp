// What a timeline gives to say: times that are not set, squeezes held too long, who is to be told,
// gas that goes to the air.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "plan/main_facts.hpp"
#include "plan/timeline_work.hpp"
#include "procedure/judge.hpp"

namespace bellhole::plan {
namespace {

Finding finding_of(std::string rule, Grade grade, std::string says, std::string action,
                   std::string about) {
  Finding finding;
  finding.rule = std::move(rule);
  finding.grade = grade;
  finding.says = std::move(says);
  finding.quantity = "time of the job";
  finding.source = "arithmetic on the plan's steps";
  finding.action = std::move(action);
  finding.about = std::move(about);
  return finding;
}

void say_unset(const StepTimes& times, Findings& findings) {
  if (times.unset.empty()) return;
  std::string kinds;
  for (const std::string_view kind : times.unset)
    kinds += (kinds.empty() ? "" : ", ") + std::string(kind);
  findings.push_back(finding_of(
      "timeline.unset", Grade::undecided,
      fmt::format("no time is set for these steps, which count as nothing: {}; the job is longer "
                  "than this",
                  kinds),
      "set steps.time in the company's profile, by kind of step", "steps"));
}

/// From the moment that a squeeze is shut until it is open again.
void say_held(const TimelineQuestion& question, const Course& course, Findings& findings) {
  for (const TimelineShutoff& shutoff : question.shutoffs) {
    if (shutoff.place.kind != ShutKind::squeeze) continue;
    std::optional<Duration> shut, open;
    for (std::size_t i = 0; i < question.steps.size(); ++i) {
      const Step& step = question.steps[i];
      if (step.about != shutoff.letter) continue;
      if (step.kind == StepKind::shut) shut = course.bars[i].ends.longest;
      if (step.kind == StepKind::open) open = course.bars[i].ends.longest;
    }
    if (!shut || !open) continue;
    append(findings,
           procedure::judge(question.profile.ruling(
                                "squeeze.hold", case_of_main(question.network, shutoff.place.pipe)),
                            {.quantity = "time that the squeeze at " + shutoff.letter +
                                         " stays shut, at the longest",
                             .value_si = (*open - *shut).si(),
                             .about = shutoff.letter,
                             .action = "shorten the work, or ask the engineer",
                             .to_know = ""},
                            question.system));
  }
}

class Notices {
 public:
  Notices(const TimelineQuestion& question, const Timeline& out, Findings& findings)
      : q_(question), out_(out), findings_(findings) {}

  void say() {
    if (q_.out.empty()) return;
    if (!q_.authority) {
      findings_.push_back(finding_of("notify.authority", Grade::undecided,
                                     "no authority was named: who must be told of the outage, and "
                                     "by when, was not looked at",
                                     "name it as the profile does, and decide", "authority"));
      return;
    }
    in_[procedure::Listed::authority] = *q_.authority;
    hours();
    customers();
    sites();
  }

 private:
  std::string within() {
    const auto ruling = q_.profile.ruling("notify.within", in_);
    const auto time = ruling.as<kinds::Duration>();
    append(findings_, time ? procedure::caveats(ruling, *q_.authority, q_.system)
                           : Findings{procedure::not_set(
                                 ruling, {"time to tell", {}, *q_.authority, "", ""}, q_.system)});
    return time ? fmt::format("tell {} within {} of knowing", *q_.authority,
                              units::print(*time, q_.system, units::Toward::down))
                : fmt::format("tell {}; ask it how soon", *q_.authority);
  }

  /// A count that reaches its threshold; at the threshold counts as reached.
  void against(std::string_view rule, std::optional<double> least, std::optional<double> most,
               const std::string& quantity) {
    const auto ruling = q_.profile.ruling(rule, in_);
    const auto limit = ruling.number();
    if (!limit) {
      findings_.push_back(
          procedure::not_set(ruling, {quantity, most, *q_.authority, "", ""}, q_.system));
      return;
    }
    append(findings_, procedure::caveats(ruling, *q_.authority, q_.system));
    if (most && *most < *limit) return;
    Finding finding = finding_of(std::string(rule), most ? ruling.used()->grade : Grade::undecided,
                                 "", "", *q_.authority);
    finding.quantity = quantity;
    finding.value_si = most;
    finding.limit_si = limit;
    finding.unit_si = "1";
    finding.source = ruling.used()->source;
    finding.evidence = ruling.used()->evidence;
    const bool surely = least && *least >= *limit;
    finding.says = most ? fmt::format("{} {} {:g}, from which {} is told: {:.0f}", quantity,
                                      surely ? "reach" : "may reach", *limit, *q_.authority, *most)
                        : fmt::format("{} are not known; {} is told from {:g}", quantity,
                                      *q_.authority, *limit);
    finding.action = within();
    findings_.push_back(std::move(finding));
  }

  void hours() {
    const auto& hours = out_.course.customer_hours;
    against("notify.customer_hours", hours ? std::optional(hours->shortest) : std::nullopt,
            hours ? std::optional(hours->longest) : std::nullopt, "customer-hours");
  }

  void customers() {
    const auto count = static_cast<double>(q_.out.size());
    against("notify.customers", count, count, "customers out");
  }

  void sites() {
    const bool any = std::ranges::any_of(
        q_.out, [](const CustomerLost& customer) { return customer.meter.must_not_lose; });
    if (!any) return;
    const auto ruling = q_.profile.ruling("notify.must_not_lose", in_);
    const bool* told = ruling.row != nullptr ? std::get_if<bool>(&ruling.row->value) : nullptr;
    if (told == nullptr) {
      findings_.push_back(procedure::not_set(
          ruling, {"customers who must not lose gas", {}, *q_.authority, "", ""}, q_.system));
      return;
    }
    append(findings_, procedure::caveats(ruling, *q_.authority, q_.system));
    if (!*told) return;
    Finding finding = finding_of("notify.must_not_lose", ruling.row->grade,
                                 "somebody who must not lose gas is out", within(), *q_.authority);
    finding.source = ruling.row->source;
    finding.evidence = ruling.row->evidence;
    findings_.push_back(std::move(finding));
  }

  const TimelineQuestion& q_;
  const Timeline& out_;
  Findings& findings_;
  procedure::Case in_;
};

/// Number of a rule, with its doubts as findings.
std::optional<double> used(const TimelineQuestion& question, std::string_view rule,
                           Findings& findings) {
  const auto ruling = question.profile.ruling(rule, {});
  const std::string about = "profile " + question.profile.id();
  const auto value = ruling.number();
  append(findings, value ? procedure::caveats(ruling, about, question.system)
                         : Findings{procedure::not_set(
                               ruling, {std::string(ruling.rule->asks), {}, about, "", ""},
                               question.system)});
  return value;
}

}  // namespace

Findings rank_by_times(std::vector<PlanCourse>& plans) {
  if (plans.size() < 2) return {};
  if (!std::ranges::all_of(plans,
                           [](const PlanCourse& plan) { return plan.course.crew_s.has_value(); }))
    return {finding_of("timeline.reranked", Grade::undecided,
                       "the plans cannot be ranked by their times: the work of one is not known",
                       "give the technicians, and the times that are not set", "plans")};
  std::vector<PlanCourse*> order;
  for (PlanCourse& plan : plans) order.push_back(&plan);
  std::ranges::stable_sort(order, {}, [](const PlanCourse* plan) {
    return std::make_tuple(plan->must_not_lose, *plan->course.crew_s, plan->rank);
  });
  for (std::size_t i = 0; i < order.size(); ++i)
    order[i]->real_rank = static_cast<std::int64_t>(i) + 1;
  if (std::ranges::is_sorted(order, {}, &PlanCourse::rank)) return {};
  std::string ranks;
  for (const PlanCourse* plan : order)
    ranks += fmt::format("{}{}", ranks.empty() ? "" : ", ", plan->rank);
  return {finding_of("timeline.reranked", Grade::info,
                     fmt::format("by the times of their steps the plans come in another order: {}; "
                                 "their numbers stay",
                                 ranks),
                     "compare them before one is taken", "plans")};
}

double methane_kg(StdVolume gas, double share, const gas::Base& base) {
  constexpr double molar_kg = 0.0160425, gas_constant = 8.314462618;
  return gas.si() * share * base.pressure.si() * molar_kg / (gas_constant * base.temperature.si());
}

GasLost gas_lost(const TimelineQuestion& question, Timeline& out) {
  GasLost lost;
  lost.vented = question.held;
  const auto volumes = question.profile.ruling("purge.volumes", {}).number();
  const network::Network& network = question.network;
  if (question.volume && volumes) {
    lost.purged = StdVolume::from_si(*volumes * question.volume->si() * network.barometer.si() /
                                     network.base_pressure.si() * network.base_temperature.si() /
                                     question.conditions.ground.si());
    out.assumed.emplace_back(
        "everything that the purge takes counts as lost: the last pipe volume of it stays");
  }
  if (!lost.vented || !lost.purged) return lost;
  const auto share = used(question, "emission.methane_share", out.findings);
  const auto warming = used(question, "emission.warming", out.findings);
  if (!share) return lost;
  lost.methane_kg = methane_kg(*lost.vented + *lost.purged, *share,
                               {network.base_pressure, network.base_temperature});
  if (warming) lost.co2e_kg = *lost.methane_kg * *warming;
  return lost;
}

Findings timeline_findings(const TimelineQuestion& question, const Timeline& out,
                           const StepTimes& times) {
  Findings findings;
  say_unset(times, findings);
  say_held(question, out.course, findings);
  if (!question.out.empty() && out.outages.empty())
    findings.push_back(finding_of(
        "timeline.relight", Grade::undecided, "when the customers are back cannot be told",
        "give the technicians, and rates of their visits", "technicians"));
  if (out.relight) append(findings, out.relight->findings);
  std::erase_if(findings, [](const Finding& finding) {
    // What only the day itself can answer.
    return finding.rule == "relight.set" || finding.rule == "relight.walked" ||
           finding.rule == "relight.held" || finding.rule == "relight.technicians";
  });
  Notices(question, out, findings).say();
  return findings;
}

}  // namespace bellhole::plan
