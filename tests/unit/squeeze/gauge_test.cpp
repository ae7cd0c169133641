#include "squeeze/gauge.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>

#include "flatten/closed_form.hpp"
#include "pipe/walls.hpp"
#include "squeeze/refit.hpp"

namespace bellhole::squeeze {
namespace {

const pipe::Size eight = *pipe::read_size("IPS 8", "size");

/// What the pump would read for a pipe of this ratio, grade and temperature, at the expected force.
GaugeReading reading_of(const GaugeQuestion& q, double ratio, const char* grade, double celsius,
                        double gap_over_two_walls, double scale = 1.0) {
  const Length wall = pipe::walls_by_ratio(q.size, ratio, "dr")->nominal;
  const auto strength =
      *flatten::strength_of(grade, Temperature::from_si(273.15 + celsius), q.closing);
  const Length gap = wall * (2.0 * gap_over_two_walls);
  const Force force = flatten::force_at(
      {q.size.od, wall, q.bar_radius, strength.yield * scale, strength.modulus * scale, q.line},
      gap);
  return {gap, GaugePressure::from_si(force.si() / q.ram.si())};
}

GaugeQuestion question() {
  return {.size = eight,
          .bar_radius = Length::from_si(0.0254),
          .ram = Area::from_si(0.005),
          .closing = Duration::from_si(240)};
}

bool holds(const GaugeAnswer& answer, double ratio, std::string_view grade, double kelvin) {
  return std::ranges::any_of(answer.fitting, [&](const Fitting& fit) {
    return fit.ratio == ratio && std::ranges::find(fit.materials, grade) != fit.materials.end() &&
           fit.coldest.si() <= kelvin + 1.0 && fit.warmest.si() >= kelvin - 1.0;
  });
}

RC_GTEST_PROP(Gauge, ThePipeThatWasReadIsAlwaysInTheSet, ()) {
  const auto ratio = *rc::gen::element(9.0, 11.0, 13.5, 17.0);
  const auto* const grade = *rc::gen::element("PE4710", "PE3608", "PE2708");
  const double celsius = *rc::gen::inRange(-15, 45);
  GaugeQuestion q = question();
  for (const double x : {3.0, 1.5, 0.75})
    q.readings.push_back(reading_of(q, ratio, grade, celsius, x));
  const auto answer = read_gauge(q, units::System::us);
  RC_ASSERT(answer.has_value());
  RC_ASSERT(holds(*answer, ratio, grade, 273.15 + celsius));
}

TEST(Gauge, MoreReadingsNeverWidenTheSet) {
  GaugeQuestion q = question();
  q.readings.push_back(reading_of(q, 11, "PE4710", 15, 2.0));
  const auto one = read_gauge(q, units::System::us);
  q.readings.push_back(reading_of(q, 11, "PE4710", 15, 0.8));
  const auto two = read_gauge(q, units::System::us);
  for (const Fitting& fit : two->fitting)
    EXPECT_TRUE(holds(*one, fit.ratio, fit.materials.front(), fit.coldest.si()));
  EXPECT_LE(two->fitting.size(), one->fitting.size());
  EXPECT_GT(one->fitting.size(), 3u) << "one reading tells little apart";
}

TEST(Gauge, AMapThatCannotBeIsContradictedAndAFitIsNoPass) {
  GaugeQuestion q = question();
  for (const double x : {1.5, 0.8}) q.readings.push_back(reading_of(q, 9, "PE4710", 0, x));
  q.map_ratio = 17.0;
  const auto wrong = read_gauge(q, units::System::us);
  EXPECT_EQ(wrong->map, MapSays::contradicted);
  EXPECT_TRUE(std::ranges::any_of(wrong->findings, [](const Finding& finding) {
    return finding.rule == "gauge.map_contradicted" && finding.grade == Grade::undecided;
  }));
  q.map_ratio = 9.0;
  const auto right = read_gauge(q, units::System::us);
  EXPECT_EQ(right->map, MapSays::fits);
  EXPECT_EQ(right->findings.front().rule, "gauge.set_only");
}

TEST(Gauge, AThermometerNarrowsTheSetAndNothingMayFit) {
  GaugeQuestion q = question();
  q.readings.push_back(reading_of(q, 11, "PE4710", 20, 0.8));
  const auto open = read_gauge(q, units::System::us);
  q.pipe_between = std::pair(Temperature::from_si(290), Temperature::from_si(296));
  const auto narrow = read_gauge(q, units::System::us);
  EXPECT_LE(narrow->fitting.size(), open->fitting.size());
  EXPECT_FALSE(open->assumed.size() == narrow->assumed.size());
  q.readings.front().pump = GaugePressure::from_si(1e9);
  const auto none = read_gauge(q, units::System::us);
  EXPECT_TRUE(none->fitting.empty());
  EXPECT_TRUE(std::ranges::any_of(none->findings,
                                  [](const Finding& f) { return f.rule == "gauge.nothing_fits"; }));
}

TEST(Gauge, RefusesWhatCannotBeRead) {
  GaugeQuestion q = question();
  EXPECT_EQ(read_gauge(q, units::System::us).error().code, Code::missing_value);
  q.readings.push_back({q.size.od, GaugePressure::from_si(1e6)});
  EXPECT_EQ(read_gauge(q, units::System::us).error().where, "readings");
  q.readings.front().gap = Length::from_si(0.05);
  q.ram = Area();
  EXPECT_EQ(read_gauge(q, units::System::us).error().where, "ram_area");
}

LoggedSqueeze logged(double ratio, const char* grade, double celsius, double scale) {
  const GaugeQuestion q = question();
  const GaugeReading reading = reading_of(q, ratio, grade, celsius, 0.75, scale);
  return {"log",
          q.size.od,
          pipe::walls_by_ratio(q.size, ratio, "dr")->nominal,
          grade,
          Temperature::from_si(273.15 + celsius),
          reading.gap,
          q.bar_radius,
          reading.pump,
          GaugePressure(),
          q.ram,
          q.closing};
}

RC_GTEST_PROP(Refit, FindsTheScaleThatMadeTheLog, ()) {
  const double scale = *rc::gen::inRange(60, 150) / 100.0;
  std::vector<LoggedSqueeze> log;
  for (int i = 0; i < 11; ++i)
    log.push_back(logged(*rc::gen::element(9.0, 11.0, 17.0), *rc::gen::element("PE4710", "PE2708"),
                         *rc::gen::inRange(-10, 40), scale));
  const Refit out = refit(log);
  RC_ASSERT(out.scale.has_value());
  RC_ASSERT(std::abs(*out.scale - scale) < 1e-9);
  RC_ASSERT(out.findings.empty());
}

TEST(Refit, OneWrongGaugeDoesNotMoveItAndFewSayNothing) {
  std::vector<LoggedSqueeze> log(10, logged(11, "PE4710", 20, 0.9));
  for (std::size_t i = 0; i < log.size(); ++i)
    log[i].pump = GaugePressure::from_si(log[i].pump.si() * (0.96 + 0.01 * static_cast<double>(i)));
  const double before = *refit(log).scale;
  log.push_back(logged(11, "PE4710", 20, 9.0));
  const Refit with = refit(log);
  EXPECT_NEAR(*with.scale, before, 1e-9);
  EXPECT_TRUE(with.rows.back().left_out);
  EXPECT_LT(*with.low, *with.scale);
  EXPECT_GT(*with.high, *with.scale);
  log.resize(refit_least - 1);
  const Refit few = refit(log);
  EXPECT_FALSE(few.scale);
  EXPECT_EQ(few.findings.front().rule, "refit.too_few");
}

}  // namespace
}  // namespace bellhole::squeeze
