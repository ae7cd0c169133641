// The design pressure as the profile's rows make it: conditions of newer pipe, law from memory, the
// ISO form.
#include <gtest/gtest.h>

#include "tests/unit/squeeze/a_pipe.hpp"

namespace bellhole::squeeze {
namespace {

double rated_psig(const Sheet& sheet) { return sheet.rated.pressure->si() / 6894.757293168361; }

/// The rows of 49 CFR 192.121 for newer pipe, its least wall confirmed or not.
procedure::Profile with_newer_pipe(bool confirmed, double wall_in = 0.411) {
  auto rows = full_rows();
  const auto since = static_cast<double>(procedure::days_from_civil(2019, 1, 22));
  auto factor = row("pipe.design_factor", 0.40);
  factor.when[procedure::Ranged::made].from = since;
  auto cap = row("pipe.design_cap", 125.0, "psig");
  cap.when[procedure::Ranged::made].from = since;
  auto wall = row("pipe.design_wall_least", wall_in, "in");
  wall.evidence = Evidence::from_memory;
  if (confirmed) wall.confirmed = procedure::Confirmed{"192.121(c)(2)(iv)", "2026-01-05", "J. Doe"};
  rows.insert(rows.end(), {factor, cap, wall});
  return profile(std::move(rows));
}

Question made(const char* year, double pressure = 55) {
  Question question = a_question();
  question.pipe.made = procedure::parse_date(year, "made").value();
  question.pipe.pressure = psig(pressure);
  return question;
}

TEST(Rating, IsTheFormulaUnderItsCap) {
  EXPECT_NEAR(rated_psig(assessed(a_question())), 100.0, 1e-9) << "102.4 psig, capped";
  Question question = a_question();
  question.pipe.ratio = 13.5;
  EXPECT_NEAR(rated_psig(assessed(question)), 2 * 1600 * 0.32 / 12.5, 1e-9);
}

TEST(Rating, NewerPipeHasItsHigherFactorOnceItsWallIsConfirmed) {
  EXPECT_NEAR(rated_psig(assessed(made("2020"), with_newer_pipe(true))), 125.0, 1e-9)
      << "128 psig, capped at 125";
  EXPECT_NEAR(rated_psig(assessed(made("2018"), with_newer_pipe(true))), 100.0, 1e-9);
  EXPECT_NEAR(rated_psig(assessed(made("2019"), with_newer_pipe(true))), 100.0, 1e-9)
      << "made that year, perhaps before the date";
  EXPECT_NEAR(rated_psig(assessed(made("2020"), with_newer_pipe(true, 0.800))), 100.0, 1e-9)
      << "its wall is thinner than asked";
  EXPECT_NEAR(rated_psig(assessed(made("2020"), with_newer_pipe(false))), 100.0, 1e-9)
      << "from memory, not confirmed";
}

TEST(Rating, AnOpenFactorIsSaidOnlyWhereItMatters) {
  EXPECT_TRUE(of(assessed(made("2020", 55), with_newer_pipe(false)), "pipe.design_factor").empty());
  const Findings open =
      of(assessed(made("2020", 110), with_newer_pipe(false)), "pipe.design_factor");
  ASSERT_EQ(open.size(), 1u);
  EXPECT_EQ(open[0].grade, Grade::undecided);
}

TEST(Rating, WarmPipeIsInterpolatedAndSaysWhatThatRestsOn) {
  Question question = a_question();
  question.pipe.temperature = degf(100);
  const Sheet sheet = assessed(question);
  EXPECT_NEAR(rated_psig(sheet), 2 * 1341 * 0.32 / 10, 0.1);
  EXPECT_EQ(of(sheet, "pipe.strength").at(0).grade, Grade::undecided)
      << "the table's 140 degF value is from memory";
  question.pipe.hdb_140 = Stress::from_si(800 * 6894.757293168361);
  const Sheet listed = assessed(question);
  EXPECT_TRUE(of(listed, "pipe.strength").empty());
  EXPECT_LT(rated_psig(listed), rated_psig(sheet));
}

TEST(Rating, AThinnerMeasuredWallLowersIt) {
  Question question = a_question();
  question.pipe.readings = {in(0.507)};
  EXPECT_NEAR(rated_psig(assessed(question)), 2 * 1600 * 0.32 / (8.625 / 0.507 - 1), 1e-6);
}

procedure::Profile iso_profile(bool confirmed) {
  auto rows = full_rows();
  std::erase_if(rows, [](const auto& draft) {
    return draft.rule.starts_with("pipe.design_f") || draft.rule == "pipe.design_cap";
  });
  auto coefficient = row("pipe.design_coefficient", 2.0);
  coefficient.evidence = Evidence::from_memory;
  if (confirmed) coefficient.confirmed = procedure::Confirmed{"EN 1555-1", "2026-01-05", "J. Doe"};
  rows.insert(rows.end(),
              {row("pipe.design_form", std::string("iso")), coefficient,
               row("pipe.design_derating", 1.0), row("pipe.design_cap", 10.0, "bar(g)")});
  return profile(std::move(rows));
}

TEST(Rating, IsoFormUsesTheStrengthOverTheCoefficient) {
  Question question = a_question();
  question.pipe.size = pipe::read_size("dn 180", "").value();
  question.pipe.ratio = 17.0;
  question.pipe.material = *pipe::read_material("PE100", "");
  const Sheet sheet = assessed(question, iso_profile(true));
  EXPECT_NEAR(sheet.rated.pressure->si(), 6.25e5, 1e-6);
  EXPECT_TRUE(of(sheet, "pipe.design_coefficient").empty());
  EXPECT_EQ(of(assessed(question, iso_profile(false)), "pipe.design_coefficient").at(0).grade,
            Grade::undecided);
}

TEST(Rating, MaopHoldsWhereNothingIsRated) {
  Question question = a_question();
  question.pipe.material = nullptr;
  question.pipe.maop = psig(50);
  EXPECT_EQ(of(assessed(question), "pipe.maop").at(0).grade, Grade::halt);
}

TEST(Rating, AMaterialWithoutStrengthIsNotRated) {
  Question question = a_question();
  question.pipe.material = *pipe::read_material("PE100", "");
  const Sheet sheet = assessed(question);
  EXPECT_FALSE(sheet.rated.pressure);
  EXPECT_EQ(of(sheet, "pipe.design_pressure").at(0).grade, Grade::undecided);
}

}  // namespace
}  // namespace bellhole::squeeze
