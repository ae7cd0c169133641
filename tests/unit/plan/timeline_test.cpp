#include "plan/timeline.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <algorithm>

#include "gas/gas.hpp"
#include "network/along.hpp"
#include "plan/affected.hpp"
#include "tests/unit/plan/small_town.hpp"
#include "wire/profile.hpp"

namespace bellhole::plan {
namespace {

constexpr double minute = 60.0, hour = 3600.0;

procedure::RowDraft row(std::string rule, double value, std::string unit = "",
                        std::vector<std::string> steps = {}) {
  procedure::RowDraft draft;
  draft.rule = std::move(rule);
  draft.value = value;
  draft.unit = std::move(unit);
  draft.grade = Grade::warn;
  draft.source = "test";
  draft.evidence = Evidence::company;
  draft.approved_by = "an engineer";
  draft.when[procedure::Listed::step] = std::move(steps);
  return draft;
}

/// Every step lasts half an hour, work with the pipe an hour, and may come out at 0.8 to 1.5 of it.
procedure::Profile company(std::vector<procedure::RowDraft> more = {}) {
  static const procedure::Profile us = *wire::built_in_profile("us");
  procedure::ProfileDraft draft;
  draft.id = "company";
  draft.rows = {row("steps.time", 30, "min"), row("steps.time", 60, "min", {"cut", "mark"}),
                row("steps.time_short", 0.8), row("steps.time_long", 1.5)};
  for (procedure::RowDraft& one : more) draft.rows.push_back(std::move(one));
  return *procedure::compose(draft, &us);
}

Step step(std::string id, StepKind kind, std::vector<std::string> after = {},
          std::string about = "", bool hold = false) {
  Step made;
  made.id = std::move(id);
  made.kind = kind;
  made.after = std::move(after);
  made.about = std::move(about);
  made.hold_point = hold;
  return made;
}

/// A main with customers, two places shut on it, and nothing else.
struct Job {
  Job() {
    const auto a = town.node("a", 0, 0), b = town.node("b", 300, 0);
    main = town.main("M", a, b);
    town.source("GATE", a);
    conditions.gas = *gas::from_gravity(0.6);
    conditions.ground = Temperature::from_si(288.15);
  }

  TimelineQuestion question(const procedure::Profile& profile) {
    TimelineQuestion q{town.network, conditions, profile};
    q.shutoffs = {{"A", place(100)}, {"B", place(200)}};
    q.technicians = 20;
    q.rate = restore::Rate{1e6, 1e6, 1e6};  // in no time
    q.revisits = 0.0;
    return q;
  }

  Place place(double station) const {
    Place at;
    at.kind = ShutKind::placed;
    at.element = at.pipe = main;
    at.station = Length::from_si(station);
    return at;
  }

  void out(TimelineQuestion& q, int count) {
    for (int i = 0; i < count; ++i) {
      CustomerLost lost;
      lost.meter.id = "c" + std::to_string(i);
      lost.meter.street = "Quay Street";
      q.out.push_back(lost);
    }
  }

