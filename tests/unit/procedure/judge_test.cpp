#include "procedure/judge.hpp"

#include <gtest/gtest.h>

namespace bellhole::procedure {
namespace {

Profile one(RowDraft draft) {
  if (draft.source.empty()) draft.source = "company standard 7";
  return compose({"p", "", {std::move(draft)}}, nullptr).value();
}

Findings cold(const Profile& profile, std::optional<double> kelvin) {
  return judge(
      profile.ruling("squeeze.temperature_least", {}),
      {"pipe temperature", kelvin, "--pipe-temperature", "wait or ask the engineer", "measure it"},
      units::System::us);
}

RowDraft floor_of(double degf) {
  RowDraft draft;
  draft.rule = "squeeze.temperature_least";
  draft.value = degf;
  draft.unit = "degF";
  draft.grade = Grade::halt;
  return draft;
}

TEST(Judge, AKeptLimitSaysNothing) { EXPECT_TRUE(cold(one(floor_of(50)), 290.0).empty()); }

TEST(Judge, ABrokenLimitCarriesTheRowsGradeAndNumbers) {
  const Findings f = cold(one(floor_of(50)), 273.15);
  ASSERT_EQ(f.size(), 1u);
  EXPECT_EQ(f[0].grade, Grade::halt);
  EXPECT_EQ(f[0].rule, "squeeze.temperature_least");
  EXPECT_EQ(f[0].says, "pipe temperature is 32.0 degF; it must be at least 50.0 degF");
  EXPECT_DOUBLE_EQ(f[0].value_si.value(), 273.15);
  EXPECT_NEAR(f[0].limit_si.value(), 283.15, 1e-9);
  EXPECT_EQ(f[0].unit_si, "K");
  EXPECT_EQ(f[0].source, "company standard 7");
  EXPECT_EQ(f[0].action, "wait or ask the engineer");
}

TEST(Judge, AnUnknownValueNeverPasses) {
  const Findings f = cold(one(floor_of(50)), std::nullopt);
  ASSERT_EQ(f.size(), 1u);
  EXPECT_EQ(f[0].grade, Grade::undecided);
  EXPECT_EQ(f[0].action, "measure it");
}

TEST(Judge, AnUnsetLimitIsUndecidedAndShowsWhatIsPublished) {
  RowDraft empty;
  empty.rule = "squeeze.temperature_least";
  empty.reference = Reference{50.0, "ASTM F1734", Evidence::seen};
  empty.reference_unit = "degF";
  const Findings f = cold(one(empty), 273.15);
  ASSERT_EQ(f.size(), 1u);
  EXPECT_EQ(f[0].grade, Grade::undecided);
  EXPECT_TRUE(f[0].says.starts_with("no limit set for coldest pipe: decide"));
  EXPECT_NE(f[0].says.find("50.0 degF (ASTM F1734), which 32.0 degF does not keep"),
            std::string::npos);
  EXPECT_FALSE(f[0].limit_si);
  EXPECT_TRUE(cold(one(floor_of(50)), 290.0).empty());
  const Profile none = compose({"none", "", {}}, nullptr).value();
  EXPECT_EQ(cold(none, 290.0).at(0).grade, Grade::undecided);
}

TEST(Judge, UnconfirmedLawStandsBesideTheVerdict) {
  RowDraft law;
  law.rule = "pipe.design_temperature_most";
  law.value = 140.0;
  law.unit = "degF";
  law.evidence = Evidence::from_memory;
  law.source = "49 CFR 192.121";
  const auto held = [](const Profile& p) {
    return judge(p.ruling("pipe.design_temperature_most", {}),
                 {"pipe temperature", 290.0, "", "", ""}, units::System::us);
  };
  const Findings f = held(one(law));
  ASSERT_EQ(f.size(), 1u);
  EXPECT_EQ(f[0].grade, Grade::undecided);
  law.confirmed = Confirmed{"192.121(a)", "2026-01-05", "J. Doe"};
  EXPECT_TRUE(held(one(law)).empty());
}

TEST(Judge, ALoosenedLimitNamesWhoAnswersForIt) {
  const Profile base = one(floor_of(50));
  RowDraft low = floor_of(40);
  low.source = "company standard 7";
  low.approved_by = "J. Doe";
  const Profile company = compose({"c", "", {low}}, &base).value();
  const Findings f = cold(company, 280.0);
  ASSERT_EQ(f.size(), 1u);
  EXPECT_EQ(f[0].grade, Grade::info);
  EXPECT_NE(f[0].says.find("J. Doe"), std::string::npos);
}

}  // namespace
}  // namespace bellhole::procedure
