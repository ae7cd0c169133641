#include "linepack/watch.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "linepack/watch_work.hpp"
#include "procedure/judge.hpp"

namespace bellhole::linepack {
namespace {

Result<bool> check_gauge(const WatchQuestion& question) {
  const Gauge& gauge = question.gauge;
  if (!(gauge.step.si() > 0.0) || !std::isfinite(gauge.step.si())) {
    return trouble(Code::out_of_range, "gauge_step", fmt::format("{:g} Pa", gauge.step.si()),
                   "give the smallest division that is read on the dial");
  }
  if (gauge.steps < 1) {
    return trouble(Code::out_of_range, "steps", fmt::format("{}", gauge.steps),
                   "the needle must move by at least one step to be seen");
  }
  if (!gauge.range) return true;
  const auto& [low, high] = *gauge.range;
  if (!(low < high) || gauge.step > high - low) {
    return trouble(Code::contradiction, "gauge_range",
                   fmt::format("{:g} to {:g} Pa (gauge)", low.si(), high.si()),
                   "give the dial from its lowest to its highest mark: 0psi:100psi");
  }
  if (question.pressure < low || question.pressure > high) {
    return trouble(Code::contradiction, "pressure",
                   fmt::format("{:g} Pa (gauge)", question.pressure.si()),
                   "the pressure is not on the dial of gauge_range: correct one of the two");
  }
  return true;
}

Result<bool> check(const WatchQuestion& question) {
  BELLHOLE_TRY(gauge, check_gauge(question));
  static_cast<void>(gauge);
  if (!(absolute(question.pressure, question.closed.barometer).si() > 0.0) ||
      (question.asks != Asks::shut_off_tight && question.pressure.si() < 0.0)) {
    return trouble(Code::out_of_range, "pressure",
                   fmt::format("{:g} Pa (gauge)", question.pressure.si()),
                   "a main with gas in it is not below the air's pressure: correct the value");
  }
  if (!question.draw && question.asks != Asks::shut_off_tight) {
    return trouble(Code::missing_value, "draw", "",
                   question.asks == Asks::fed_elsewhere
                       ? "say what the customers draw, at the least and at the most: 80scfh:400scfh"
                       : "say what one thing left open would draw, at the least and at the most");
  }
  if (question.let_by && !(question.let_by->si() > 0.0)) {
    return trouble(Code::out_of_range, "let_by",
                   fmt::format("{:g} std m3/s", question.let_by->si()),
                   "give the smallest let-by that must be seen: nothing is seen of none");
  }
  if (question.within && !(question.within->si() > 0.0)) {
    return trouble(Code::out_of_range, "within", fmt::format("{:g} s", question.within->si()),
                   "give the time that there is to watch");
  }
  if (question.floor && question.floor->si() < 0.0) {
    return trouble(Code::out_of_range, "floor",
                   fmt::format("{:g} Pa (gauge)", question.floor->si()),
                   "give the least pressure that still serves the customers");
  }
  return check_readings(question.readings, question.closed.barometer);
}

/// The flow that must show, and for shut_off_tight the band of flows that lift the needle.
void set_flows(const Work& work) {
  const WatchQuestion& question = work.question;
  Watched& watched = work.watched;
  const Draw draw = question.draw.value_or(Draw{});
  if (work.falls()) {
    watched.least = draw.low;
    watched.most = draw.high;
    watched.fall = Band{fall(question.closed, question.pressure, draw.low),
                        fall(question.closed, question.pressure, draw.high)};
    return;
  }
  std::optional<StdFlow> let_by = question.let_by;
  if (!let_by) {
    const auto ruling = work.profile.ruling("squeeze.let_by", {});
    let_by = ruling.as<kinds::StdFlow>();
    const procedure::Held held{"let-by that must be seen", std::nullopt, "let_by", "",
                               "give it for this watch: --let-by"};
    if (let_by) {
      append(watched.findings, procedure::caveats(ruling, "let_by", work.system));
    } else {
      work.add(procedure::not_set(ruling, held, work.system));
    }
  }
  if (!let_by) return;
  // The needle rises slowest at the end of the rise.
  const GaugePressure end = question.pressure + work.visible();
  watched.least = std::max(StdFlow(), *let_by - draw.high);
  watched.most = std::max(StdFlow(), *let_by - draw.low);
  watched.rise =
      Band{fall(question.closed, end, *watched.least), fall(question.closed, end, *watched.most)};
}

/// Share of the needle's rate, and the amount, that barometer and temperature can fake.
struct Faked {
  PressureDifference amount;
  PressureRate rate;
};

Faked faked(const WatchQuestion& question) {
  const Drift& drift = question.drift;
  const double per_kelvin = absolute(question.pressure, question.closed.barometer).si() /
                            question.closed.temperature.si();
  const double kelvin = drift.temperature.value_or(TemperatureDifference()).si();
  return {drift.barometer.value_or(PressureDifference()) +
              PressureDifference::from_si(kelvin * per_kelvin),
          drift.barometer_rate.value_or(PressureRate()) +
              PressureRate::from_si(drift.temperature_k_per_s.value_or(0.0) * per_kelvin)};
}

/// Time until a gauge of this step shows it; nothing where it never does.
std::optional<Duration> time_to_show(const Work& work, PressureDifference visible,
                                     PressureRate rate) {
  const Faked fake = faked(work.question);
  const PressureRate net = rate - fake.rate;
  if (!(net.si() > 0.0)) return std::nullopt;
  return (visible + fake.amount) / net;
}

PressureRate slowest(const Watched& watched) {
  if (watched.fall) return watched.fall->low;
  return watched.rise ? watched.rise->low : PressureRate();
}

void set_time(const Work& work) {
  const WatchQuestion& question = work.question;
  Watched& watched = work.watched;
  const Faked fake = faked(question);
  const PressureRate rate = slowest(watched);
  watched.faked = fake.amount;
  if (!work.blind()) watched.watch = time_to_show(work, work.visible(), rate);
  if (watched.watch) watched.faked = fake.amount + fake.rate * *watched.watch;
  watched.must_move = work.visible() + watched.faked;
  if (!question.within) return;
  const double room = (rate - fake.rate).si() * question.within->si() - fake.amount.si();
  if (room > 0.0)
    watched.step_needed = PressureDifference::from_si(room / static_cast<double>(work.steps()));
}

Result<bool> set_left(const Work& work, GaugePressure from, std::optional<Drained>& left) {
  const WatchQuestion& question = work.question;
  if (!question.floor || !work.falls() || !question.draw) return true;
  const auto low = work.profile.ruling("linepack.low_pressure", {});
  const DrainQuestion asked{question.closed, from, *question.floor, *question.draw,
                            low.as<kinds::GaugePressure>()};
  BELLHOLE_TRY(drained, drain(asked));
  left = drained;
  if (!low.number()) {
    work.add(procedure::not_set(low, {"pressure of the main", from.si(), "pressure", "", ""},
                                work.system));
  }
  return true;
}

/// Quarter by quarter to the end of the watch.
void set_expect(const Work& work) {
  const WatchQuestion& question = work.question;
  Watched& watched = work.watched;
  if (!watched.watch || !watched.least) return;
  const double sign = work.falls() ? 1.0 : -1.0;
  for (int quarter = 0; quarter <= 4; ++quarter) {
    const Duration at = *watched.watch * (0.25 * quarter);
    // Nobody draws a main below the air's pressure.
    const auto then = [&](StdFlow flow) {
      return std::max(std::min(question.pressure, GaugePressure()),
                      after(question.closed, question.pressure, flow * at * sign));
    };
    watched.expect.push_back({at, then(*watched.least), then(*watched.most)});
  }
}

void set_tables(const Work& work) {
  const WatchQuestion& question = work.question;
  Watched& watched = work.watched;
  const Faked fake = faked(question);
  // Times that a crew waits anyway, and the gauges that a company may have. Not limits.
  for (const double minutes : {5.0, 15.0, 30.0, 60.0, 120.0}) {
    const Duration in = Duration::from_si(60.0 * minutes);
    const PressureDifference move = work.visible() + fake.amount + fake.rate * in;
    const GaugePressure end = work.falls() ? question.pressure - move : question.pressure + move;
    if (absolute(end, question.closed.barometer).si() <= 0.0) continue;
    const StdVolume gas = held(question.closed, question.pressure) - held(question.closed, end);
    watched.shows.push_back({in, StdFlow::from_si(std::abs(gas.si()) / in.si())});
  }
  const PressureRate rate = slowest(watched);
  if (!(rate.si() > 0.0)) return;
  for (const double share : {0.5, 0.2, 0.1, 0.05, 0.01}) {
    const auto time = time_to_show(work, work.visible() * share, rate);
    if (time) watched.finer.push_back({question.gauge.step * share, *time});
  }
}

}  // namespace

Finding found(std::string rule, Grade grade, std::string says, std::string action,
              std::string about) {
  Finding finding;
  finding.rule = std::move(rule);
  finding.grade = grade;
  finding.says = std::move(says);
  finding.action = std::move(action);
  finding.about = std::move(about);
  finding.source = "what the closed length holds, from what was entered (docs/theory/time.md)";
  finding.evidence = Evidence::derived;
  return finding;
}

std::string_view words(Asks asks) {
  constexpr std::array all{"is this part fed from elsewhere?", "are the shut-offs tight?",
                           "are all meters shut?"};
  return all[static_cast<std::size_t>(asks)];
}

Result<Watched> watch(const WatchQuestion& question, const procedure::Profile& profile,
                      units::System system) {
  BELLHOLE_TRY(good, check(question));
  static_cast<void>(good);
  // The volume and the draw are held against what they can be where the gas is reckoned.
  BELLHOLE_TRY(held_now, drain({question.closed, question.pressure, question.pressure,
                                question.draw.value_or(Draw{}), std::nullopt}));
  static_cast<void>(held_now);
  Watched watched;
  const Work work{question, profile, system, watched};
  set_flows(work);
  set_time(work);
  BELLHOLE_TRY(left, set_left(work, question.pressure, watched.left));
  static_cast<void>(left);
  set_expect(work);
  set_tables(work);
  if (!question.readings.empty()) {
    watched.judged =
        judge(question.closed, question.readings, question.gauge.step, work.steps(), watched.watch);
    const std::size_t said = watched.findings.size();
    BELLHOLE_TRY(from_last, set_left(work, watched.judged->last, watched.judged->left));
    static_cast<void>(from_last);
    watched.findings.resize(said);  // what the profile lacks is said once
    if (question.floor && watched.judged->rate && watched.judged->rate->si() < 0.0 &&
        watched.judged->last > *question.floor)
      watched.judged->at_rate = (watched.judged->last - *question.floor) / -*watched.judged->rate;
  }
  find_doubts(work);
  find_needle(work);
  say(work);
  return watched;
}

}  // namespace bellhole::linepack
