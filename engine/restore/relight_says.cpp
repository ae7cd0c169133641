// What a relight gives to say.
#include <fmt/format.h>

#include <algorithm>

#include "restore/relight_work.hpp"

namespace bellhole::restore {
namespace {

constexpr std::size_t most_named = 12;

std::string named(const std::vector<std::string>& ids) {
  std::string text;
  for (std::size_t i = 0; i < std::min(ids.size(), most_named); ++i)
    text += (i == 0 ? "" : ", ") + ids[i];
  if (ids.size() > most_named) text += fmt::format(" and {} more", ids.size() - most_named);
  return text.empty() ? "none" : text;
}

Finding finding_of(std::string rule, Grade grade, std::string says, std::string action,
                   std::string about) {
  Finding finding;
  finding.rule = std::move(rule);
  finding.grade = grade;
  finding.says = std::move(says);
  finding.quantity = "meters";
  finding.source = "two visits a meter, off and on: restorations of Newport 2019 and Aspen 2020";
  finding.evidence = Evidence::derived;
  finding.action = std::move(action);
  finding.about = std::move(about);
  return finding;
}

void say_set(const RelightQuestion& q, const Relight& out, Findings& findings) {
  if (!out.same) {
    findings.push_back(finding_of(
        "relight.set", Grade::undecided,
        fmt::format("no list of shut meters: none of the {} affected is known to be shut",
                    q.meters.size()),
        "shut every meter of the list, write each down, and ask again with the list", "shut"));
    return;
  }
  if (*out.same) return;
  findings.push_back(finding_of(
      "relight.set", Grade::halt,
      fmt::format("{} meters are listed as shut, {} are affected, and they are not the same: "
                  "affected and not shut: {}; shut and not affected: {}",
                  q.shut->size(), q.meters.size(), named(out.not_shut), named(out.not_affected)),
      "no gas goes back: go to each meter named on either side, read its number, and write down "
      "what is shut there",
      "shut"));
  findings.back().value_si = static_cast<double>(q.shut->size());
  findings.back().limit_si = static_cast<double>(q.meters.size());
  findings.back().unit_si = "1";
}

void say_walked(const Relight& out, Findings& findings) {
  std::vector<std::string> streets;
  for (const Street& street : out.streets) {
    if (street.walked) continue;
    streets.push_back(street.name.empty() ? fmt::format("{} meters without a street", street.meters)
                                          : street.name);
  }
  if (streets.empty()) return;
  findings.push_back(finding_of(
      "relight.walked", Grade::undecided,
      fmt::format("not recorded as walked for meters that no list has: {}", named(streets)),
      "walk every street of the sector, both sides, and shut and list what is found there",
      "walked"));
}

void say_hold(const RelightQuestion& q, Findings& findings) {
  const char* action =
      "with every meter shut, watch the sector's gauge for its whole watch time before gas goes "
      "back";
  switch (q.hold) {
    case Hold::held:
      return;
    case Hold::not_watched:
      findings.push_back(finding_of("relight.held", Grade::undecided,
                                    "the sector was not watched with all meters shut", action,
                                    "readings"));
      return;
    case Hold::too_soon:
      findings.push_back(
          finding_of("relight.held", Grade::undecided,
                     "the sector was not watched long enough for a still needle to mean anything",
                     action, "readings"));
      return;
    case Hold::moved:
      findings.push_back(finding_of("relight.held", Grade::halt,
                                    "the sector did not hold with all meters listed as shut",
                                    "no gas goes back: a meter is open, a service is not on the "
                                    "list, or the main leaks; find it",
                                    "readings"));
  }
}

void say_parted(const RelightQuestion& q, Findings& findings) {
  if (q.not_parted.empty()) return;
  findings.push_back(finding_of(
      "relight.sector", Grade::undecided,
      fmt::format("no valve parts this sector from meters outside of it: {}", named(q.not_parted)),
      "squeeze between the two, or take them as one sector: gas goes into both at once", "sector"));
}

/// Lit while the list, the walk or the hold was not there.
void say_early(const RelightQuestion& q, const Relight& out, Findings& findings) {
  if (out.relit == 0) return;
  const bool walked = std::ranges::all_of(out.streets, &Street::walked);
  if (out.same.value_or(false) && walked && q.hold == Hold::held) return;
  findings.push_back(finding_of(
      "relight.early", Grade::halt,
      fmt::format("{} meters are listed as lit although gas was not to go back yet", out.relit),
      "stop the relight; go back to the meters that are lit, and settle the list, the walk and the "
      "hold first",
      "shut"));
}

void say_first(const RelightQuestion& q, const Relight& out, Findings& findings) {
  std::vector<std::string> first;
  for (const Visit& visit : out.visits) {
    const Meter& meter = q.meters[visit.meter];
    if (!meter.must_not_lose) continue;
    first.push_back(meter.why_not.empty() ? meter.id : meter.id + " (" + meter.why_not + ")");
  }
  if (first.empty()) return;
  findings.push_back(finding_of("relight.first", Grade::warn,
                                fmt::format("must not lose gas, and are out: {}", named(first)),
                                "call each before the visit; they are lit first", "customers"));
}

void say_reset(const RelightQuestion& q, Findings& findings) {
  std::size_t fitted = 0, unknown = 0;
  for (const Meter& meter : q.meters) {
    if (!meter.excess_flow_valve)
      ++unknown;
    else if (*meter.excess_flow_valve)
      ++fitted;
  }
  if (fitted + unknown == 0) return;
  findings.push_back(finding_of(
      "relight.reset", Grade::info,
      fmt::format("{} services have an excess-flow valve, {} may have one: each can trip as gas "
                  "comes back and must be reset",
                  fitted, unknown),
      "raise the pressure slowly; see gas at the meter before it is opened", "customers"));
}

void say_left(const RelightQuestion& q, const Relight& out, Findings& findings) {
  if (out.relit + out.locked == 0) return;
  const std::size_t left = out.visits.size();
  findings.push_back(
      finding_of("relight.left_shut", left == 0 ? Grade::info : Grade::warn,
                 fmt::format("{} lit and {} left shut ({} locked and tagged) of {} affected",
                             out.relit, left, out.locked, q.meters.size()),
                 left == 0 ? "count the tags against the list"
                           : "nobody opens a locked meter but a technician at a second visit",
                 "shut"));
}

}  // namespace

Findings relight_findings(const RelightQuestion& question, const Relight& out, units::System) {
  Findings findings;
  if (question.meters.empty() && !question.shut) return findings;  // nobody is out
  say_set(question, out, findings);
  say_walked(out, findings);
  say_hold(question, findings);
  say_parted(question, findings);
  say_early(question, out, findings);
  say_first(question, out, findings);
  say_reset(question, findings);
  say_left(question, out, findings);
  if (!question.technicians)
    findings.push_back(finding_of("relight.technicians", Grade::undecided,
                                  "no technicians were given: no time can be told",
                                  "give how many are on shift", "technicians"));
  return findings;
}

}  // namespace bellhole::restore
