// The audit finds each deviation with value, limit, time and person, and rounds none away.
#include "job/audit.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "tests/unit/job/devices.hpp"
#include "wire/profile.hpp"

namespace bellhole::job {
namespace {

constexpr double inch = 0.0254;

procedure::Profile profile() {
  return *wire::read_profile(
      R"({"document": "bellhole.profile", "version": 1, "id": "t", "title": "T", "rows": [
        {"rule": "squeeze.closing_speed", "value": 2, "unit": "in/min", "grade": "halt", "source": "company 4.2", "evidence": "company"},
        {"rule": "squeeze.opening_speed", "value": 0.5, "unit": "in/min", "grade": "halt", "source": "company 4.3", "evidence": "company"},
        {"rule": "job.clock_error", "value": 60, "unit": "s", "grade": "warn", "source": "company 9", "evidence": "company"},
        {"rule": "job.entered_late", "value": 15, "unit": "min", "grade": "warn", "source": "company 9", "evidence": "company"}]})",
      "t");
}

Audit audited(const Device& phone) {
  static const procedure::Profile by = profile();
  const Log log = phone.all().log();
  const auto answer = audit(log, fold(log), {by, units::System::us, Length::from_si(0.005 * inch)});
  EXPECT_TRUE(answer) << (answer ? "" : answer.error().where + answer.error().fix);
  return *answer;
}

const Deviation* find(const Audit& audit, std::string_view rule) {
  const auto found =
      std::ranges::find(audit.deviations, rule,
                        [](const Deviation& d) -> std::string_view { return d.finding.rule; });
  return found == audit.deviations.end() ? nullptr : &*found;
}

void bars(Device& phone, double seconds, double inches) {
  phone.wait(seconds).enter("bars",
                            nlohmann::json{{"about", "A"}, {"gap_m", inches * inch}}.dump());
}

Device job_on_ips4() {
  Device phone("phone-1", "P-7");
  phone.enter("planned", small_plan());
  phone.enter(
      "pipe_found",
      R"({"about": "A", "pipe": {"size": "IPS 4", "dr": 11.5, "material": "PE2708", "stop": ["S-4-11.5@0.547in"], "inserted": "no", "cased": "no", "layered": "no", "lined": "no"}})");
  return phone;
}

TEST(Audit, ClosedIn82SecondsAndOpenedIn450AreBothListed) {
  Device phone = job_on_ips4();
  bars(phone, 0, 4.5);
  bars(phone, 82, 0.547);
  bars(phone, 3600, 0.547);
  bars(phone, 450, 4.5);
  const Audit found = audited(phone);
  const Deviation* closing = find(found, "squeeze.closing_speed");
  const Deviation* opening = find(found, "squeeze.opening_speed");
  ASSERT_NE(closing, nullptr);
  ASSERT_NE(opening, nullptr);
  EXPECT_NE(closing->finding.says.find("took 82.0 s"), std::string::npos) << closing->finding.says;
  EXPECT_NE(closing->finding.says.find("118.6 s"), std::string::npos) << closing->finding.says;
  EXPECT_NE(opening->finding.says.find("0.53 in/min"), std::string::npos) << opening->finding.says;
  EXPECT_NEAR(*opening->finding.value_si / inch * 60.0, 3.953 / 450 * 60, 1e-9);
  EXPECT_NEAR(*opening->finding.value_si / inch * 60.0, 0.527, 5e-4);
  EXPECT_NEAR(*opening->finding.limit_si / inch * 60.0, 0.5, 1e-12);
  EXPECT_EQ(closing->by, "P-7");
  EXPECT_EQ(closing->finding.source, "company 4.2");
  EXPECT_EQ(closing->at->at.ms, 1'764'000'082'000);
  EXPECT_EQ(opening->at->at.ms, 1'764'004'132'000);
}

TEST(Audit, APaceKeptByAHairIsNone) {
  Device phone = job_on_ips4();
  bars(phone, 0, 4.5);
  bars(phone, 118.591, 0.547);
  EXPECT_EQ(find(audited(phone), "squeeze.closing_speed"), nullptr);
}

TEST(Audit, AWallClockThatJumpsDoesNotHideAPace) {
  Device phone = job_on_ips4();
  bars(phone, 0, 4.5);
  phone.set_wall(600);
  bars(phone, 82, 0.547);
  const Audit found = audited(phone);
  EXPECT_NE(find(found, "squeeze.closing_speed"), nullptr);
  EXPECT_NE(find(found, "job.clock_error"), nullptr);
}

TEST(Audit, ASqueezeWithoutPointsOrWithoutPipeIsUndecided) {
  Device phone("phone-1");
  phone.enter("act", R"({"did": "shut", "about": "Z"})");
  phone.enter("bars", R"({"about": "Z", "gap": "1in"})");
  EXPECT_EQ(find(audited(phone), "job.pace_not_judged")->finding.grade, Grade::undecided);
  Device mapped("phone-1");
  mapped.enter("planned", small_plan());
  mapped.enter("act", R"({"did": "shut", "about": "A"})");
  EXPECT_NE(find(audited(mapped), "job.pace_not_judged")->finding.says.find("not measured"),
            std::string::npos);
}

TEST(Audit, PromptsAndStepsThatNobodyAnsweredStandThere) {
  Device phone("phone-1");
  phone.enter("planned", small_plan());
  const Audit found = audited(phone);
  EXPECT_EQ(find(found, "job.prompt")->finding.says, "Extinguisher manned: not answered");
  EXPECT_EQ(std::ranges::count(found.deviations, "job.step_unanswered",
                               [](const Deviation& d) { return d.finding.rule; }),
            10);
  phone.enter("prompt", R"({"says": "Extinguisher manned", "answer": "yes"})");
  EXPECT_EQ(find(audited(phone), "job.prompt"), nullptr);
}

