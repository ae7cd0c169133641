// A plan document that people changed by hand: what was read back, what is caught, what is refused.
#include <gtest/gtest.h>

#include <nlohmann/json.hpp>

#include "tests/unit/steps/a_plan.hpp"
#include "wire/plan.hpp"
#include "wire/steps.hpp"

namespace bellhole::wire {
namespace {

using plan::test::has_rule;

const Json& reply() {
  static const Json json = [] {
    const plan::test::Asked asked(plan::Kind::planned, true);
    Json made =
        plan_reply(asked.question, asked.answer, [](const plan::Shutoff&) { return Json(); });
    made["question"] = "plan";
    made["kind"] = "planned";
    made["plan_id"] = "made by a test";
    made["engine"] = engine_version();
    return made;
  }();
  return json;
}

Json& steps(Json& document) { return document["plans"][0]["steps"]; }

Json& step(Json& document, const std::string& id) {
  for (Json& one : steps(document))
    if (one.at("id") == id) return one;
  throw std::runtime_error("no step " + id);
}

Findings checked(const Json& document) {
  const auto read = read_plan_document(document.dump(), "plan.json");
  if (!read) throw std::runtime_error(read.error().where + " " + read.error().value);
  return check_steps(read->plans.front().checked);
}

TEST(PlanDocument, AsWrittenItBreaksNothing) {
  const Findings findings = checked(reply());
  EXPECT_TRUE(findings.empty()) << findings.front().rule << ": " << findings.front().says;
}

TEST(PlanDocument, HasTheKeysOfTheContract) {
  for (const Json& one : reply().at("plans").at(0).at("steps")) {
    for (const char* key : {"id", "kind", "does", "post", "gauges", "if_not", "report_to", "undo_s",
                            "time_left_s", "point_of_no_return"})
      EXPECT_TRUE(one.contains(key)) << key;
    for (const Json& gauge : one.at("gauges")) {
      for (const char* key :
           {"at", "range_pa_gauge", "expect_pa_gauge", "low_pa_gauge", "high_pa_gauge"})
        EXPECT_TRUE(gauge.contains(key)) << key;
    }
  }
}

TEST(PlanDocument, ChangesByHandAreCaught) {
  Json document = reply();
  step(document, "hold-A")["gauges"][0]["low_pa_gauge"] = nullptr;
  EXPECT_TRUE(has_rule(checked(document), "steps.gauge_limits"));

  document = reply();
  step(document, "hold-A")["gauges"][0].erase("high_pa_gauge");
  EXPECT_TRUE(has_rule(checked(document), "steps.gauge_limits"));

  document = reply();
  step(document, "vent").erase("post");
  EXPECT_TRUE(has_rule(checked(document), "steps.incomplete"));

  document = reply();
  std::swap(step(document, "bypass-flowing"), step(document, "shut-A"));
  EXPECT_TRUE(has_rule(checked(document), "steps.bypass_first"));

  document = reply();
  std::swap(step(document, "cut"), step(document, "let-by"));
  EXPECT_TRUE(has_rule(checked(document), "steps.let_by"));

  document = reply();
  auto& list = steps(document);
  for (auto one = list.begin(); one != list.end();)
    one = (*one)["about"] == "R" ? list.erase(one) : one + 1;
  EXPECT_TRUE(has_rule(checked(document), "steps.regulator_post"));
  // Neither does striking the post from the list of posts take the station away.
  document["plans"][0]["posts"] = Json::array();
  EXPECT_TRUE(has_rule(checked(document), "steps.regulator_post"));
}

TEST(PlanDocument, WhatCannotBeReadIsRefusedByItsPlace) {
  Json document = reply();
  document["plans"][0]["steps"][3]["gauges"] = "none";
  auto read = read_plan_document(document.dump(), "plan.json");
  ASSERT_FALSE(read.has_value());
  EXPECT_EQ(read.error().where, "plans[0].steps[3].gauges");

  document = reply();
  document["plans"][0]["steps"][3]["kind"] = "squeezing";
  read = read_plan_document(document.dump(), "plan.json");
  ASSERT_FALSE(read.has_value());
  EXPECT_EQ(read.error().where, "plans[0].steps[3].kind");

  document = reply();
  document["plans"][0].erase("steps");
  EXPECT_EQ(read_plan_document(document.dump(), "plan.json").error().code, Code::missing_value);

  EXPECT_FALSE(read_plan_document("{}", "plan.json").has_value());
  EXPECT_FALSE(read_plan_document("[1", "plan.json").has_value());
}

}  // namespace
}  // namespace bellhole::wire
