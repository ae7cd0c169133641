// How long a test takes, and how small a leak it can show.
#include <fmt/format.h>

#include <algorithm>

#include "restore/test_work.hpp"

namespace bellhole::restore {
namespace {

using units::print;
using units::Toward;

/// What a thermometer that is wrong by its step moves the gauge by, in Pa; nought where unknown.
double by_warmth(const TestWork& work) {
  const TestQuestion& q = work.question;
  const auto pressure = q.start ? std::optional(q.start->pressure) : work.tested.least;
  if (!q.temperature_step || !pressure) return 0.0;
  const double t = work.warmest().value_or(q.base.temperature).si();
  return q.temperature_step->si() / t * (pressure->si() + q.barometer.si());
}

/// A leak that takes this much from the gauge is passed by the judgement: the pipe grew less than
/// its band, and the instruments were wrong the other way.
double hidden(const Tested& tested) {
  const double creep = tested.creep ? tested.creep->high.si() : 0.0;
  const double warmth = tested.dilation ? (tested.dilation->high - tested.dilation->low).si() : 0.0;
  return creep + warmth + 2.0 * tested.reading_error.value_or(PressureDifference()).si();
}

/// The leaks that gauge and test can show in the time between the readings.
void find_smallest(const TestWork& work, std::optional<double> steps_pa, double t) {
  const TestQuestion& q = work.question;
  Tested& tested = work.tested;
  if (!steps_pa || !q.duration) return;
  const auto leak = [&](double pa) {
    return StdFlow::from_si(base_volume(q, pa, t) / q.duration->si());
  };
  tested.gauge_leak = leak(*steps_pa);
  const double pipe = hidden(tested);
  tested.smallest_leak = leak(std::max(*steps_pa, pipe));
  tested.smallest_by =
      pipe > *steps_pa ? "the growing pipe and the instruments' errors" : "the steps of the gauge";
}

}  // namespace

double base_volume(const TestQuestion& q, double pressure_pa, double temperature_k) {
  return q.volume->si() * pressure_pa / q.base.pressure.si() *
         (q.base.temperature.si() / temperature_k);
}

/// The company's table is never undercut, and neither is what the leak to be found takes to show.
void find_duration(const TestWork& work) {
  const TestQuestion& q = work.question;
  Tested& tested = work.tested;
  const auto steps = work.ruling("test.gauge_steps").number();
  const auto company = work.used<kinds::Duration>("test.duration_least", "duration");
  const auto ruling = work.ruling("test.leak");
  const auto leak = q.leak ? q.leak : ruling.as<kinds::StdFlow>();
  if (!leak)
    work.add(procedure::not_set(
        ruling, {std::string(ruling.rule->asks), std::nullopt, "leak", "", ""}, work.system));
  if (q.volume && q.gauge_step && steps) {
    const double t = work.warmest().value_or(q.base.temperature).si();
    const double steps_pa = *steps * q.gauge_step->si();
    if (leak)
      tested.duration_needed =
          Duration::from_si(base_volume(q, std::max(steps_pa, by_warmth(work)), t) / leak->si());
    find_smallest(work, steps_pa, t);
  }
  if (company)
    tested.duration_needed = std::max(tested.duration_needed.value_or(*company), *company);
  if (!tested.duration_needed || !q.duration || *q.duration >= *tested.duration_needed) return;
  work.add(test_finding(
      "test.too_short", Grade::halt,
      fmt::format("the readings lie {} apart; the leak that must be found, or the procedure, asks "
                  "for {}",
                  print(*q.duration, work.system, Toward::down),
                  print(*tested.duration_needed, work.system, Toward::up)),
      "go on reading; or use a finer gauge and thermometer", "duration"));
}

}  // namespace bellhole::restore
