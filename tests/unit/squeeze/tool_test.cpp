// The tool's own rating binds, whatever the profile says; what its record leaves out is undecided.
#include <gtest/gtest.h>

#include "tests/unit/squeeze/a_pipe.hpp"

namespace bellhole::squeeze {
namespace {

struct Change {
  const char* what;
  void (*make)(Tool&);
  const char* rule;
  Grade grade;
};

const Change changes[] = {
    {"other_size", [](Tool& t) { t.sizes = {"IPS 4"}; }, "tool.size", Grade::halt},
    {"sizes_unknown", [](Tool& t) { t.sizes.clear(); }, "tool.size", Grade::undecided},
    {"other_ratio", [](Tool& t) { t.ratios = {13.5, 17}; }, "tool.ratio", Grade::halt},
    {"over_rating", [](Tool& t) { t.pressure_most = psig(50); }, "tool.pressure", Grade::halt},
    {"rating_unknown", [](Tool& t) { t.pressure_most.reset(); }, "tool.pressure", Grade::undecided},
    {"too_cold", [](Tool& t) { t.temperature_least = degf(65); }, "tool.temperature", Grade::halt},
    {"too_warm", [](Tool& t) { t.temperature_most = degf(50); }, "tool.temperature", Grade::halt},
    {"no_ram_area", [](Tool& t) { t.ram_area.reset(); }, "tool.ram_area", Grade::undecided},
    {"no_pump_limit", [](Tool& t) { t.pump_limit.reset(); }, "tool.pump_limit", Grade::undecided},
    {"sharp_bar", [](Tool& t) { t.bar_radius = in(0.75); }, "tool.bar_radius_round", Grade::halt},
    {"sharp_edge",
     [](Tool& t) {
       t.bar = Bar::flat;
       t.bar_radius = in(0.4);
     },
     "tool.bar_radius_flat_edge", Grade::halt},
    {"bar_unknown", [](Tool& t) { t.bar.reset(); }, "tool.bar_radius", Grade::undecided},
    {"narrow_guides", [](Tool& t) { t.guide_spacing = in(12); }, "tool.guide_spacing", Grade::halt},
    {"guides_unknown", [](Tool& t) { t.guide_spacing.reset(); }, "tool.guide_spacing",
     Grade::undecided},
    {"count_unknown", [](Tool& t) { t.travel_per_stroke.reset(); }, "tool.count", Grade::info},
};

class ToolChange : public testing::TestWithParam<Change> {};

TEST_P(ToolChange, IsFound) {
  Question question = a_question();
  GetParam().make(*question.tool);
  Sheet sheet = assessed(question);
  std::erase_if(sheet.findings,  // what the pump should read follows from the rest
                [](const Finding& finding) { return finding.rule == "squeeze.force"; });
  ASSERT_EQ(sheet.findings.size(), 1u) << told(sheet);
  EXPECT_EQ(sheet.findings[0].rule, GetParam().rule);
  EXPECT_EQ(sheet.findings[0].grade, GetParam().grade);
}

INSTANTIATE_TEST_SUITE_P(All, ToolChange, testing::ValuesIn(changes),
                         [](const auto& one) { return std::string(one.param.what); });

TEST(Tool, AScrewToolNeedsNoRam) {
  Question question = a_question();
  question.tool->drive = Drive::screw;
  question.tool->ram_area.reset();
  question.tool->pump_limit.reset();
  question.tool->travel_per_stroke.reset();
  question.tool->travel_per_turn = in(0.125);
  const Sheet sheet = assessed(question);
  EXPECT_TRUE(sheet.findings.empty()) << told(sheet);
  EXPECT_NEAR(sheet.close->per_count->si(), 0.125 / 2 * 60, 1e-9);
}

TEST(Tool, ForceIsAreaTimesPressureOrNotKnown) {
  EXPECT_NEAR(force_at_limit(a_tool())->si(), 0.0071 * 10000 * 6894.757293168361, 1e-6);
  Tool tool = a_tool();
  tool.ram_area.reset();
  EXPECT_FALSE(force_at_limit(tool));
}

TEST(Tool, StopsGivenApartStandInsteadOfItsOwn) {
  Question question = a_question();
  question.stops = std::vector<Stop>{{"loose", in(1.105), {}, {}}};
  const Sheet sheet = assessed(question);
  ASSERT_EQ(sheet.stops.size(), 1u);
  EXPECT_EQ(sheet.stops[0].stop.id, "loose");
}

}  // namespace
}  // namespace bellhole::squeeze