  test::Town town;
  network::Index main = network::none;
  network::Conditions conditions;
};

const Finding* find(const Findings& findings, std::string_view rule) {
  const auto found = std::ranges::find(findings, rule, &Finding::rule);
  return found == findings.end() ? nullptr : &*found;
}

TEST(Timeline, APurgeTakesTheTimeOfItsWayOrMore) {
  Job job;
  const procedure::Profile profile = company();
  TimelineQuestion q = job.question(profile);
  q.steps = {step("purge", StepKind::purge)};
  const auto takes = [&](std::optional<Duration> way) {
    q.purging = way;
    const Bar bar = timeline(q)->course.bars.front();
    return (bar.ends.expected - bar.begins.expected).si();
  };
  EXPECT_NEAR(takes({}), 1800.0, 1e-9) << "the profile's time for the step";
  EXPECT_NEAR(takes(Duration::from_si(600.0)), 1800.0, 1e-9);
  EXPECT_NEAR(takes(Duration::from_si(4000.0)), 4000.0, 1e-9);
}

TEST(Timeline, TwoCrewsWorkAtTwoShutOffsAtOnce) {
  Job job;
  const auto profile = company();
  TimelineQuestion q = job.question(profile);
  q.steps = {step("mark-A", StepKind::mark, {}, "A"), step("mark-B", StepKind::mark, {}, "B"),
             step("end", StepKind::report, {"mark-A", "mark-B"})};
  const Timeline one = *timeline(q);
  EXPECT_DOUBLE_EQ(one.course.lasts.expected.si(), 2.5 * hour);
  EXPECT_DOUBLE_EQ(one.course.lasts.shortest.si(), 0.8 * 2.5 * hour);
  EXPECT_DOUBLE_EQ(one.course.lasts.longest.si(), 1.5 * 2.5 * hour);
  ASSERT_EQ(one.savings.size(), 1u);
  EXPECT_DOUBLE_EQ(one.savings.front().lasts.si(), 1.0 * hour);
  q.crews = 2;
  const Timeline two = *timeline(q);
  EXPECT_DOUBLE_EQ(two.course.lasts.expected.si(), 1.5 * hour);
  EXPECT_NE(two.course.bars[0].crew, two.course.bars[1].crew);
  EXPECT_DOUBLE_EQ(two.savings.front().lasts.si(), 0.0);
}

TEST(Timeline, NobodyGoesOnBeforeAHoldPointIsAnswered) {
  Job job;
  const auto profile = company();
  TimelineQuestion q = job.question(profile);
  q.crews = 5;
  q.steps = {step("cut", StepKind::cut), step("ask", StepKind::report, {}, "", true),
             step("tracer", StepKind::tracer)};
  const Course course = *course_of(q);
  EXPECT_DOUBLE_EQ(course.bars[1].begins.expected.si(), 1.0 * hour) << "waits for all before it";
  EXPECT_DOUBLE_EQ(course.bars[2].begins.expected.si(), 1.5 * hour);
  EXPECT_TRUE(course.bars[0].critical && course.bars[1].critical && course.bars[2].critical);
}

TEST(Timeline, AHoldPointAtOneShutOffHoldsThatOneOnly) {
  Job job;
  const auto profile = company();
  TimelineQuestion q = job.question(profile);
  q.crews = 2;
  q.steps = {step("mark-A", StepKind::mark, {}, "A"), step("look-A", StepKind::look, {}, "A", true),
             step("mark-B", StepKind::mark, {}, "B")};
  const Course course = *course_of(q);
  EXPECT_DOUBLE_EQ(course.bars[1].begins.expected.si(), 1.0 * hour);
  EXPECT_DOUBLE_EQ(course.bars[2].begins.expected.si(), 0.0)
      << "the other crew is not kept waiting";
}

TEST(Timeline, ClosingsFollowOneAnotherInPlannedWorkOnly) {
  Job job;
  const auto profile = company({row("plan.time_placed", 30, "min")});
  TimelineQuestion q = job.question(profile);
  q.crews = 2;
  q.steps = {step("shut-A", StepKind::shut, {}, "A"), step("hold-A", StepKind::hold_watch, {}, "A"),
             step("shut-B", StepKind::shut, {}, "B")};
  EXPECT_DOUBLE_EQ(course_of(q)->stopped->expected.si(), 1.5 * hour);
  q.kind = Kind::emergency;
  EXPECT_DOUBLE_EQ(course_of(q)->stopped->expected.si(), 0.5 * hour);
}

TEST(Timeline, AStepWithoutATimeIsNamedAndLeavesItUndecided) {
  Job job;
  const auto us = *wire::built_in_profile("us");
  TimelineQuestion q = job.question(us);
  q.steps = {step("tracer", StepKind::tracer)};
  const Timeline made = *timeline(q);
  ASSERT_NE(find(made.findings, "timeline.unset"), nullptr);
  EXPECT_NE(find(made.findings, "timeline.unset")->says.find("tracer"), std::string::npos);
  EXPECT_FALSE(made.course.bars.front().known);
}

TEST(Timeline, WithAStepWithoutATimeBeforeTheLastClosingWhenGasIsStoppedIsNotKnown) {
  Job job;
  const auto us = *wire::built_in_profile("us");
  TimelineQuestion q = job.question(us);
  q.steps = {step("brief", StepKind::report), step("shut", StepKind::shut, {"brief"}, "A"),
             step("tracer", StepKind::tracer, {"shut"})};
  EXPECT_FALSE(course_of(q)->stopped_known);
  q.steps.erase(q.steps.begin());
  q.steps.front().after.clear();
  const Course course = *course_of(q);
  EXPECT_EQ(course.stopped_known, course.bars.front().known) << "what comes later does not count";
}

/// Meters shut, then the rest of two and a half hours, then lit in no time.
TimelineQuestion outage(Job& job, const procedure::Profile& profile, int customers, int halves) {
  TimelineQuestion q = job.question(profile);
  q.authority = "New Hampshire";
  job.out(q, customers);
  q.steps = {step("meters", StepKind::meters_shut)};
  std::string last = "meters";
  for (int i = 1; i < halves; ++i) {
    const std::string id = "work-" + std::to_string(i);
    q.steps.push_back(
        step(id, i == 1 ? StepKind::shut : StepKind::tracer, {last}, i == 1 ? "A" : ""));
    last = id;
  }
  q.steps.push_back(step("relight", StepKind::relight, {last}));
  return q;
}

TEST(Timeline, CustomerHoursReachTheThresholdOfAnAuthority) {
  Job job;
  const auto profile =
      company({row("plan.time_placed", 30, "min"),
               row("steps.time_long", 1.0, "", {"meters_shut", "shut", "tracer"})});
  const Timeline reached = *timeline(outage(job, profile, 20, 5));
  ASSERT_TRUE(reached.course.customer_hours);
  EXPECT_NEAR(reached.course.customer_hours->expected, 50.0, 0.01) << "20 customers, 2.5 h";
  const Finding* told = find(reached.findings, "notify.customer_hours");
  ASSERT_NE(told, nullptr);
  EXPECT_EQ(told->grade, Grade::warn);
  EXPECT_NE(told->action.find("New Hampshire"), std::string::npos);
  const Timeline under = *timeline(outage(job, profile, 40, 2));
  EXPECT_NEAR(under.course.customer_hours->expected, 40.0, 0.01) << "40 customers, 1 h";
  EXPECT_EQ(find(under.findings, "notify.customer_hours"), nullptr);
}

TEST(Timeline, AnAuthorityWithoutASettingIsForAPersonToDecide) {
  Job job;
  const auto profile = company({row("plan.time_placed", 30, "min")});
  TimelineQuestion q = outage(job, profile, 20, 5);
  q.authority = "Elsewhere";
  const auto made = *timeline(q);
  EXPECT_EQ(find(made.findings, "notify.customer_hours")->grade, Grade::undecided);
  q.authority.reset();
  EXPECT_EQ(find(timeline(q)->findings, "notify.authority")->grade, Grade::undecided);
  q.authority = "Massachusetts";  // second-hand: nobody has read the text
  EXPECT_EQ(find(timeline(q)->findings, "notify.customer_hours")->grade, Grade::undecided);
}

TEST(Timeline, ABypassKeepsThoseBeyondThePartOnly) {
  Job job;
  const auto profile = company({row("plan.time_placed", 30, "min")});
  TimelineQuestion q = outage(job, profile, 6, 5);
  EXPECT_EQ(timeline(q)->savings.size(), 1u) << "all of them stand on the part";
  q.out[0].meter.lost = q.out[1].meter.lost = restore::Lost::pocket;
  const auto savings = timeline(q)->savings;
  ASSERT_EQ(savings.size(), 2u);
  EXPECT_EQ(savings[1].customers, 2u);
  EXPECT_GT(*savings[1].customer_hours, 0.0);
}

TEST(Timeline, TheFirstToBeLitAreOutTheShortest) {
  Job job;
  const auto profile = company({row("plan.time_placed", 30, "min")});
  TimelineQuestion q = outage(job, profile, 4, 3);
  q.technicians = 1;
  q.rate = restore::Rate{0.5, 1.0, 2.0};
  q.out[2].meter.must_not_lose = true;
  const auto made = *timeline(q);
  ASSERT_EQ(made.outages.size(), 4u);
  EXPECT_EQ(made.outages.front().customer, 2u);
  for (std::size_t i = 0; i < 4; ++i)
    EXPECT_NEAR(made.outages[i].lasts.expected.si(), (1.5 + static_cast<double>(i) + 1.0) * hour,
                1e-6);
  EXPECT_NEAR(made.course.customer_hours->expected, 4 * 1.5 + 1 + 2 + 3 + 4, 1e-9);
}

TEST(Timeline, PlansAreRankedAgainByTheirTimesAndThatIsSaid) {
  std::vector<PlanCourse> plans(2);
  plans[0].rank = 1;
  plans[0].course.crew_s = 7200;
  plans[1].rank = 2;
  plans[1].course.crew_s = 3600;
  const Findings said = rank_by_times(plans);
  EXPECT_EQ(plans[0].real_rank, 2);
  EXPECT_EQ(plans[1].real_rank, 1);
  ASSERT_NE(find(said, "timeline.reranked"), nullptr);
  plans[1].must_not_lose = 1;
  EXPECT_TRUE(rank_by_times(plans).empty()) << "who must not lose gas comes before any time";
  plans[1].course.crew_s.reset();
  EXPECT_EQ(rank_by_times(plans).front().grade, Grade::undecided);
}

TEST(Timeline, WhatCannotBeIsRefused) {
  Job job;
  const auto profile = company();
  TimelineQuestion q = job.question(profile);
  EXPECT_EQ(timeline(q).error().code, Code::missing_value);
  q.steps = {step("tracer", StepKind::tracer)};
  q.crews = 0;
  EXPECT_EQ(timeline(q).error().code, Code::out_of_range);
}

/// Any list of steps: kinds, waits, shut-offs and hold points drawn.
std::vector<Step> some_steps() {
  std::vector<Step> steps;
  const int count = *rc::gen::inRange(1, 25);
  for (int i = 0; i < count; ++i) {
    const auto kind =
        *rc::gen::element(StepKind::cut, StepKind::mark, StepKind::report, StepKind::tracer,
                          StepKind::soap, StepKind::hold_watch, StepKind::post, StepKind::as_laid);
    Step made = step("s" + std::to_string(i), kind, {},
                     *rc::gen::element(std::string(), std::string("A"), std::string("B")),
                     *rc::gen::inRange(0, 6) == 0);
    if (i > 0 && *rc::gen::inRange(0, 2) == 0)
      made.after.push_back("s" + std::to_string(*rc::gen::inRange(0, i)));
    steps.push_back(std::move(made));
  }
  return steps;
}

RC_GTEST_PROP(TimelineProperties, OneCrewMoreNeverMakesTheJobLonger, ()) {
  Job job;
  static const auto profile = company();
  TimelineQuestion q = job.question(profile);
  q.steps = some_steps();
  q.crews = *rc::gen::inRange(1, 4);
  const Course before = *course_of(q);
  ++q.crews;
  RC_ASSERT(course_of(q)->lasts.expected <= before.lasts.expected);
}

RC_GTEST_PROP(TimelineProperties, AScheduleThatCanBe, ()) {
  Job job;
  static const auto profile = company();
  TimelineQuestion q = job.question(profile);
  q.steps = some_steps();
  q.crews = *rc::gen::inRange(1, 4);
  const Course course = *course_of(q);
  double critical = 0.0;
  for (std::size_t i = 0; i < q.steps.size(); ++i) {
    const Bar& bar = course.bars[i];
    RC_ASSERT(bar.ends.shortest <= bar.ends.expected && bar.ends.expected <= bar.ends.longest);
    if (bar.waits_for)
      RC_ASSERT(course.bars[*bar.waits_for].ends.expected == bar.begins.expected);
    else
      RC_ASSERT(bar.begins.expected == Duration());
    if (bar.critical) critical += (bar.ends.expected - bar.begins.expected).si();
    for (const std::string& id : q.steps[i].after) {
      const auto before = std::ranges::find(q.steps, id, &Step::id) - q.steps.begin();
      RC_ASSERT(course.bars[static_cast<std::size_t>(before)].ends.expected <= bar.begins.expected);
    }
    for (std::size_t k = 0; k < i; ++k) {
      const Bar& other = course.bars[k];
      if (bar.crew == 0 || bar.crew != other.crew) continue;
      RC_ASSERT(other.ends.expected <= bar.begins.expected ||
                bar.ends.expected <= other.begins.expected);
    }
    RC_ASSERT(bar.crew <= q.crews);
  }
  RC_ASSERT(std::abs(critical - course.lasts.expected.si()) < 1e-6);
}

/// Two closings: between them, and at the end, others are out.
TEST(Affected, WhoIsShortAtAnyMomentIsAffected) {
  test::Town town;
  const auto gate = town.node("gate", 0, 0), mid = town.node("mid", 300, 0),
             end = town.node("end", 600, 0);
  const auto near = town.main("near", gate, mid), far = town.main("far", mid, end);
  town.source("GATE", gate);
  town.customer("a", near, 100);
  town.customer("b", far, 100);
  network::Conditions conditions;
  conditions.gas = *gas::from_gravity(0.6);
  conditions.ground = Temperature::from_si(288.15);
  const auto model = *network::Model::prepare(town.network, conditions);
  network::Scenario open;
  open.air = Temperature::from_si(273.15);
  std::vector<network::Scenario> stages(2, open);
  stages[0].closures = {{near, Length::from_si(50)}};  // for a while everybody is cut off …
  stages[1].closures = {{far, Length::from_si(50)}};   // … in the end only b
  Unwatched watch;
  const auto list = *affected(model, open, stages, watch);
  ASSERT_EQ(list.size(), 2u);
  EXPECT_EQ(list[0].stage, 0u);
  EXPECT_EQ(list[1].stage, 0u);
  EXPECT_TRUE(list[0].out);
  const auto last = *affected(model, open, std::span(stages).last(1), watch);
  ASSERT_EQ(last.size(), 1u);
  EXPECT_EQ(town.network.customers.id[static_cast<std::size_t>(last[0].customer)], "b");
}

TEST(Along, IsTheShortestWayAlongTheMains) {
  test::Town town;
  const auto a = town.node("a", 0, 0), b = town.node("b", 300, 0), c = town.node("c", 300, 400),
             d = town.node("d", 9000, 9000);
  const auto ab = town.main("ab", a, b), bc = town.main("bc", b, c);
  town.main("ac", a, c);
  town.customer("on", ab, 250);
  town.customer("round", bc, 390);
  const auto along = network::along_mains(town.network, {ab, Length::from_si(50)});
  EXPECT_DOUBLE_EQ(along.customer[0].si(), 200.0) << "on the same main";
  EXPECT_DOUBLE_EQ(along.customer[1].si(), 50.0 + 500.0 + 10.0) << "by a, since it is nearer";
  EXPECT_TRUE(std::isnan(along.node[static_cast<std::size_t>(d)].si())) << "no way leads there";
}

}  // namespace
}  // namespace bellhole::plan
