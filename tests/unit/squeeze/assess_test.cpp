// One squeeze by a profile that sets everything, and what each missing or wrong thing does to it.
#include <gtest/gtest.h>

#include "tests/unit/squeeze/a_pipe.hpp"

namespace bellhole::squeeze {
namespace {

TEST(Assess, NothingIsFoundAgainstAnOrdinarySqueeze) {
  const Sheet sheet = assessed(a_question());
  EXPECT_EQ(verdict_of(sheet.findings), Verdict::nothing_found) << told(sheet);
  EXPECT_NEAR(sheet.gap_wanted->si(), in(1.0976).si(), 1e-12);
  EXPECT_EQ(sheet.stops[*sheet.chosen].stop.id, "S-8-11");
  EXPECT_EQ(*sheet.gap, in(1.100));
  EXPECT_NEAR(sheet.close->travel.si(), in(7.525).si(), 1e-12)
      << "to the stop that is used, not to the gap wanted";
  EXPECT_EQ(sheet.arrangement, Arrangement::one);
  EXPECT_NEAR(sheet.clearance->si(), in(25.875).si(), 1e-12);
  EXPECT_EQ(*sheet.wait_at_limit, Duration::from_si(900));
  EXPECT_EQ(sheet.places->windows.size(), 1u);
}

struct Change {
  const char* what;
  void (*make)(Question&);
  const char* rule;
  Grade grade;
};

const Change changes[] = {
    {"inserted", [](Question& q) { q.pipe.lining.inserted = pipe::Told::yes; }, "pipe.inserted",
     Grade::halt},
    {"cased", [](Question& q) { q.pipe.lining.cased = pipe::Told::yes; }, "pipe.cased",
     Grade::halt},
    {"layered", [](Question& q) { q.pipe.lining.layered = pipe::Told::yes; }, "pipe.layered",
     Grade::halt},
    {"lined", [](Question& q) { q.pipe.lining.lined = pipe::Told::yes; }, "pipe.lined",
     Grade::halt},
    {"lining_unknown", [](Question& q) { q.pipe.lining.cased = pipe::Told::unknown; },
     "pipe.lining", Grade::undecided},
    {"material_unknown", [](Question& q) { q.pipe.material = nullptr; }, "pipe.material",
     Grade::undecided},
    {"poor_history", [](Question& q) { q.pipe.material = *pipe::read_material("PE3306", ""); },
     "pipe.material", Grade::undecided},
    {"too_old", [](Question& q) { q.pipe.made = procedure::parse_date("1982", "").value(); },
     "squeeze.made_from", Grade::halt},
    {"age_unknown", [](Question& q) { q.pipe.made.reset(); }, "squeeze.made_from",
     Grade::undecided},
    {"cold", [](Question& q) { q.pipe.temperature = degf(20); }, "squeeze.temperature_least",
     Grade::halt},
    {"warm", [](Question& q) { q.pipe.temperature = degf(120); }, "squeeze.temperature_most",
     Grade::halt},
    {"temperature_unknown", [](Question& q) { q.pipe.temperature.reset(); },
     "squeeze.temperature_least", Grade::undecided},
    {"large", [](Question& q) { q.pipe.size = pipe::read_size("IPS 16", "").value(); },
     "squeeze.od_most", Grade::halt},
    {"over_single", [](Question& q) { q.pipe.pressure = psig(61); }, "squeeze.pressure_single",
     Grade::halt},
    {"over_double",
     [](Question& q) {
       q.two = true;
       q.pipe.pressure = psig(91);
     },
     "squeeze.pressure_double", Grade::halt},
    {"over_design", [](Question& q) { q.pipe.pressure = psig(101); }, "pipe.design_pressure",
     Grade::halt},
    {"over_maop", [](Question& q) { q.pipe.maop = psig(50); }, "pipe.maop", Grade::halt},
    {"pressure_unknown", [](Question& q) { q.pipe.pressure.reset(); }, "pipe.pressure",
     Grade::undecided},
    {"no_wall", [](Question& q) { q.pipe.ratio.reset(); }, "pipe.wall", Grade::halt},
    {"wall_is_another", [](Question& q) { q.pipe.readings = {in(0.507)}; },
     "pipe.wall_against_ratio", Grade::undecided},
    {"ratio_unknown",
     [](Question& q) {
       q.pipe.readings = {in(0.784)};
       q.pipe.ratio.reset();
     },
     "pipe.ratio", Grade::undecided},
    {"no_stop_fits", [](Question& q) { q.pipe.ratio = 17.0; }, "squeeze.stop", Grade::halt},
    {"no_stops", [](Question& q) { q.tool->stops.clear(); }, "squeeze.stop", Grade::undecided},
    {"empty_stops", [](Question& q) { q.stops.emplace(); }, "squeeze.stop", Grade::halt},
    {"no_tool", [](Question& q) { q.tool.reset(); }, "tool.record", Grade::undecided},
    {"not_exposed", [](Question& q) { q.exposed.reset(); }, "squeeze.place", Grade::undecided},
    {"no_place", [](Question& q) { q.exposed = Window{in(0), in(40)}; }, "squeeze.place",
     Grade::undecided},
    {"crowded",
     [](Question& q) {
       q.features.push_back({"joint", in(59), in(59)});
       q.features.push_back({"cut", in(110), in(110)});
     },
     "squeeze.place", Grade::halt},
    {"no_two_places",
     [](Question& q) {
       q.two = true;
       q.exposed = Window{in(0), in(60)};
     },
     "squeeze.place", Grade::halt},
    {"half_width_unknown", [](Question& q) { q.tool->half_width.reset(); }, "tool.half_width",
     Grade::undecided},
};

class AssessChange : public testing::TestWithParam<Change> {};

TEST_P(AssessChange, IsFound) {
  Question question = a_question();
  GetParam().make(question);
  const Sheet sheet = assessed(question);
  const Findings found = of(sheet, GetParam().rule);
  ASSERT_FALSE(found.empty()) << told(sheet);
  EXPECT_EQ(found.front().grade, GetParam().grade) << told(sheet);
  EXPECT_FALSE(found.front().source.empty());
  EXPECT_FALSE(found.front().action.empty());
}

INSTANTIATE_TEST_SUITE_P(All, AssessChange, testing::ValuesIn(changes),
                         [](const auto& one) { return std::string(one.param.what); });

TEST(Assess, EveryUnsetRowIsUndecidedAndTheNumbersStay) {
  for (const auto& draft : full_rows()) {
    if (draft.rule == "tool.bar_radius_flat_edge" || draft.rule == "squeeze.pressure_double")
      continue;  // not asked here
    if (draft.rule == "squeeze.clearance" || draft.rule == "squeeze.clearance_diameters")
      continue;  // one of the two is enough
    const Sheet sheet = assessed(a_question(), profile_with(row(draft.rule, {})));
    EXPECT_EQ(verdict_of(sheet.findings), Verdict::undecided) << draft.rule << "\n" << told(sheet);
    EXPECT_TRUE(sheet.walls) << draft.rule;
  }
  auto rows = full_rows();
  std::erase_if(rows,
                [](const auto& draft) { return draft.rule.starts_with("squeeze.clearance"); });
  const Sheet sheet = assessed(a_question(), profile(std::move(rows)));
  EXPECT_EQ(of(sheet, "squeeze.clearance").at(0).grade, Grade::undecided);
  EXPECT_FALSE(sheet.places) << "no window without a clearance";
}

TEST(Assess, AnUnsetSingleLimitLeavesOneOrTwoOpen) {
  EXPECT_EQ(assessed(a_question(), profile_with(row("squeeze.pressure_single", {}))).arrangement,
            Arrangement::undecided);
  Question two = a_question();
  two.two = true;
  EXPECT_EQ(assessed(two).arrangement, Arrangement::two);
}

TEST(Assess, TwoSqueezesAreOfferedWhereTheyKeepTheLimit) {
  Question question = a_question();
  question.pipe.pressure = psig(70);
  EXPECT_NE(of(assessed(question), "squeeze.pressure_single").at(0).action.find("--double"),
            std::string::npos);
}

TEST(Assess, PsiForKpaRaisesADoubtOnce) {
  Question question = a_question();
  question.pipe.pressure = psig(400);
  const Sheet sheet = assessed(question);
  ASSERT_EQ(of(sheet, "entry.unit_doubt").size(), 1u);
  EXPECT_NE(of(sheet, "entry.unit_doubt")[0].says.find("400 kPa"), std::string::npos);
  question.pipe.pressure = psig(4000);
  EXPECT_TRUE(of(assessed(question), "entry.unit_doubt").empty()) << "no good sense in kPa either";
  question.pipe.pressure = psig(400);
  question.pipe.pressure_unit.clear();
  EXPECT_TRUE(of(assessed(question), "entry.unit_doubt").empty())
      << "an SI number has no unit to mistake";
}

TEST(Assess, APlaceNearTheEndOfTheHoleIsNotSettled) {
  Question question = a_question();
  question.features.clear();
  question.exposed = Window{in(0), in(51)};
  const Sheet sheet = assessed(question);
  EXPECT_FALSE(sheet.places->windows.empty());
  EXPECT_TRUE(sheet.places->seen.empty());
  EXPECT_EQ(of(sheet, "squeeze.place").at(0).grade, Grade::undecided);
  question.exposed = Window{in(0), in(52)};
  EXPECT_TRUE(of(assessed(question), "squeeze.place").empty());
}

TEST(Assess, TwoPlacesAreTakenFromSeenWindowsWhereTheyFit) {
  Question question = a_question();
  question.two = true;
  question.features.clear();
  question.exposed = Window{in(0), in(80)};
  const Sheet sheet = assessed(question);
  ASSERT_GE(sheet.places->fit.size(), 2u);
  EXPECT_NEAR(sheet.places->fit[0].si(), in(25.875).si(), 1e-9);
  EXPECT_TRUE(of(sheet, "squeeze.place").empty());
  question.exposed = Window{in(0), in(60)};
  EXPECT_EQ(of(assessed(question), "squeeze.place").at(0).grade, Grade::undecided)
      << "two fit, but not with the clearance seen on both sides";
}

TEST(Assess, ClearanceFromTheToolsEdgeIsLonger) {
  const Sheet sheet =
      assessed(a_question(), profile_with(row("squeeze.clearance_from", std::string("tool_edge"))));
  EXPECT_NEAR(sheet.clearance->si(), in(25.875 + 4.5).si(), 1e-12);
}

TEST(Assess, TheProfilesBasisDecidesTheWall) {
  EXPECT_NEAR(
      assessed(a_question(), profile_with(row("squeeze.wall_basis", std::string("maximum"))))
          .gap_wanted->si(),
      in(1.4 * 0.784 * 1.12).si(), 1e-12);
  const Sheet unmeasured = assessed(
      a_question(), profile_with(row("squeeze.wall_basis", std::string("measured_else_minimum"))));
  EXPECT_EQ(of(unmeasured, "squeeze.wall_measured").at(0).grade, Grade::warn);
}

TEST(Assess, AMeasuredWallRulesAllThreeCompressions) {
  Question question = a_question();
  question.pipe.size = pipe::read_size("dn 125", "").value();
  question.pipe.ratio.reset();
  question.pipe.readings = {Length::from_si(0.0114)};
  const Sheet sheet = assessed(question, profile_with(row("squeeze.compression", 20.0, "%")));
  EXPECT_NEAR(sheet.gap_wanted->si(), 0.01824, 1e-12);
  EXPECT_EQ(sheet.compressions->at_min, sheet.compressions->at_max);
}

TEST(Assess, AStepThatNoToolCanMakeIsTrouble) {
  const auto tiny = assess(a_question(), profile_with(row("squeeze.opening_step", 0.001, "mm")),
                           units::System::us);
  ASSERT_FALSE(tiny);
  EXPECT_EQ(tiny.error().code, Code::out_of_range);
}

TEST(Assess, AWrongRatioIsTroubleEvenBesideAMeasuredWall) {
  Question question = a_question();
  question.pipe.ratio = 12.1;
  question.pipe.readings = {in(0.784)};
  const auto sheet = assess(question, profile(full_rows()), units::System::us);
  ASSERT_FALSE(sheet);
  EXPECT_EQ(sheet.error().code, Code::unknown_ratio);
}

TEST(Assess, EveryRowThatIsUsedIsListedOnce) {
  const Sheet sheet = assessed(a_question());
  for (const char* rule : {"squeeze.compression", "squeeze.opening_pause", "pipe.design_factor",
                           "pipe.design_cap", "squeeze.clearance"}) {
    EXPECT_EQ(std::ranges::count(sheet.limits, std::string_view(rule),
                                 [](const auto& r) { return r.rule->id; }),
              1)
        << rule;
  }
}

}  // namespace
}  // namespace bellhole::squeeze
