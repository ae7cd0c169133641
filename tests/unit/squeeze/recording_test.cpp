#include "squeeze/recording.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>
#include <cmath>

#include "pipe/sizes.hpp"
#include "units/unit.hpp"

namespace bellhole::squeeze {
namespace {

constexpr double inch = units::inch_m;

procedure::Profile paced() {
  const auto row = [](const char* rule, double value, const char* unit) {
    return procedure::RowDraft{
        .rule = rule, .value = value, .unit = unit, .grade = Grade::warn, .source = "test"};
  };
  procedure::ProfileDraft draft{"p", "P", {}};
  draft.rows = {
      row("squeeze.closing_speed", 2, "in/min"), row("squeeze.opening_speed", 0.5, "in/min"),
      row("squeeze.opening_step", 0.5, "in"),    row("squeeze.opening_pause", 60, "s"),
      row("squeeze.relaxation_wait", 15, "min"), row("squeeze.hold", 4, "h")};
  return *procedure::compose(std::move(draft), nullptr);
}

Sheet sheet_of_ips4(bool with_tool = false) {
  static const procedure::Profile profile = paced();
  Question question;
  question.pipe.size = *pipe::read_size("IPS 4", "size");
  question.pipe.ratio = 11.5;
  question.stops = {{Stop{"S", Length::from_si(0.547 * inch), {}, {}}}};
  question.places = false;
  if (with_tool) {
    question.tool = Tool{.id = "T", .title = "T"};
    question.tool->pump_limit = GaugePressure::from_si(9000 * units::psi_pa);
  }
  Sheet sheet = *assess(question, profile, units::System::us);
  sheet.gap = Length::from_si(0.547 * inch);
  return sheet;
}

struct Typed {
  double seconds, inches;
  std::optional<double> pump_psi = {};
};
Recording recording(std::initializer_list<Typed> points) {
  Recording made;
  made.read_to = Length::from_si(0.005 * inch);
  for (const auto& [seconds, inches, pump] : points) {
    RecordedPoint point{Duration::from_si(seconds), Length::from_si(inches * inch), {}, "line"};
    if (pump) point.pump = GaugePressure::from_si(*pump * units::psi_pa);
    made.points.push_back(point);
  }
  return made;
}

Judged judged(const Recording& made, bool with_tool = false) {
  const auto answer = judge(made, sheet_of_ips4(with_tool), units::System::us);
  EXPECT_TRUE(answer) << answer.error().where << ": " << answer.error().fix;
  return *answer;
}

std::size_t count(const Judged& judged, std::string_view rule) {
  return static_cast<std::size_t>(std::ranges::count(judged.deviations, rule, &Deviation::rule));
}
std::size_t findings(const Judged& judged, std::string_view rule) {
  return static_cast<std::size_t>(std::ranges::count(judged.findings, rule, &Finding::rule));
}

TEST(Recording, BothPacesAreBrokenAndBothAreListed) {
  const Judged answer = judged(recording({{0, 4.5}, {82, 0.547}, {3682, 0.547}, {4132, 4.5}}));
  EXPECT_EQ(count(answer, "squeeze.closing_speed"), 1U);
  EXPECT_EQ(count(answer, "squeeze.opening_speed"), 1U);
  EXPECT_EQ(findings(answer, "squeeze.opening_speed"), 1U);
  EXPECT_NEAR(answer.closing->least_moving->si(), 118.59, 0.005);
  EXPECT_NEAR(answer.opening->least_moving->si(), 474.36, 0.005);
  EXPECT_NEAR(answer.deviations[0].value_si, 3.953 * inch / 82.0, 1e-12);
  EXPECT_NEAR(answer.deviations[1].limit_si, 0.5 * inch / 60.0, 1e-12);
  EXPECT_EQ(answer.opening->waits_missing, 7) << "there was no time for one of the seven";
  EXPECT_EQ(answer.squeezed.si(), 3600.0);
  EXPECT_EQ(answer.on_the_stops, true);
}

TEST(Recording, ALittleTooFastIsTooFast) {
  EXPECT_EQ(count(judged(recording({{0, 4.5}, {118.58, 0.547}})), "squeeze.closing_speed"), 1U);
  EXPECT_EQ(count(judged(recording({{0, 4.5}, {118.59, 0.547}})), "squeeze.closing_speed"), 0U);
}

TEST(Recording, AFastPieceHidesInNoMean) {
  // In all slow enough, but not between the second and the third point.
  const Judged answer = judged(recording({{0, 4.5}, {100, 3.5}, {110, 2.5}, {200, 0.547}}));
  EXPECT_EQ(count(answer, "squeeze.closing_speed"), 1U);
  EXPECT_EQ(answer.deviations[0].from.si(), 100.0);
}

TEST(Recording, EveryBreachIsListedAndTheWorstSpeaks) {
  const Judged answer = judged(recording({{0, 4.5}, {10, 3.5}, {20, 2.0}, {200, 0.547}}));
  EXPECT_EQ(count(answer, "squeeze.closing_speed"), 2U);
  ASSERT_EQ(findings(answer, "squeeze.closing_speed"), 1U);
  EXPECT_NEAR(*answer.findings[0].value_si, 0.15 * inch, 1e-12);
}

TEST(Recording, WaitsAreSeenMissingOrNotToBeTold) {
  Recording kept = recording({{0, 0.547}});
  double at = 100, gap = 0.547;
  kept.points.push_back({Duration::from_si(at), Length::from_si(gap * inch), {}, ""});
  while (gap < 4.5) {
    const double next = std::min(4.5, gap + 0.5);
    at += (next - gap) * 120.0;
    gap = next;
    kept.points.push_back({Duration::from_si(at), Length::from_si(gap * inch), {}, ""});
    at += 60.0;
    if (gap < 4.5)
      kept.points.push_back({Duration::from_si(at), Length::from_si(gap * inch), {}, ""});
  }
  const Judged seen = judged(kept);
  EXPECT_EQ(seen.opening->waits_seen, 7);
  EXPECT_TRUE(seen.deviations.empty());
  EXPECT_EQ(findings(seen, "recording.waits_not_seen"), 0U);

  const Judged hidden = judged(recording({{0, 0.547}, {100, 0.547}, {1100, 4.5}}));
  EXPECT_TRUE(hidden.deviations.empty());
  EXPECT_EQ(findings(hidden, "recording.waits_not_seen"), 1U);

  const Judged some = judged(recording({{0, 0.547}, {100, 0.547}, {700, 4.5}}));
  EXPECT_EQ(some.opening->waits_missing, 5) << "600 s less 474.36 s leave room for two";
  EXPECT_EQ(count(some, "squeeze.opening_pause"), 1U);
}

TEST(Recording, AtThePumpsLimitAndNotOnTheStopsIsNotShut) {
  const Judged answer = judged(
      recording({{0, 4.5, 0}, {200, 0.70, 9000}, {230, 0.65, 9000}, {300, 0.65, 8000}}), true);
  EXPECT_TRUE(answer.at_the_limit);
  EXPECT_EQ(answer.on_the_stops, false);
  EXPECT_EQ(findings(answer, "recording.not_shut"), 1U);
  EXPECT_EQ(count(answer, "squeeze.relaxation_wait"), 1U);
  const Judged waited = judged(
      recording({{0, 4.5, 0}, {200, 0.70, 9000}, {1150, 0.70, 7000}, {1200, 0.547, 9000}}), true);
  EXPECT_EQ(count(waited, "squeeze.relaxation_wait"), 0U);
  EXPECT_EQ(waited.on_the_stops, true);
}

TEST(Recording, TooFarAndTooLongAreSaid) {
  const Judged answer =
      judged(recording({{0, 4.5}, {200, 0.52}, {200 + 5 * 3600.0, 0.52}, {20000, 0.8}}));
  EXPECT_EQ(findings(answer, "recording.below_stop"), 1U);
  EXPECT_EQ(count(answer, "squeeze.hold"), 1U);
  EXPECT_NE(std::ranges::find_if(answer.not_known,
                                 [](const std::string& text) {
                                   return text.find("0.800 in, where the recording ends") !=
                                          std::string::npos;
                                 }),
            answer.not_known.end());
}

TEST(Recording, RefusesWhatIsNoRecording) {
  const Sheet sheet = sheet_of_ips4();
  const auto code = [&](const Recording& made) {
    return judge(made, sheet, units::System::us).error().code;
  };
  EXPECT_EQ(code(recording({{0, 4.5}})), Code::missing_value);
  EXPECT_EQ(code(recording({{5, 4.5}, {5, 4.0}})), Code::contradiction);
  EXPECT_EQ(code(recording({{0, 4.5}, {5, 114.3}})), Code::out_of_range);
}

RC_GTEST_PROP(Recording, MorePointsOfTheSameMovementNeverClearIt, ()) {
  // A steady movement over the limit stays over it however finely it is sampled.
  const int points = *rc::gen::inRange(1, 400);
  Recording made;
  for (int i = 0; i <= points; ++i) {
    const double share = static_cast<double>(i) / points;
    made.points.push_back(
        {Duration::from_si(82.0 * share), Length::from_si((4.5 - 3.953 * share) * inch), {}, ""});
  }
  const Judged answer = judged(made);
  RC_ASSERT(count(answer, "squeeze.closing_speed") == static_cast<std::size_t>(points));
}

}  // namespace
}  // namespace bellhole::squeeze