TEST(Audit, ExpiredAndUnknownPeopleAndInstruments) {
  Device phone("phone-1", "P-7");
  phone.enter("qualified", R"({"person": "P-7", "task": "squeeze-off", "expires": "2025-11-23"})");
  phone.enter("joined", R"({"person": "P-7", "role": "crew lead"})");
  phone.enter("instrument", R"({"id": "G-1", "scale": "gauge", "due": "2025-11-23"})");
  phone.enter("instrument", R"({"id": "G-2", "scale": "gauge"})");
  phone.enter("act", R"({"did": "shut", "about": "V"})");
  phone.enter("reading", R"({"point": "A-part", "instrument": "G-1", "pressure": "10psig"})");
  phone.enter("reading",
              R"({"point": "A-part", "instrument": "G-2", "pressure_absolute": "24.7psia"})");
  phone.enter("reading", R"({"point": "A-part", "instrument": "G-9", "pressure": "10psig"})");
  const Audit found = audited(phone);
  const Deviation* expired = find(found, "job.qualification_expired");
  ASSERT_NE(expired, nullptr);
  EXPECT_EQ(*expired->finding.value_si - *expired->finding.limit_si, 1.0)
      << "2025-11-24 is a day late";
  EXPECT_NE(find(found, "job.calibration_due"), nullptr);
  EXPECT_NE(find(found, "job.scale"), nullptr);
  EXPECT_NE(find(found, "job.calibration"), nullptr);
  EXPECT_NE(find(found, "job.instrument"), nullptr);
  EXPECT_EQ(find(found, "job.role"), nullptr);
}

TEST(Audit, TheLastDayIsStillADay) {
  Device phone("phone-1", "P-7");
  phone.enter("qualified", R"({"person": "P-7", "task": "squeeze-off", "expires": "2025-11-24"})");
  phone.enter("act", R"({"did": "shut", "about": "V"})");
  EXPECT_EQ(find(audited(phone), "job.qualification_expired"), nullptr);
}

TEST(Audit, AReadingBeyondTheLimitOfItsStep) {
  Device phone("phone-1");
  phone.enter("planned", small_plan());
  phone.enter("reading", R"({"point": "A-part", "step": "let-by", "pressure_pa_gauge": 2000})");
  EXPECT_EQ(find(audited(phone), "job.reading"), nullptr);
  phone.enter("reading", R"({"point": "A-part", "step": "let-by", "pressure_pa_gauge": 2000.5})");
  const Audit found = audited(phone);
  ASSERT_NE(find(found, "job.reading"), nullptr);
  EXPECT_EQ(*find(found, "job.reading")->finding.limit_si, 2000.0);
}

TEST(Audit, WhatWasTypedInTheEveningIsLate) {
  Device phone("phone-1", "P-7");
  phone.enter("note", R"({"says": "now"})");
  phone.enter("note", R"({"says": "then"})",
              R"({"source": "typed", "happened_at": "2025-11-24T10:00:00Z"})");
  const Audit found = audited(phone);
  ASSERT_NE(find(found, "job.entered_late"), nullptr);
  EXPECT_EQ(*find(found, "job.entered_late")->finding.value_si, 1'764'000'000 - 1763978400.0);
}

TEST(Audit, MapSaidFoundAcceptedBy) {
  Device phone("phone-1", "P-7");
  phone.enter("planned", small_plan());
  phone.wait(60).enter(
      "pipe_found", R"({"about": "A", "pipe": {"size": "IPS 4", "dr": 11, "material": "PE2708"}})");
  EXPECT_NE(find(audited(phone), "job.plan_differs"), nullptr);
  phone.wait(60).enter("plan_accepted",
                       R"({"plan_id": "plan-1", "result": ")" + hash_of('a') + "\"}");
  const Audit found = audited(phone);
  EXPECT_EQ(find(found, "job.plan_differs"), nullptr);
  EXPECT_EQ(find(found, "job.found_other")->finding.says,
            "map said IPS 4 DR 11.5 PE2708, found IPS 4 DR 11 PE2708 at 16:01:00 (ratio), accepted "
            "by P-7 at 16:02:00");
}

TEST(Audit, AMeterThatWasNeverShutBeforeGasWentBack) {
  Device phone("phone-1", "P-7");
  phone.enter("planned", small_plan());
  phone.enter("meter", R"({"meter": "c-1", "did": "off"})");
  phone.enter("act", R"({"did": "put_back"})");
  const Audit found = audited(phone);
  EXPECT_EQ(find(found, "job.meter_not_shut")->finding.about, "meter c-2");
  EXPECT_EQ(find(found, "job.meter_off")->finding.about, "meter c-1");
}

TEST(Audit, AnEditedEventIsNamedInTheAudit) {
  Device phone("phone-1", "P-7");
  phone.enter("note", R"({"says": "as it was"})");
  phone.enter("note", R"({"says": "after"})");
  Lines lines = phone.all();
  lines.lines[0].replace(lines.lines[0].find("as it was"), 9, "otherwise");
  static const procedure::Profile by = profile();
  const Log log = lines.log();
  const auto found = audit(log, fold(log), {by, units::System::us, Length()});
  ASSERT_NE(find(*found, "job.event_edited"), nullptr);
  EXPECT_NE(find(*found, "job.event_edited")->finding.says.find("event 1 of device phone-1"),
            std::string::npos);
}

}  // namespace
}  // namespace bellhole::job
