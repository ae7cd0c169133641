// Between which pressures a test must stay, and what to fill to.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "restore/test_work.hpp"

namespace bellhole::restore {
namespace {

using units::print;
using units::Toward;

/// What an assessment says about the pipe's rating, of all that it says.
constexpr std::array<std::string_view, 9> of_the_rating{"pipe.design_form",
                                                        "pipe.design_factor",
                                                        "pipe.design_wall_least",
                                                        "pipe.design_coefficient",
                                                        "pipe.design_derating",
                                                        "pipe.design_cap",
                                                        "pipe.design_temperature_least",
                                                        "pipe.design_temperature_most",
                                                        "pipe.strength"};

/// The greater of a multiple of the operating pressure and a floor; nothing where neither is set.
void set_least(const TestWork& work) {
  const TestQuestion& q = work.question;
  const auto multiple = work.ruling("test.operating_multiple");
  const auto floor = work.used<kinds::GaugePressure>("test.pressure_least", "least");
  if (!multiple.number()) {
    work.add(procedure::not_set(
        multiple, {std::string(multiple.rule->asks), std::nullopt, "least", "", ""}, work.system));
  } else {
    work.add(procedure::caveats(multiple, "least", work.system));
    work.tested.least = GaugePressure::from_si(*multiple.number() * q.mop.si());
    work.tested.least_by = fmt::format("{:g} x {}, {}", *multiple.number(),
                                       print(q.mop, work.system), multiple.used()->source);
  }
  if (floor && floor->si() > work.tested.least.value_or(GaugePressure()).si()) {
    work.tested.least = floor;
    work.tested.least_by = fmt::format("never less than {}", print(*floor, work.system));
  }
}

/// What the pipe may see: a multiple of its design pressure at the warmest temperature read.
Result<bool> pipe_most(const TestWork& work) {
  squeeze::Question rating;
  rating.pipe = work.question.pipe;
  rating.pipe.temperature = work.warmest();
  rating.places = false;
  BELLHOLE_TRY(sheet, squeeze::assess(rating, work.profile, work.system));
  for (Finding& finding : sheet.findings) {
    if (std::ranges::find(of_the_rating, finding.rule) != of_the_rating.end())
      work.add(std::move(finding));
  }
  const auto multiple = work.ruling("test.design_multiple");
  if (!multiple.number()) {
    work.add(procedure::not_set(
        multiple, {std::string(multiple.rule->asks), std::nullopt, "most", "", ""}, work.system));
    return true;
  }
  work.add(procedure::caveats(multiple, "most", work.system));
  if (!sheet.rated.pressure) return true;  // the rating's own finding says why
  work.tested.most = GaugePressure::from_si(*multiple.number() * sheet.rated.pressure->si());
  work.tested.most_by =
      fmt::format("{:g} x the design pressure {} ({})", *multiple.number(),
                  print(*sheet.rated.pressure, work.system, Toward::down), sheet.rated.form);
  return true;
}

void weakest_part(const TestWork& work) {
  for (const Part& part : work.question.parts) {
    if (work.tested.most && part.rated >= *work.tested.most) continue;
    work.tested.most = part.rated;
    work.tested.most_by = fmt::format("{}, rated {}", part.name, print(part.rated, work.system));
  }
  if (work.question.parts.empty())
    work.tested.assumed.emplace_back(
        "no part is weaker than the pipe, since no part was given: fittings, caps, valves, gauge "
        "and hose have ratings of their own");
}

/// Pressure to start with, so that cooling, creep and a step of the gauge still leave the least.
void set_fill(const TestWork& work) {
  const TestQuestion& q = work.question;
  if (!work.tested.least) return;
  const double b = q.barometer.si();
  const double b1 = q.start ? q.start->barometer.value_or(q.barometer).si() : b;
  const double b2 = q.end ? q.end->barometer.value_or(q.barometer).si() : b;
  double end = work.tested.least->si() + q.gauge_step.value_or(PressureDifference()).si();
  if (work.tested.creep) end += work.tested.creep->high.si();
  double warm = 1.0;
  if (q.start && q.end && q.start->temperature && q.end->temperature) {
    warm = q.start->temperature->si() / q.end->temperature->si();
  } else {
    work.tested.assumed.emplace_back(
        "pressure to fill to: the gas as warm at the end as at the start, since both temperatures "
        "are not given");
  }
  work.tested.fill = GaugePressure::from_si((end + b2) * std::max(warm, 1.0) - b1);
  if (work.tested.most && *work.tested.fill > *work.tested.most) {
    work.add(test_finding(
        "test.window", Grade::halt,
        fmt::format("to stay above {} the test would have to begin at {}, over the most that it "
                    "may see, {}",
                    print(*work.tested.least, work.system, Toward::up),
                    print(*work.tested.fill, work.system, Toward::up),
                    print(*work.tested.most, work.system, Toward::down)),
        "test when it is less warm, or have the engineer look at the design: no pressure suits",
        "fill"));
  }
}

void judge_pressures(const TestWork& work) {
  const TestQuestion& q = work.question;
  for (const auto& [reading, name] : {std::pair(&q.start, "start"), std::pair(&q.end, "end")}) {
    if (!*reading) continue;
    const GaugePressure p = (*reading)->pressure;
    if (work.tested.least && p < *work.tested.least)
      work.add(test_finding(
          "test.too_low", Grade::halt,
          fmt::format("{} reading {} is below the least test pressure, {}", name,
                      print(p, work.system, Toward::down), print(*work.tested.least, work.system)),
          fmt::format("fill to {} and begin again: this was no test",
                      work.tested.fill ? print(*work.tested.fill, work.system, Toward::up)
                                       : print(*work.tested.least, work.system, Toward::up)),
          name));
    if (work.tested.most && p > *work.tested.most)
      work.add(test_finding(
          "test.too_high", Grade::halt,
          fmt::format("{} reading {} is over the most that the test may see, {} ({})", name,
                      print(p, work.system), print(*work.tested.most, work.system, Toward::down),
                      work.tested.most_by),
          "let it down, keep away, and have the engineer decide on the pipe", name));
  }
}

}  // namespace

Result<bool> set_window(const TestWork& work) {
  set_least(work);
  BELLHOLE_TRY(most, pipe_most(work));
  weakest_part(work);
  if (work.tested.least && work.tested.most && *work.tested.least > *work.tested.most) {
    work.add(test_finding(
        "test.window", Grade::halt,
        fmt::format("the least test pressure, {}, is over the most, {} ({})",
                    print(*work.tested.least, work.system, Toward::up),
                    print(*work.tested.most, work.system, Toward::down), work.tested.most_by),
        "the design is wrong, not the test: the engineer decides", "window"));
  }
  const auto warmest = work.warmest();
  work.judge(
      "test.temperature_most",
      {"pipe temperature during the test", warmest ? std::optional(warmest->si()) : std::nullopt,
       "start, end", "wait until the pipe is cooler, out of the sun", "measure it: 94psi 84degF"});
  return most;
}

void finish_window(const TestWork& work) {
  set_fill(work);
  judge_pressures(work);
}

}  // namespace bellhole::restore
