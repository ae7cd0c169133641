#include "wire/profile.hpp"

#include <gtest/gtest.h>

#include <fstream>
#include <sstream>

namespace bellhole::wire {
namespace {

using procedure::Between;
using procedure::Case;
using procedure::Ranged;

std::string file(const std::string& name) {
  std::stringstream bytes;
  bytes << std::ifstream(std::string(BELLHOLE_SOURCE_DIR) + "/" + name).rdbuf();
  return bytes.str();
}

std::string with_rows(const std::string& rows, const std::string& extends = "") {
  return R"({"document": "bellhole.profile", "version": 1, "id": "acme", )" +
         (extends.empty() ? std::string() : "\"extends\": \"" + extends + "\", ") + "\"rows\": [" +
         rows + "]}";
}

Trouble refusal(const std::string& bytes) {
  const auto profile = read_profile(bytes, "acme.json");
  EXPECT_FALSE(profile) << bytes;
  return profile ? Trouble{} : profile.error();
}

Case pipe(double od) {
  Case in;
  in[Ranged::od] = Between{od, od};
  return in;
}

TEST(BuiltInProfiles, UsShipsCommonPractice) {
  const auto us = built_in_profile("us").value();
  EXPECT_EQ(us.ruling("squeeze.compression", {}).number(), 0.30);
  EXPECT_EQ(us.ruling("squeeze.wall_basis", {}).word(), "minimum");
  EXPECT_DOUBLE_EQ(us.ruling("squeeze.closing_speed", {}).number().value(), 2 * 0.0254 / 60);
  EXPECT_DOUBLE_EQ(us.ruling("squeeze.opening_speed", {}).number().value(), 0.5 * 0.0254 / 60);
  EXPECT_DOUBLE_EQ(us.ruling("squeeze.opening_step", {}).number().value(), 0.0127);
  EXPECT_EQ(us.ruling("squeeze.opening_pause", {}).number(), 60.0);
  EXPECT_EQ(us.ruling("squeeze.relaxation_wait", {}).number(), 900.0);
  EXPECT_EQ(us.ruling("squeeze.clearance_diameters", {}).number(), 3.0);
  EXPECT_DOUBLE_EQ(us.ruling("squeeze.clearance", {}).number().value(), 0.3048);
  for (const char* rule : {"squeeze.compression", "squeeze.closing_speed", "squeeze.opening_speed",
                           "squeeze.clearance"}) {
    EXPECT_EQ(us.ruling(rule, {}).row->grade, Grade::warn) << rule;
  }
}

TEST(BuiltInProfiles, MetricChangesAboveDn250) {
  const auto metric = built_in_profile("metric").value();
  EXPECT_EQ(metric.ruling("squeeze.compression", pipe(250 * 1e-3)).number(), 0.20);
  EXPECT_EQ(metric.ruling("squeeze.compression", pipe(280 * 1e-3)).number(), 0.10);
  EXPECT_EQ(metric.ruling("squeeze.wall_basis", {}).word(), "measured_else_minimum");
  EXPECT_FALSE(metric.ruling("squeeze.closing_speed", {}).number());
}

TEST(BuiltInProfiles, WhatHasNoReliableValueShipsEmpty) {
  for (const char* id : {"us", "metric"}) {
    const auto profile = built_in_profile(id).value();
    for (const char* rule :
         {"squeeze.hold", "squeeze.pressure_single", "squeeze.pressure_double", "squeeze.let_by",
          "squeeze.temperature_least", "squeeze.compression_least", "plan.cost_squeeze",
          "plan.standoff", "plan.valve_trust", "plan.pressure_least"}) {
      EXPECT_FALSE(profile.ruling(rule, pipe(0.1)).number()) << id << " " << rule;
    }
    for (const auto& row : profile.rows()) {
      if (row.value == procedure::Value()) continue;
      EXPECT_FALSE(row.source.empty()) << row.place;
      EXPECT_NE(row.evidence, Evidence::company) << row.place;
    }
  }
}

TEST(BuiltInProfiles, LawFromMemoryIsOpen) {
  const auto us = built_in_profile("us").value();
  Case in;
  in[procedure::Listed::size] = "IPS 8";
  EXPECT_TRUE(us.ruling("pipe.design_wall_least", in).unconfirmed_law());
  EXPECT_TRUE(built_in_profile("metric")->ruling("pipe.design_coefficient", {}).unconfirmed_law());
}

TEST(BuiltInProfiles, AnUnknownNameIsTrouble) {
  EXPECT_EQ(built_in_profile("uk").error().code, Code::unknown_profile);
  EXPECT_EQ(refusal(with_rows("", "uk")).code, Code::unknown_profile);
}

TEST(DemoCompany, ExtendsUsAndSetsWhatItLeavesOpen) {
  const auto demo = read_profile(file("profiles/demo-company.json"), "demo-company.json").value();
  EXPECT_EQ(demo.ruling("squeeze.compression", {}).number(), 0.30) << "from us";
  EXPECT_DOUBLE_EQ(demo.ruling("squeeze.pressure_single", pipe(0.219075)).number().value(),
                   30 * 6894.757293168361);
  Case planned;
  planned[procedure::Listed::work] = "planned";
  EXPECT_DOUBLE_EQ(demo.ruling("plan.standoff", planned).number().value(), 20 * 0.3048);
  for (const auto& row : demo.rows()) {
    if (row.layer == 1) {
      EXPECT_EQ(row.source, "invented for the demonstration") << row.place;
    }
  }
}

TEST(ProfileDocument, ReadsConditionsBySizeNameAndByDiameter) {
  const auto by_name = read_profile(with_rows(R"(
    {"rule": "squeeze.hold", "value": 1, "unit": "h", "source": "s", "evidence": "company", "when": {"size": {"above": "IPS 4", "up_to": "IPS 8"}}},
    {"rule": "squeeze.hold", "value": 2, "unit": "h", "source": "s", "evidence": "company", "when": {"size": ["IPS 6", "8in IPS"]}},
    {"rule": "squeeze.hold", "value": 3, "unit": "h", "source": "s", "evidence": "company", "when": {"size": {"above": "8.625in"}, "made": {"from": "2019-01-22"}}})"),
                                    "acme.json");
  ASSERT_TRUE(by_name) << by_name.error().fix;
  Case in = pipe(6.625 * 0.0254);
  in[procedure::Listed::size] = "IPS 6";
  EXPECT_EQ(by_name->ruling("squeeze.hold", in).number(), 7200.0);
  in = pipe(0.180);
  in[procedure::Listed::size] = "dn 180";
  EXPECT_EQ(by_name->ruling("squeeze.hold", in).number(), 3600.0);
}

TEST(ProfileDocument, TroubleNamesProfileAndRow) {
  const std::string good =
      R"({"rule": "squeeze.hold", "value": 1, "unit": "h", "source": "s", "evidence": "company"})";
  const auto second = [&](const std::string& row) { return refusal(with_rows(good + ", " + row)); };
  for (
      const char* row :
      {R"({"rule": "squeeze.hold", "value": 2, "unit": "h", "source": "s", "evidence": "company"})",
       R"({"rule": "squeeze.held", "value": 2, "unit": "h", "source": "s", "evidence": "company"})",
       R"({"rule": "squeeze.clearance", "value": 2, "unit": "h", "source": "s", "evidence": "company"})",
       R"({"rule": "squeeze.clearance", "value": 2, "unit": "in", "source": "s"})",
       R"({"rule": "squeeze.clearance", "value": 2, "unit": "in", "source": "s", "evidence": "hearsay"})",
       R"({"rule": "squeeze.clearance", "value": 2, "unit": "in", "source": "s", "evidence": "company", "grade": "bad"})",
       R"({"rule": "squeeze.clearance", "value": [2], "unit": "in", "source": "s", "evidence": "company"})",
       R"({"rule": "squeeze.clearance", "value": 2, "unit": "in", "evidence": "company"})",
       R"({"rule": "squeeze.clearance", "value": 2, "unit": "in", "source": "s", "evidence": "company", "when": {"size": ["IPS 5"]}})",
       R"({"rule": "squeeze.clearance", "value": 2, "unit": "in", "source": "s", "evidence": "company", "when": {"size": {}}})",
       R"({"rule": "squeeze.clearance", "value": 2, "unit": "in", "source": "s", "evidence": "company", "when": {"colour": ["red"]}})",
       R"({"rule": "squeeze.clearance", "value": 2, "unit": "in", "source": "s", "evidence": "company", "wen": {}})"}) {
    const Trouble t = second(row);
    EXPECT_TRUE(t.where.starts_with("profile acme, row 2 (squeeze.") ||
                t.where == "profile acme, squeeze.hold, row 2 of this rule")
        << row << ": " << t.where;
    EXPECT_FALSE(t.fix.empty());
  }
  EXPECT_EQ(refusal("{").code, Code::unreadable_document);
  EXPECT_EQ(refusal(R"({"document": "bellhole.tools", "version": 1})").code,
            Code::unreadable_document);
  EXPECT_EQ(
      refusal(R"({"document": "bellhole.profile", "version": 2, "id": "a", "rows": []})").code,
      Code::unreadable_document);
}

TEST(ProfileDocument, ACompanyMayNotLoosenLaw) {
  const Trouble t = refusal(with_rows(
      R"({"rule": "pipe.design_factor", "value": 0.4, "source": "s", "evidence": "company", "approved_by": "J. Doe"})",
      "us"));
  EXPECT_EQ(t.code, Code::not_overridable);
}

TEST(ProfileDocument, PromptsAreItsOwnOrThoseOfTheProfileThatItExtends) {
  const auto said = [](const std::string& more) {
    return read_prompts(
        R"({"document": "bellhole.profile", "version": 1, "id": "x", "rows": [])" + more + "}",
        "x.json");
  };
  EXPECT_TRUE(said("")->empty());
  const auto inherited = said(R"(, "extends": "us")");
  ASSERT_TRUE(inherited);
  EXPECT_GE(inherited->size(), 3U);
  for (const Prompt& prompt : *inherited) EXPECT_FALSE(prompt.source.empty()) << prompt.says;
  const auto own = said(
      R"(, "extends": "us", "prompts": [{"says": "Look up.", "source": "our standard 7", "evidence": "company"}])");
  ASSERT_EQ(own->size(), 1U);
  EXPECT_EQ(own->front().says, "Look up.");
  EXPECT_EQ(own->front().evidence, Evidence::company);
  EXPECT_FALSE(said(R"(, "prompts": [{"says": "Look up."}])"))
      << "a line without a source is nobody's";
}

}  // namespace
}  // namespace bellhole::wire
