#include "restore/relight.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <utility>

#include "procedure/judge.hpp"
#include "restore/relight_work.hpp"

namespace bellhole::restore {
namespace {

constexpr double hour_s = 3600.0;

Result<bool> check(const RelightQuestion& question) {
  if (question.technicians && *question.technicians < 1)
    return trouble(Code::out_of_range, "technicians", std::to_string(*question.technicians),
                   "somebody must visit: give one or more");
  if (question.revisits && !(*question.revisits >= 0.0 && *question.revisits <= 1.0))
    return trouble(Code::out_of_range, "revisits", fmt::format("{:g}", *question.revisits),
                   "a share of the meters lies between 0 and 1");
  if (question.rate && !(question.rate->low > 0.0))
    return trouble(Code::out_of_range, "rate", fmt::format("{:g}", question.rate->low),
                   "give visits per technician and hour, more than nought");
  std::set<std::string> seen;
  for (const Meter& meter : question.meters) {
    if (!seen.insert(meter.id).second)
      return trouble(Code::contradiction, "meters", meter.id, "this meter stands twice");
  }
  if (!question.shut) return true;
  seen.clear();
  for (const ShutRow& row : *question.shut) {
    if (!seen.insert(row.id).second)
      return trouble(Code::contradiction, "shut", row.id,
                     "this meter stands twice in the list: one of the rows is another meter");
  }
  return true;
}

}  // namespace

Duration time_of_visits(double meters, double revisits, std::int64_t technicians, double per_hour) {
  const auto n = static_cast<double>(technicians);
  const double even = meters * (1.0 + revisits) / (n * per_hour);
  return Duration::from_si(std::max(even, std::ceil(meters / n) / per_hour) * hour_s);
}

Result<std::optional<Rate>> rate_of(std::string_view rule, const procedure::Profile& profile,
                                    units::System system, Findings& findings) {
  bool all_set = true;
  std::array<std::optional<double>, 3> values;
  std::size_t i = 0;
  for (const char* end : {"_low", "_expected", "_high"}) {
    const std::string id = std::string(rule) + end;
    const procedure::Ruling ruling = profile.ruling(id, {});
    values[i++] = ruling.number();
    if (values[i - 1]) {
      append(findings, procedure::caveats(ruling, "profile " + profile.id(), system));
    } else if (std::exchange(all_set, false)) {
      findings.push_back(procedure::not_set(
          ruling, {std::string(ruling.rule->asks), {}, "profile " + profile.id(), "", ""}, system));
    }
  }
  if (!values[0] || !values[1] || !values[2]) return std::optional<Rate>();
  const Rate rate{*values[0], *values[1], *values[2]};
  if (!(rate.low > 0.0))
    return trouble(Code::out_of_range, std::string(rule) + "_low", fmt::format("{:g}", rate.low),
                   "give visits per technician and hour, more than nought");
  if (rate.low > rate.expected || rate.expected > rate.high)
    return trouble(Code::contradiction, std::string(rule),
                   fmt::format("{:g}, {:g}, {:g}", rate.low, rate.expected, rate.high),
                   "low, expected and high must rise");
  return std::optional(rate);
}

Band band_of(const Rate& rate, double meters, double revisits, std::int64_t technicians) {
  return {time_of_visits(meters, revisits, technicians, rate.high),
          time_of_visits(meters, revisits, technicians, rate.expected),
          time_of_visits(meters, revisits, technicians, rate.low)};
}

namespace {

class Relighter {
 public:
  Relighter(const RelightQuestion& question, const procedure::Profile& profile,
            units::System system)
      : q_(question), profile_(profile), system_(system) {}

  Result<Relight> answer() {
    compare_sets(q_, out_);
    order_visits(q_, out_);
    find_revisits();
    BELLHOLE_TRY(rates, find_rates());
    static_cast<void>(rates);
    find_times();
    out_.cautions = {
        "Gas does not go back while a meter of this list may be open.",
        "Customers do not relight. Nobody opens a meter that nobody stands at.",
        "One visit each: valve on, is the piping tight, appliances, carbon monoxide, tag.",
        "Nobody there: the meter stays shut, is locked and tagged, and is on the list of revisits.",
        "At the end, lit and left shut together are the affected: count both.",
        "The company's written procedure, the law and the qualified person decide."};
    append(out_.findings, relight_findings(q_, out_, system_));
    return std::move(out_);
  }

 private:
  void find_revisits() {
    if (q_.revisits) {
      out_.revisits = *q_.revisits;
      out_.revisits_known = true;
      return;
    }
    const auto ruling = profile_.ruling("relight.revisit_share", {});
    const std::string about = "profile " + profile_.id();
    if (const auto share = ruling.number()) {
      out_.revisits = *share;
      out_.revisits_known = true;
      append(out_.findings, procedure::caveats(ruling, about, system_));
      out_.assumed.push_back(fmt::format("{:.0f} % of the meters are visited twice: {}",
                                         *share * 100.0, ruling.used()->source));
      return;
    }
    out_.findings.push_back(
        procedure::not_set(ruling, {std::string(ruling.rule->asks), {}, about, "", ""}, system_));
    out_.assumed.emplace_back(
        "nobody is visited twice, since no share is set: the time is too short");
  }

  Result<bool> find_rates() {
    if (q_.rate) {
      out_.rate = q_.rate;
    } else {
      BELLHOLE_TRY(rate, rate_of("relight.rate", profile_, system_, out_.findings));
      out_.rate = rate;
      if (rate)
        out_.assumed.push_back(fmt::format("{:g} to {:g} visits per technician and hour: {}",
                                           rate->low, rate->high,
                                           profile_.ruling("relight.rate_low", {}).used()->source));
    }
    BELLHOLE_TRY(shutting, rate_of("relight.shut_rate", profile_, system_, out_.findings));
    shutting_ = shutting;
    return true;
  }

  void find_times() {
    const auto meters = static_cast<double>(out_.visits.size());
    out_.visits_needed = meters * (1.0 + out_.revisits);
    if (!q_.technicians) return;
    const std::int64_t n = *q_.technicians;
    if (shutting_)
      out_.shutting = band_of(*shutting_, static_cast<double>(q_.meters.size()), 0.0, n);
    if (!out_.rate) return;
    out_.all = band_of(*out_.rate, meters, out_.revisits, n);
    const auto first = std::ranges::count_if(
        out_.visits, [&](const Visit& visit) { return q_.meters[visit.meter].must_not_lose; });
    if (first > 0) out_.first_ones = band_of(*out_.rate, static_cast<double>(first), 0.0, n);
    for (Visit& visit : out_.visits)
      visit.done = band_of(*out_.rate, static_cast<double>(visit.place), 0.0, 1);
  }

  const RelightQuestion& q_;
  const procedure::Profile& profile_;
  units::System system_;
  std::optional<Rate> shutting_;
  Relight out_;
};

}  // namespace

Result<Relight> relight(const RelightQuestion& question, const procedure::Profile& profile,
                        units::System system) {
  BELLHOLE_TRY(fine, check(question));
  static_cast<void>(fine);
  return Relighter(question, profile, system).answer();
}

}  // namespace bellhole::restore
