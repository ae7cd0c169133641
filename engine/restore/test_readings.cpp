// What the readings of a test mean: what is missing, and what may explain it.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "pipe/modulus.hpp"
#include "pipe/rating.hpp"
#include "restore/test_work.hpp"

namespace bellhole::restore {
namespace {

using units::print;
using units::Toward;

/// (2.5 - 2 nu) of a free end and 2 (1 - nu2) of a held one, for nu 0.45: the same 1.6.
constexpr double strain_factor = 1.6;
/// In a pipe the wall is loaded in two directions and creeps less than in a tensile bar: up to a
/// quarter stiffer (PPI handbook, note to table B.1.1; the figure from memory).
constexpr double stiffer = 1.25;
/// Thermal expansion of PE, 8e-5 to 1e-4 per degF (from memory).
constexpr double expansion_per_k = 1.8e-4;

/// What the weather may move a barometer by during a test (common practice, no source).
constexpr double weather_pa = 1000.0;

double gas_at(const TestQuestion& q, const TestReading& reading) {
  return reading.pressure.si() + reading.barometer.value_or(q.barometer).si();
}

/// The pressure that the growing pipe loses between two load times.
std::optional<Low_high<PressureDifference>> creep_of(const TestWork& work, const TestReading& start,
                                                     Duration from, Duration to) {
  const TestQuestion& q = work.question;
  const auto ratio = q.pipe.ratio;
  if (!ratio || q.pipe.material == nullptr) return std::nullopt;
  const auto before = pipe::apparent_modulus(q.pipe.material->name, from);
  const auto after = pipe::apparent_modulus(q.pipe.material->name, to);
  const auto factor = pipe::modulus_at(work.warmest().value_or(pipe::hdb_low_temperature));
  if (!before || !after || !factor) return std::nullopt;
  const double stress = start.pressure.si() * (*ratio - 1.0) / 2.0;
  const double growth =
      strain_factor * stress * (1.0 / after->value.si() - 1.0 / before->value.si()) / *factor;
  const double most = gas_at(q, start) * growth;
  return Low_high<PressureDifference>{PressureDifference::from_si(most / stiffer),
                                      PressureDifference::from_si(most)};
}

void find_creep(const TestWork& work) {
  const TestQuestion& q = work.question;
  if (!q.start || !q.duration) return;
  const Duration from = q.loaded_before.value_or(pipe::modulus_begins);
  if (!q.loaded_before)
    work.tested.assumed.emplace_back(
        "creep: the test pressure had stood for half an hour before the start reading, since it "
        "was not told");
  work.tested.creep = creep_of(work, *q.start, from, from + *q.duration);
  if (!work.tested.creep)
    work.add(test_finding("test.creep", Grade::undecided,
                          "how much the pipe grows under the test is not known for this material, "
                          "time and temperature",
                          "let the pressure stand until the gauge has settled, and have the "
                          "engineer say what it may lose",
                          "material"));
}

/// Of the pipe's volume with its temperature: from nothing, held, to all of it, free.
void find_dilation(const TestWork& work) {
  const TestQuestion& q = work.question;
  const double dt = (*q.end->temperature - *q.start->temperature).si();
  const double rise = -3.0 * expansion_per_k * dt * gas_at(q, *q.end);
  work.tested.dilation =
      Low_high<PressureDifference>{PressureDifference::from_si(std::min(rise, 0.0)),
                                   PressureDifference::from_si(std::max(rise, 0.0))};
}

/// What gauge and thermometer may be wrong by, together, in the difference of two readings.
void find_error(const TestWork& work) {
  const TestQuestion& q = work.question;
  double error = 0.0;
  if (q.gauge_step)
    error += q.gauge_step->si();
  else
    work.tested.assumed.emplace_back(
        "readings of the gauge are exact, since no gauge step was given");
  if (q.temperature_step)
    error += q.temperature_step->si() / q.start->temperature->si() * gas_at(q, *q.start);
  else
    work.tested.assumed.emplace_back(
        "temperatures are those of the gas and exact, since no temperature step was given");
  work.tested.reading_error = PressureDifference::from_si(error);
}

void find_missing(const TestWork& work) {
  const TestQuestion& q = work.question;
  Tested& tested = work.tested;
  const double t1 = q.start->temperature->si(), t2 = q.end->temperature->si();
  const double b2 = q.end->barometer.value_or(q.barometer).si();
  tested.expected_end = GaugePressure::from_si(gas_at(q, *q.start) * (t2 / t1) - b2);
  tested.missing_pressure = *tested.expected_end - q.end->pressure;
  if (q.volume) {
    tested.missing = StdVolume::from_si(base_volume(q, tested.missing_pressure->si(), t2));
    if (q.duration) tested.missing_rate = StdFlow::from_si(tested.missing->si() / q.duration->si());
  }
  find_dilation(work);
  find_error(work);
}

void judge(const TestWork& work) {
  const TestQuestion& q = work.question;
  Tested& tested = work.tested;
  if (!tested.missing_pressure || !tested.reading_error) return;
  const double missing = tested.missing_pressure->si(), error = tested.reading_error->si();
  const double creep_high = tested.creep ? tested.creep->high.si() : 0.0;
  const double most = creep_high - tested.dilation->low.si() + error;
  // A pipe that has settled before creeps less than the band: none at all is no riddle.
  const double least = -tested.dilation->high.si() - error;
  const auto small = [&](double si) {
    const bool us = work.system == units::System::us;
    return units::print_in(PressureDifference::from_si(si), us ? "psi" : "mbar", us ? 2 : 0);
  };
  const std::string amount = small(missing);
  const auto explained = fmt::format("the gauge, the pipe's growth and its warmth explain {} to {}",
                                     small(least), small(most));
  if (missing > most) {
    tested.judgement = Judgement::leak;
    tested.says = fmt::format("A leak: {} is missing beyond the change of temperature, and {}.",
                              amount, explained);
    work.add(test_finding("test.leak_found", Grade::halt, tested.says,
                          "find it: soap every joint, cap and gauge fitting; begin the test again "
                          "after the repair",
                          "end"));
  } else if (missing < least) {
    tested.judgement = Judgement::not_explained;
    tested.says = fmt::format(
        "Not explained: more gas is there than the start allows ({} missing), "
        "and {}.",
        amount, explained);
    work.add(test_finding("test.not_explained", Grade::undecided, tested.says,
                          "look whether anything feeds the length, and how the temperatures were "
                          "taken; read again",
                          "end"));
  } else if (!(q.start->barometer && q.end->barometer) && missing + weather_pa > most) {
    tested.judgement = Judgement::not_explained;
    tested.says = fmt::format(
        "Not judged: {} is missing, and {}; but the barometer was not read, and {} of weather "
        "would "
        "hide a leak.",
        amount, explained, small(weather_pa));
    work.add(test_finding("test.barometer", Grade::undecided, tested.says,
                          "read the barometer with the gauge, at the start and at the end: --start "
                          "\"94psi 84degF 14.6psia\"",
                          "barometer"));
  } else {
    tested.judgement = Judgement::no_leak_found;
    tested.says = fmt::format(
        "No leak found: {} is missing, and {}. {}", amount, explained,
        tested.smallest_leak ? fmt::format("A leak of less than {} would not have shown.",
                                           print(*tested.smallest_leak, work.system, Toward::up))
                             : "How small a leak would have shown cannot be told without volume, "
                               "gauge step and time.");
  }
}

void say_what_lacks(const TestWork& work) {
  const TestQuestion& q = work.question;
  const auto lacks = [&](const char* what, const char* about) {
    work.tested.judgement = Judgement::not_explained;
    work.tested.says = fmt::format("The readings cannot be judged: {} is not given.", what);
    work.add(test_finding("test.not_explained", Grade::undecided, work.tested.says,
                          "read it and give it: --start \"94psi 84degF\" --end \"91psi 72degF\"",
                          about));
  };
  if (!q.start)
    lacks("the start reading", "start");
  else if (!q.end)
    lacks("the end reading", "end");
  else if (!q.start->temperature)
    lacks("the gas's temperature at the start", "start");
  else if (!q.end->temperature)
    lacks("the gas's temperature at the end", "end");
}

}  // namespace

void judge_readings(const TestWork& work) {
  const TestQuestion& q = work.question;
  find_creep(work);
  const bool both = q.start && q.end && q.start->temperature && q.end->temperature;
  if (both) find_missing(work);
  find_duration(work);
  if (!q.start && !q.end) return;  // a plan, no test yet
  if (both) {
    if (!q.duration)
      work.add(test_finding("test.too_short", Grade::undecided,
                            "how long the test lasted is not given", "give it: --duration 2h",
                            "duration"));
    judge(work);
  } else {
    say_what_lacks(work);
  }
}

}  // namespace bellhole::restore
