#include "procedure/profile.hpp"

#include <gtest/gtest.h>

namespace bellhole::procedure {
namespace {

RowDraft row(std::string rule, Value value, std::string unit = "") {
  RowDraft draft;
  draft.rule = std::move(rule);
  draft.value = std::move(value);
  draft.unit = std::move(unit);
  draft.grade = Grade::warn;
  draft.source = "ASTM F1041";
  draft.evidence = Evidence::seen;
  return draft;
}

RowDraft for_od(RowDraft draft, Range range) {
  draft.when[Ranged::od] = range;
  return draft;
}

Profile profile(std::vector<RowDraft> rows, const Profile* base = nullptr) {
  auto made = compose({"p", "", std::move(rows)}, base);
  if (!made) {
    ADD_FAILURE() << made.error().where << ": " << made.error().fix;
    return compose({"p", "", {}}, nullptr).value();
  }
  return *made;
}

Trouble refusal(std::vector<RowDraft> rows, const Profile* base = nullptr) {
  const auto made = compose({"acme", "", std::move(rows)}, base);
  EXPECT_FALSE(made);
  return made ? Trouble{} : made.error();
}

Case pipe(double od) {
  Case in;
  in[Ranged::od] = Between{od, od};
  in[Listed::material] = "PE100";
  return in;
}

TEST(Profile, ReadsValuesInTheirUnits) {
  const Profile p = profile({row("squeeze.closing_speed", 2.0, "in/min"),
                             row("squeeze.wall_basis", std::string("minimum")),
                             row("squeeze.made_from", std::string("1975"))});
  EXPECT_DOUBLE_EQ(p.ruling("squeeze.closing_speed", {}).number().value(), 2 * 0.0254 / 60);
  EXPECT_EQ(p.ruling("squeeze.wall_basis", {}).word(), "minimum");
  EXPECT_EQ(p.ruling("squeeze.made_from", {}).number(), 1826.0);
}

TEST(Profile, NoRowIsNoNumber) {
  const Profile p = profile({row("squeeze.hold", {})});
  EXPECT_FALSE(p.ruling("squeeze.hold", {}).number());
  EXPECT_FALSE(p.ruling("squeeze.compression", {}).number());
}

TEST(Profile, TheMostSpecificRowGoverns) {
  auto cold = row("squeeze.compression", 5.0, "%");
  cold.when[Ranged::od].above = 0.250;
  cold.when[Listed::material] = {"PE100"};
  const Profile p = profile({row("squeeze.compression", 30.0, "%"),
                             for_od(row("squeeze.compression", 10.0, "%"), {.above = 0.250}), cold,
                             for_od(row("squeeze.compression", 8.0, "%"), {.above = 0.300})});
  EXPECT_EQ(p.ruling("squeeze.compression", pipe(0.125)).number(), 0.30);
  EXPECT_EQ(p.ruling("squeeze.compression", pipe(0.280)).number(), 0.05)
      << "two conditions before one";
  Case pe80 = pipe(0.280);
  pe80[Listed::material] = "PE80";
  EXPECT_EQ(p.ruling("squeeze.compression", pe80).number(), 0.10);
  pe80[Ranged::od] = Between{0.315, 0.315};
  EXPECT_EQ(p.ruling("squeeze.compression", pe80).number(), 0.08) << "the narrower of two ranges";
}

TEST(Profile, AnUnknownConditionUsesTheTightestAndSaysWhatIsMissing) {
  auto cold = row("squeeze.compression", 20.0, "%");
  cold.when[Ranged::temperature].below = 283.15;
  auto warm = row("squeeze.compression", 35.0, "%");
  warm.when[Ranged::temperature].from = 283.15;
  const Profile p = profile({row("squeeze.compression", 30.0, "%"), cold, warm});
  const Ruling ruling = p.ruling("squeeze.compression", pipe(0.1));
  EXPECT_EQ(ruling.number(), 0.20);
  EXPECT_EQ(ruling.doubtful.size(), 2u);
  EXPECT_EQ(ruling.missing, std::vector<std::string_view>{"temperature"});
}

TEST(Profile, TwoEquallySpecificRowsAreRefused) {
  const Trouble t =
      refusal({row("squeeze.compression", 30.0, "%"), row("squeeze.compression", 20.0, "%")});
  EXPECT_EQ(t.code, Code::ambiguous_rows);
  EXPECT_EQ(t.where, "profile acme, squeeze.compression, row 2 of this rule");
  EXPECT_NE(t.fix.find("profile acme, squeeze.compression, row 1"), std::string::npos);
  auto by_material = row("squeeze.compression", 20.0, "%");
  by_material.when[Listed::material] = {"PE100"};
  EXPECT_EQ(
      refusal({for_od(row("squeeze.compression", 10.0, "%"), {.above = 0.25}), by_material}).code,
      Code::ambiguous_rows);
  profile({for_od(row("squeeze.compression", 10.0, "%"), {.above = 0.25}),
           for_od(row("squeeze.compression", 20.0, "%"), {.up_to = 0.25})});
}

TEST(Profile, ARowIsCalledByItsRuleSoThatAnotherRowChangesNoName) {
  const auto hold = row("squeeze.hold", 5.0, "min");
  auto cold = row("squeeze.compression", 20.0, "%");
  cold.when[Ranged::temperature].below = 283.15;
  const auto any = row("squeeze.compression", 30.0, "%");
  const Profile one = profile({hold});
  const Profile more = profile({cold, any, hold});
  EXPECT_EQ(one.ruling("squeeze.hold", {}).row->place, "profile p, squeeze.hold");
  EXPECT_EQ(more.ruling("squeeze.hold", {}).row->place, "profile p, squeeze.hold");
  EXPECT_EQ(more.rows()[1].place, "profile p, squeeze.compression, row 2 of this rule");
}

TEST(Profile, UnknownRulesAndWrongDimensionsAreRefused) {
  const Trouble unknown = refusal({row("squeeze.compresion", 30.0, "%")});
  EXPECT_EQ(unknown.code, Code::unknown_rule);
  EXPECT_NE(unknown.fix.find("squeeze.compression"), std::string::npos);
  EXPECT_EQ(refusal({row("squeeze.closing_speed", 2.0, "in")}).code, Code::wrong_dimension);
  EXPECT_EQ(refusal({row("squeeze.closing_speed", std::string("slow"))}).code,
            Code::wrong_dimension);
  EXPECT_EQ(refusal({row("squeeze.closing_speed", true)}).code, Code::wrong_dimension);
  EXPECT_EQ(refusal({row("squeeze.clearance_diameters", 3.0, "in")}).code, Code::wrong_dimension);
  EXPECT_EQ(refusal({row("squeeze.wall_basis", std::string("thick"))}).code,
            Code::unreadable_value);
  EXPECT_EQ(refusal({row("squeeze.compression", 130.0, "%")}).code, Code::out_of_range);
  EXPECT_EQ(refusal({row("squeeze.closing_speed", 0.0, "in/min")}).code, Code::out_of_range);
  auto bare = row("squeeze.compression", 30.0, "%");
  bare.source.clear();
  EXPECT_EQ(refusal({bare}).code, Code::missing_value);
}

TEST(Profile, ACompanyTightensFreelyAndLoosensWithAName) {
  const Profile us =
      profile({row("squeeze.compression", 30.0, "%"), row("squeeze.clearance", 12.0, "in")});
  const Profile tight =
      profile({row("squeeze.compression", 25.0, "%"), row("squeeze.clearance", 18.0, "in")}, &us);
  EXPECT_EQ(tight.ruling("squeeze.compression", {}).number(), 0.25);
  EXPECT_FALSE(tight.ruling("squeeze.compression", {}).row->loosens);

  auto loose = row("squeeze.clearance", 10.0, "in");
  EXPECT_EQ(refusal({loose}, &us).code, Code::missing_value);
  loose.approved_by = "J. Doe, chief engineer";
  const Profile named = profile({loose}, &us);
  EXPECT_TRUE(named.ruling("squeeze.clearance", {}).row->loosens);
  EXPECT_EQ(named.ruling("squeeze.compression", {}).number(), 0.30)
      << "the rest stays as in the base";

  auto quiet = row("squeeze.compression", 30.0, "%");
  quiet.grade = Grade::info;
  EXPECT_EQ(refusal({quiet}, &us).code, Code::missing_value) << "a milder grade loosens too";
  EXPECT_EQ(refusal({row("squeeze.compression", {})}, &us).code, Code::contradiction);
}

TEST(Profile, NobodyLoosensLaw) {
  const Profile us =
      profile({row("pipe.design_factor", 0.32), row("pipe.design_form", std::string("us"))});
  auto loose = row("pipe.design_factor", 0.4);
  loose.approved_by = "J. Doe";
  EXPECT_EQ(refusal({loose}, &us).code, Code::not_overridable);
  EXPECT_EQ(refusal({row("pipe.design_form", std::string("iso"))}, &us).code,
            Code::not_overridable);
  EXPECT_EQ(refusal({row("pipe.design_factor", {})}, &us).code, Code::not_overridable);
  EXPECT_EQ(
      profile({row("pipe.design_factor", 0.25)}, &us).ruling("pipe.design_factor", {}).number(),
      0.25);
}

TEST(Profile, ARowIsHeldAgainstTheBaseRowThatGovernsThere) {
  auto newer = row("pipe.design_cap", 125.0, "psig");
  newer.when[Ranged::made].from = 1000;
  const Profile us = profile({row("pipe.design_cap", 100.0, "psig"), newer});
  auto inside = row("pipe.design_cap", 110.0, "psig");
  inside.when[Ranged::made].from = 2000;
  profile({inside}, &us);
  inside.when[Ranged::made].from = 500;
  EXPECT_EQ(refusal({inside}, &us).code, Code::not_overridable);
}

TEST(Profile, LawFromMemoryWaitsForAPerson) {
  auto memory = row("pipe.design_coefficient", 2.0);
  memory.evidence = Evidence::from_memory;
  EXPECT_TRUE(profile({memory}).ruling("pipe.design_coefficient", {}).unconfirmed_law());
  memory.confirmed = Confirmed{"EN 1555-1, 3.1.16", "2026-01-05", "J. Doe"};
  EXPECT_FALSE(profile({memory}).ruling("pipe.design_coefficient", {}).unconfirmed_law());
  memory.confirmed->by.clear();
  EXPECT_EQ(refusal({memory}).code, Code::missing_value);
}

}  // namespace
}  // namespace bellhole::procedure
