// What the expected forces come from, and how wide their band is then.
#include <gtest/gtest.h>

#include "flatten/strength.hpp"
#include "flatten/table.hpp"
#include "squeeze/forces.hpp"
#include "tests/unit/squeeze/a_pipe.hpp"

namespace bellhole::squeeze {
namespace {

Sheet by(Forces& forces, const Question& question = a_question()) {
  return assess(question, profile(full_rows()), units::System::us, forces).value();
}

bool assumes(const Sheet& sheet, std::string_view words) {
  return std::ranges::any_of(sheet.assumed, [&](const std::string& says) {
    return says.find(words) != std::string::npos;
  });
}

TEST(Force, ComesFromTheTableWhereItReaches) {
  Forces forces;
  const Sheet sheet = by(forces);
  EXPECT_EQ(source_of(sheet), Source::table);
  EXPECT_TRUE(assumes(sheet, "of 100 places, ")) << "it says how far it is off";
  EXPECT_FALSE(assumes(sheet, "closed form"));
  EXPECT_NE(band_method_of(Source::table).find("table"), std::string::npos);
}

TEST(Force, OfATableHasABandThatHidesNeitherWay) {
  Forces forces;
  const Sheet sheet = by(forces);
  const auto& walls = *sheet.walls;
  const auto strength = flatten::strength_of("PE4710", degf(60), sheet.close->moving).value();
  const flatten::Jaws jaws{sheet.pipe.size.od, walls.nominal,    in(1.0),
                           strength.yield,     strength.modulus, psig(55)};
  for (const flatten::Point& point : sheet.flattening->curve) {
    const auto by_hand =
        flatten::band_at(jaws, {walls.minimum, walls.nominal, walls.maximum}, point.gap);
    const double tolerance = 1e-9 * by_hand.high.si();
    EXPECT_LE(point.force.low.si(), by_hand.low.si() + tolerance);
    EXPECT_GE(point.force.high.si(), by_hand.high.si() - tolerance);
    EXPECT_LE(point.force.low, point.force.expected);
    EXPECT_LE(point.force.expected, point.force.high);
    if (point.gap >= sheet.pipe.size.od) continue;
    const auto table = flatten::tabulated(flatten::table(), jaws, sheet.close->moving);
    EXPECT_NEAR(point.force.expected / flatten::closing_force(table, jaws.od, point.gap), 1.0,
                1e-9);
    EXPECT_LE(point.force.low.si(), 0.9 * point.force.expected.si()) << "at least its own band";
    EXPECT_GE(point.force.high.si(), 1.1 * point.force.expected.si());
  }
}

TEST(Force, ComesFromTheClosedFormBeyondTheTableAndSaysWhy) {
  Forces forces;
  Question thin = a_question();
  thin.pipe.ratio = 26.0;
  const Sheet sheet = by(forces, thin);
  EXPECT_EQ(source_of(sheet), Source::closed_form);
  EXPECT_TRUE(
      assumes(sheet, "closed form, not the table: outside diameter over mean wall is 24.5"));
}

TEST(Force, ARefittedYieldBelongsToTheClosedForm) {
  Forces forces;
  forces.yield_scale = 0.9;
  const Sheet sheet = by(forces);
  EXPECT_EQ(source_of(sheet), Source::closed_form);
  EXPECT_TRUE(assumes(sheet, "refitted by the closed form"));
}

TEST(Force, ThatWasComputedGoesBeforeTheTable) {
  Forces forces;
  forces.computed = {{0, Duration(), in(2.0), Force::from_si(1e5)},
                     {0, Duration(), in(1.0), Force::from_si(2e5)}};
  const Sheet sheet = by(forces);
  EXPECT_EQ(source_of(sheet), Source::full);
  EXPECT_NEAR(sheet.flattening->at_stops.expected.si(), 1.9e5, 1.0);
}

}  // namespace
}  // namespace bellhole::squeeze
