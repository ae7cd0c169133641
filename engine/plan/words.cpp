#include "plan/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>

namespace bellhole::plan {
namespace {

std::string counted(std::int64_t n, std::string_view one, std::string_view many) {
  return fmt::format("{} {}", n, n == 1 ? one : many);
}

std::string hours(std::int64_t seconds) {
  return fmt::format("{:.1f} crew-hours", static_cast<double>(seconds) / 3600.0);
}

std::int64_t shut(const ShutoffPlan& plan, ShutKind kind) {
  return std::ranges::count_if(plan.shutoffs,
                               [&](const Shutoff& s) { return s.place.kind == kind; });
}

/// Places where two squeezes with a vent between are asked.
std::int64_t doubled(const ShutoffPlan& plan) {
  return std::ranges::count_if(plan.shutoffs, [](const Shutoff& s) {
    return s.place.kind == ShutKind::squeeze && s.place.squeezes == Squeezes::two;
  });
}

}  // namespace

std::string why(const ShutoffPlan& plan) {
  std::string acts;
  const auto add = [&](std::int64_t n, std::string_view one, std::string_view many) {
    if (n > 0) acts += (acts.empty() ? "" : ", ") + counted(n, one, many);
  };
  add(shut(plan, ShutKind::squeeze) - doubled(plan), "squeeze", "squeezes");
  add(doubled(plan), "double squeeze", "double squeezes");
  add(shut(plan, ShutKind::valve), "valve", "valves");
  add(shut(plan, ShutKind::placed), "shut-off placed by hand", "shut-offs placed by hand");
  add(shut(plan, ShutKind::regulator_outlet) + shut(plan, ShutKind::source_outlet),
      "station outlet", "station outlets");
  const auto of = [&](OutCause cause) {
    return std::ranges::count(plan.out, cause, &CustomerOut::cause);
  };
  std::string out =
      counted(static_cast<std::int64_t>(plan.out.size()), "customer out", "customers out");
  std::string parts;
  const auto part = [&](std::int64_t n, std::string_view what) {
    if (n > 0) parts += fmt::format("{}{} {}", parts.empty() ? "" : ", ", n, what);
  };
  part(of(OutCause::isolated), "on the part");
  part(of(OutCause::pocket), "cut off behind it");
  part(of(OutCause::short_of), "short of pressure");
  if (!parts.empty()) out += " (" + parts + ")";
  return fmt::format("{}; {}; {}.", acts, out, hours(plan.cost_crew_s));
}

std::string beats(const ShutoffPlan& plan, const ShutoffPlan& next) {
  if (plan.must_not_lose != next.must_not_lose) {
    return fmt::format("the next loses {} more of those who must not lose gas.",
                       next.must_not_lose - plan.must_not_lose);
  }
  if (plan.cost_crew_s == next.cost_crew_s) return "the next costs the same.";
  std::string because;
  const auto compare = [&](std::int64_t mine, std::int64_t other, std::string_view one,
                           std::string_view many) {
    if (mine == other) return;
    because +=
        fmt::format("{}{} {}", because.empty() ? "" : ", ",
                    counted(std::abs(other - mine), one, many), other > mine ? "more" : "fewer");
  };
  compare(shut(plan, ShutKind::squeeze), shut(next, ShutKind::squeeze), "squeeze", "squeezes");
  compare(shut(plan, ShutKind::valve), shut(next, ShutKind::valve), "valve", "valves");
  compare(static_cast<std::int64_t>(plan.out.size()), static_cast<std::int64_t>(next.out.size()),
          "customer out", "customers out");
  return fmt::format("the next costs {} more{}.", hours(next.cost_crew_s - plan.cost_crew_s),
                     because.empty() ? "" : ": " + because);
}

std::string beats_rest(const ShutoffPlan& plan, const SearchProof& proof) {
  if (!proof.optimal)
    return "the search stopped at its limit: a plan that is not listed may cost less; the bound "
           "says by how much.";
  if (proof.bound >= isolate::forbidden) return "there is no other.";
  const isolate::Cost more =
      proof.bound - (plan.cost_crew_s + plan.must_not_lose * one_must_not_lose);
  if (more >= one_must_not_lose)
    return "whatever is not listed loses more of those who must not lose gas.";
  return fmt::format("whatever is not listed costs at least {} more.",
                     hours(std::max<isolate::Cost>(more, 0)));
}

}  // namespace bellhole::plan
