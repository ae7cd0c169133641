// What import makes of maps that are drawn well and of maps that are not. Each test is one kind of
// dirt.
#include "maps/build.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "network/check.hpp"
#include "tests/unit/maps/drawn_map.hpp"

namespace bellhole::maps {
namespace {

using test::Built;
using test::DrawnMap;

TEST(Import, EndsAtOnePlaceAreOneJoint) {
  const Built b = DrawnMap().main("A", {{0, 0}, {100, 0}}).main("B", {{100, 0}, {200, 0}}).build();
  EXPECT_TRUE(b.joined("A", "B"));
  EXPECT_EQ(b.network.nodes.size(), 3u);
  EXPECT_EQ(b.report.count("import.snapped"), 0u);
  EXPECT_NEAR(b.network.pipes.length[0].si(), 100.0, 1e-9);
  EXPECT_EQ(b.network.pipes.nominal_size[0], "IPS 4");
  // 4.500 in less twice 1.06 x 0.391 in (ASTM D2513, DR 11.5).
  EXPECT_NEAR(b.network.pipes.bore[0].si() / 0.0254, 4.5 - 2 * 1.06 * 0.391, 1e-3);
  EXPECT_TRUE(network::check_columns(b.network));
}

TEST(Import, AGapWithinTheToleranceIsClosedAndSaid) {
  const Built b =
      DrawnMap().main("A", {{0, 0}, {100, 0}}).main("B", {{100.3, 0}, {200, 0}}).build();
  EXPECT_TRUE(b.joined("A", "B"));
  const auto rows = b.rows("import.snapped");
  ASSERT_EQ(rows.size(), 1u);
  EXPECT_EQ(rows[0].value, "gap 0.30 m");
  EXPECT_EQ(rows[0].element, "pipe B");
  const auto& notes = b.network.notes;
  EXPECT_NE(std::ranges::find(notes.element, "pipe B"), notes.element.end())
      << "the row travels in the network";
}

TEST(Import, AWiderGapIsSaidAndNotClosed) {
  const Built b =
      DrawnMap().main("A", {{0, 0}, {100, 0}}).main("B", {{101.4, 0}, {200, 0}}).build();
  EXPECT_FALSE(b.joined("A", "B"));
  const auto rows = b.rows("import.gap");
  ASSERT_EQ(rows.size(), 2u) << "from both ends";
  EXPECT_EQ(rows[0].value, "gap 1.40 m");
  EXPECT_EQ(rows[0].grade, Grade::undecided);
}

TEST(Import, AnEndOnTheMiddleOfAMainSplitsIt) {
  const Built b = DrawnMap()
                      .main("A", {{0, 0}, {100, 0}}, {{"LEN_FT", "330"}})
                      .main("B", {{40, 0}, {40, 50}})
                      .build();
  ASSERT_TRUE(b.has_pipe("A/1"));
  EXPECT_TRUE(b.joined("A/1", "B"));
  EXPECT_TRUE(b.joined("A/2", "B"));
  EXPECT_NEAR(b.network.pipes.length[b.pipe("A/1")].si(), 0.4 * 330 * 0.3048, 1e-9)
      << "a recorded length is shared out";
  EXPECT_EQ(b.report.count("import.split"), 1u);
  EXPECT_EQ(b.report.count("import.snapped"), 0u);
}

TEST(Import, AnEndThatStopsShortOfAMainIsMovedOntoIt) {
  const Built b = DrawnMap().main("A", {{0, 0}, {100, 0}}).main("B", {{40, 0.4}, {40, 50}}).build();
  EXPECT_TRUE(b.joined("A/1", "B"));
  EXPECT_EQ(b.report.count("import.snapped"), 1u);
  const auto from = static_cast<std::size_t>(b.network.pipes.from[b.pipe("B")]);
  EXPECT_NEAR(b.network.nodes.y[from], 0.0, 1e-9);
}

TEST(Import, EndsFromBothSidesOfAMainMeetInOneJoint) {
  const Built b = DrawnMap()
                      .main("A", {{0, 0}, {100, 0}})
                      .main("B", {{40, 0.3}, {40, 50}})
                      .main("C", {{40.1, -0.1}, {40, -50}})
                      .build();
  EXPECT_TRUE(b.joined("B", "C"));
  EXPECT_TRUE(b.joined("A/1", "B"));
  EXPECT_TRUE(b.joined("A/2", "C"));
  EXPECT_EQ(b.network.pipes.size(), 4u) << "no sliver between two joints a step apart";
}

TEST(Import, CrossingMainsAreSaidAndNotJoined) {
  DrawnMap map;
  map.main("A", {{0, 0}, {100, 0}}).main("B", {{50, -50}, {50, 50}});
  const Built b = map.build();
  EXPECT_EQ(b.network.pipes.size(), 2u);
  ASSERT_EQ(b.report.count("import.crossing"), 1u);
  EXPECT_EQ(b.rows("import.crossing")[0].grade, Grade::undecided);
  EXPECT_EQ(b.rows("import.crossing")[0].value, "crosses B at 50.0, 0.0");

  const Built joined =
      map.with("\"snap_tolerance\"", "\"join_crossings\": true, \"snap_tolerance\"").build();
  EXPECT_EQ(joined.network.pipes.size(), 4u);
  EXPECT_TRUE(joined.joined("A/1", "B/2"));
  EXPECT_TRUE(joined.rows("import.crossing_joined")[0].assumed);
}

TEST(Import, MainsOfTwoTiersCrossAndMeetWithoutBeingJoined) {
  const Built b = DrawnMap()
                      .main("A", {{0, 0}, {100, 0}})
                      .main("F", {{50, -50}, {50, 50}}, {{"TIER", "F"}})
                      .main("G", {{100, 0}, {150, 0}}, {{"TIER", "F"}})
                      .build();
  EXPECT_EQ(b.report.count("import.crossing"), 0u);
  EXPECT_EQ(b.report.count("import.tiers_cross"), 1u);
  EXPECT_FALSE(b.joined("A", "G"));
  EXPECT_EQ(b.network.nodes.size(), 6u);
}

TEST(Import, DuplicateIdsGetNamesOfTheirOwn) {
  const Built b = DrawnMap().main("A", {{0, 0}, {100, 0}}).main("A", {{100, 0}, {200, 0}}).build();
  EXPECT_TRUE(b.has_pipe("A"));
  EXPECT_TRUE(b.has_pipe("A#2"));
  EXPECT_EQ(b.rows("import.duplicate_id")[0].element, "pipe A#2");
}

TEST(Import, ARecordEnteredTwiceIsOne) {
  const Built b = DrawnMap().main("A", {{0, 0}, {100, 0}}).main("A", {{100, 0}, {0, 0}}).build();
  EXPECT_EQ(b.network.pipes.size(), 1u);
  EXPECT_EQ(b.report.count("import.repeated"), 1u);
}

TEST(Import, TwoMainsOnOneLineAreKeptAndAsked) {
  const Built b = DrawnMap().main("A", {{0, 0}, {100, 0}}).main("B", {{100, 0}, {0, 0}}).build();
  EXPECT_EQ(b.network.pipes.size(), 2u);
  EXPECT_EQ(b.rows("import.drawn_twice")[0].grade, Grade::undecided);
}

TEST(Import, LinesWithoutUseAreLeftOutAndSaid) {
  DrawnMap map;
  map.main("good", {{0, 0}, {100, 0}}).main("flat", {{5, 5}, {5, 5}}).parts("empty", {});
  map.main("broken", {{0, 0}, {0, 0}});
  map.last().broken = true;
  map.main("point", {{3, 3}});
  map.last().shape = Shape::point;
  const Built b = map.build();
  EXPECT_EQ(b.network.pipes.size(), 1u);
  EXPECT_EQ(b.rows("import.zero_length")[0].feature, "flat");
  EXPECT_EQ(b.rows("import.no_geometry")[0].feature, "empty");
  EXPECT_EQ(b.rows("import.bad_coordinates")[0].feature, "broken");
  EXPECT_EQ(b.rows("import.wrong_shape")[0].feature, "point");
}

TEST(Import, PartsThatMeetAreStrungTogetherWhicheverWayTheyWereDrawn) {
  const Built b = DrawnMap()
                      .parts("A", {{{50, 0}, {100, 0}}, {{50, 0}, {0, 0}}, {{100.2, 0}, {150, 0}}})
                      .build();
  EXPECT_EQ(b.network.pipes.size(), 1u);
  EXPECT_NEAR(b.network.pipes.length[0].si(), 150.0, 0.01);
  EXPECT_EQ(b.rows("import.parts")[0].grade, Grade::warn);
}

TEST(Import, PartsThatLieApartBecomeMains) {
  const Built b = DrawnMap().parts("A", {{{0, 0}, {100, 0}}, {{200, 0}, {300, 0}}}).build();
  EXPECT_TRUE(b.has_pipe("A:1"));
  EXPECT_TRUE(b.has_pipe("A:2"));
  EXPECT_EQ(b.rows("import.parts")[0].grade, Grade::undecided);
  const auto& elements = b.network.notes.element;
  EXPECT_NE(std::ranges::find(elements, "pipe A:2"), elements.end())
      << "a note about A stands at each of its parts";
}

TEST(Import, HeightsCurvesAndRepeatedPointsAreSaid) {
  DrawnMap map;
  map.main("A", {{0, 0}, {50, 0}, {50, 0}, {100, 0}});
  map.last().heights = {{1, 2, 2, 3}};
  map.last().curved = true;
  const Built b = map.build();
  EXPECT_EQ(b.report.count("import.heights"), 1u);
  EXPECT_EQ(b.report.count("import.curved"), 1u);
  EXPECT_EQ(b.rows("import.repeated_points")[0].value, "1 points");
  EXPECT_EQ(b.network.pipes.vx.size(), 3u);
}

TEST(Import, WhatIsMissingOrUnknownStaysUnknown) {
  const Built b =
      DrawnMap()
          .main("none", {{0, 0}, {100, 0}}, {{"CODE", ""}})
          .main("odd", {{100, 0}, {200, 0}}, {{"CODE", "9XX"}})
          .main("size", {{200, 0}, {300, 0}}, {{"CODE", ""}, {"SIZE", "IPS 5-1/8"}, {"DR", "11"}})
          .main("ratio", {{300, 0}, {400, 0}}, {{"CODE", ""}, {"SIZE", "IPS 4"}, {"DR", "12.3"}})
          .main("ins", {{400, 0}, {500, 0}}, {{"INS", "maybe"}})
          .build();
  for (const char* id : {"none", "odd", "size", "ratio"})
    EXPECT_TRUE(std::isnan(b.network.pipes.bore[b.pipe(id)].si())) << id;
  EXPECT_EQ(b.rows("import.missing_size").size(), 1u);
  EXPECT_EQ(b.rows("import.missing_size")[0].feature, "none");
  EXPECT_EQ(b.report.count("import.unknown_code"), 2u) << "9XX and maybe";
  EXPECT_EQ(b.report.count("import.unknown_size"), 1u);
  EXPECT_EQ(b.report.count("import.unknown_ratio"), 1u);
  EXPECT_EQ(b.network.pipes.lining[b.pipe("ins")].inserted, network::Ternary::unknown);
  EXPECT_EQ(b.report.verdict(), Verdict::undecided);
}

TEST(Import, AColumnThatContradictsItsCodeIsSaid) {
  const Built b = DrawnMap().main("A", {{0, 0}, {100, 0}}, {{"DR", "13.5"}}).build();
  EXPECT_EQ(b.rows("import.contradiction")[0].value, "13.5");
  EXPECT_EQ(b.network.pipes.ratio[0], 13.5);
}

TEST(Import, AValueForBlanksIsUsedOnlyForBlanksAndSaid) {
  DrawnMap map;
  map.main("blank", {{0, 0}, {100, 0}}, {{"CODE", ""}})
      .main("odd", {{100, 0}, {200, 0}}, {{"CODE", "9XX"}});
  const Built b =
      map.with(R"("code": "CODE")",
               R"("code": {"column": "CODE", "if_missing": "4PE", "because": "town standard"})")
          .build();
  EXPECT_EQ(b.network.pipes.nominal_size[b.pipe("blank")], "IPS 4");
  EXPECT_EQ(b.network.pipes.nominal_size[b.pipe("odd")], "");
  const auto rows = b.rows("import.assumed");
  ASSERT_EQ(rows.size(), 1u);
  EXPECT_TRUE(rows[0].assumed);
  EXPECT_EQ(rows[0].done, "took 4PE: town standard");
}

TEST(Import, SteelTakesItsBoreFromTheWall) {
  const Built b = DrawnMap().main("A", {{0, 0}, {100, 0}}, {{"CODE", "6ST"}}).build();
  EXPECT_NEAR(b.network.pipes.bore[0].si() / 0.0254, 6.625 - 2 * 0.28, 1e-9);
  EXPECT_EQ(b.network.pipes.material[0], network::Material::steel);
}

TEST(Import, CoordinatesOfAnotherSystemAreLeftOut) {
  const Built b = DrawnMap()
                      .main("A", {{500000, 5000000}, {500100, 5000000}})
                      .main("B", {{500100, 5000000}, {500200, 5000000}})
                      .main("C", {{-3.1, 45.2}, {-3.2, 45.2}})
                      .build();
  EXPECT_EQ(b.network.pipes.size(), 2u);
  EXPECT_EQ(b.rows("import.far_away")[0].feature, "C");
}

TEST(Import, TooManyOpenEndsHaltUnlessAcceptedByName) {
  DrawnMap map;
  map.with("\"50%\"", "\"10%\"");
  for (int i = 0; i < 10; ++i)
    map.main("A" + std::to_string(i), {{100.0 * i, 0}, {100.0 * i + 100, 0}});
  map.main("alone", {{0, 400}, {50, 400}});
  EXPECT_FALSE(map.build().report.has_halt()) << "one of eleven is less than a tenth";
  map.main("too", {{0, 500}, {50, 500}});
  Built b = map.build();
  ASSERT_TRUE(b.report.has_halt());
  EXPECT_EQ(b.rows("import.many_not_snapping")[0].value, "2 of 12 mains");
  map.accept = {"import.many_not_snapping"};
  b = map.build();
  EXPECT_FALSE(b.report.has_halt());
  EXPECT_EQ(b.report.verdict(), Verdict::undecided);
  const auto& says = b.network.notes.says;
  EXPECT_TRUE(std::ranges::any_of(
      says, [](const std::string& s) { return s.ends_with("let pass by --accept"); }));
  map.accept = {"import.gap"};
  maps::Report report;
  const auto refused = map.try_build(report);
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().code, Code::unreadable_value) << "nothing halts by that rule";
}

TEST(Import, AReversedLineIsTurnedRoundByTheNodesThatItNames) {
  DrawnMap map;
  map.main("A", {{0, 0}, {100, 0}}, {{"FROM", "9"}, {"TO", "8"}});
  const Built b = map.build();
  EXPECT_EQ(b.rows("import.other_nodes")[0].grade, Grade::undecided)
      << "the map has no nodes 8 and 9";
}

TEST(Import, ATwoWayFlagIsComparedWithTheJointsAndNotUsed) {
  DrawnMap map;
  map.main("F", {{0, 0}, {100, 0}}, {{"TIER", "F"}, {"TWO", "Y"}}).gate("G", {0, 0});
  map.main("L1", {{100, 0}, {200, 0}}, {{"TIER", "F"}, {"TWO", "N"}})
      .main("L2", {{100, 0}, {150, 80}, {200, 0}}, {{"TIER", "F"}, {"TWO", "Y"}});
  const Built b = map.build();
  const auto rows = b.rows("import.two_way");
  ASSERT_EQ(rows.size(), 2u);
  EXPECT_EQ(rows[0].feature, "F");
  EXPECT_EQ(rows[0].grade, Grade::warn);
  EXPECT_EQ(rows[1].feature, "L1");
  EXPECT_EQ(rows[1].grade, Grade::info);
  EXPECT_EQ(b.rows("import.two_way_agrees")[0].value, "1 pipes");
}

TEST(Import, AStationJoinsTheTwoTiersNearIt) {
  DrawnMap map;
  map.main("F", {{0, 0}, {100, 0}}, {{"TIER", "F"}})
      .main("D", {{0, 3}, {100, 3}})
      .gate("G", {0, 0})
      .station("R", {50, 1}, "F", "D");
  const Built b = map.build();
  ASSERT_EQ(b.network.regulators.size(), 1u);
  EXPECT_TRUE(b.has_pipe("F/2") && b.has_pipe("D/2")) << "the station stands on the middle of both";
  const auto inlet = static_cast<std::size_t>(b.network.regulators.inlet[0]),
             outlet = static_cast<std::size_t>(b.network.regulators.outlet[0]);
  EXPECT_EQ(b.network.nodes.tier[inlet], 0);
  EXPECT_EQ(b.network.nodes.tier[outlet], 1);
  EXPECT_NEAR(b.network.nodes.x[outlet], 50.0, 1e-9);
  EXPECT_EQ(b.network.sources.pressure[0].si(), 55.0 * 6894.757293168361);
  const auto read_as = b.rows("import.read_as");
  ASSERT_EQ(read_as.size(), 1u) << "55 psi was read as gauge";
  EXPECT_TRUE(read_as[0].assumed);
}

TEST(Import, AStationTooFarFromItsMainsIsLeftOut) {
  const Built b = DrawnMap()
                      .main("F", {{0, 0}, {100, 0}}, {{"TIER", "F"}})
                      .main("D", {{0, 30}, {100, 30}})
                      .station("R", {50, 1}, "F", "D")
                      .build();
  EXPECT_EQ(b.network.regulators.size(), 0u);
  EXPECT_EQ(b.rows("import.far_from_main")[0].feature, "R");
}

TEST(Import, AValveStandsAtItsStationOnTheNearestMain) {
  DrawnMap map;
  map.main("A", {{0, 0}, {100, 0}},
           {{"LEN_FT", "656.16797900262"}});  // 200 m recorded, 100 m drawn
  map.valve("near", {25, 1}, {{"TURNED", "2021-07-01"}}).valve("far", {50, 30});
  map.valve("named", {90, 9}, {{"PIPE", "A"}, {"AT_FT", "100"}});
  const Built b = map.build();
  ASSERT_EQ(b.network.valves.size(), 2u);
  EXPECT_NEAR(b.network.valves.station[0].si(), 50.0, 1e-6)
      << "stations follow the recorded length";
  EXPECT_NEAR(b.network.valves.last_operated_year[0], 2021.5, 0.01);
  EXPECT_NEAR(b.network.valves.station[1].si(), 30.48, 1e-9);
  EXPECT_EQ(b.rows("import.far_from_main")[0].value, "30.0 m");
}

TEST(Import, AValveOnAJointIsAsked) {
  const Built b = DrawnMap()
                      .main("A", {{0, 0}, {100, 0}})
                      .main("B", {{40, 0}, {40, 50}})
                      .valve("V", {40, 0})
                      .build();
  EXPECT_EQ(b.network.valves.size(), 1u);
  EXPECT_EQ(b.rows("import.valve_at_joint")[0].grade, Grade::undecided);
}

TEST(Import, CustomersGoToTheMainInTheirStreet) {
  DrawnMap map;
  map.main("A", {{0, 0}, {100, 0}}, {{"STREET", "High Street"}})
      .main("B", {{0, 40}, {100, 40}}, {{"STREET", "Low Street"}});
  map.meter("1", {50, 18}, {{"STREET", "Low Street"}})
      .meter("2", {50, 18})
      .meter("3", {50, 100})
      .meter("4", {60, 18}, {{"CLASS", "FISH"}});
  map.meter("5", {60, 10}, {{"MUST", "yes"}, {"WHY", "clinic"}});
  const Built b = map.build();
  ASSERT_EQ(b.network.customers.size(), 4u);
  EXPECT_EQ(b.network.customers.pipe[0], static_cast<network::Index>(b.pipe("B")));
  EXPECT_EQ(b.network.customers.pipe[1], static_cast<network::Index>(b.pipe("A")));
  EXPECT_EQ(b.rows("import.far_from_main")[0].value, "60.0 m");
  EXPECT_EQ(b.report.count("import.unknown_load"), 1u);
  EXPECT_TRUE(std::isnan(b.network.customers.base[2].si()));
  EXPECT_EQ(b.network.customers.must_not_lose[3], 1);
  EXPECT_NEAR(b.network.customers.per_k[0], 1.8 * 0.028316846592 / 3600, 1e-15)
      << "1 scfh for each degF";
  EXPECT_TRUE(b.rows("import.load_class")[0].assumed);
}

TEST(Import, ALayerThatLiesElsewhereHalts) {
  DrawnMap map;
  map.main("A", {{0, 0}, {100, 0}});
  for (int i = 0; i < 6; ++i) map.meter(std::to_string(i), {9e5 + i, 9e5});
  const Built b = map.build();
  EXPECT_TRUE(b.report.has_halt());
  EXPECT_EQ(b.rows("import.layer_astray")[0].value, "6 of 6 features");
}

TEST(Import, FeaturesHaveTheirExtentAlongTheMain) {
  const Built b = DrawnMap()
                      .main("A", {{0, 0}, {100, 0}})
                      .fitting("T", {10, 0.2}, "TEE", "20")
                      .fitting("E", {0.1, 0}, "SQ", "20")
                      .fitting("?", {50, 0}, "??")
                      .build();
  const auto& f = b.network.features;
  ASSERT_EQ(f.size(), 3u);
  EXPECT_NEAR(f.begin[0].si(), 10 - 0.254, 1e-9);
  EXPECT_NEAR(f.end[0].si(), 10 + 0.254, 1e-9);
  EXPECT_NEAR(f.begin[1].si(), 0.0, 1e-12) << "held to the main's end";
  EXPECT_EQ(f.kind[2], network::FeatureKind::other);
  EXPECT_EQ(b.report.count("import.unknown_code"), 1u);
}

TEST(Import, RowsThatNoEntryTakesAreCounted) {
  DrawnMap map;
  map.main("A", {{0, 0}, {100, 0}})
      .main("B", {{100, 0}, {200, 0}}, {{"YEAR", "1990"}})
      .main("C", {{200, 0}, {300, 0}}, {{"YEAR", "1800"}});
  const Built b =
      map.with(
             R"("layer": "main",)",
             R"("layer": "main", "only": {"column": "YEAR", "is": [1990, "1800"]}, "leave_out": {"column": "YEAR", "is": [1800]},)")
          .build();
  EXPECT_EQ(b.network.pipes.size(), 1u);
  EXPECT_EQ(b.rows("import.not_mapped")[0].value, "1 of 3 features");
  EXPECT_EQ(b.rows("import.left_out")[0].value, "1 features: 1800");
}

TEST(Import, AColumnThatIsNotThereIsTrouble) {
  DrawnMap map;
  map.main("A", {{0, 0}, {100, 0}}).with(R"("street": "STREET",)", R"("street": "STRASSE",)");
  maps::Report report;
  const auto built = map.try_build(report);
  ASSERT_FALSE(built);
  EXPECT_EQ(built.error().code, Code::bad_mapping);
  EXPECT_EQ(built.error().where, "drawn.mapping.json: layers.mains[0].fields.street");
}

TEST(Import, AMapWithoutAUsableMainIsTrouble) {
  maps::Report report;
  const auto built = DrawnMap().parts("A", {}).try_build(report);
  ASSERT_FALSE(built);
  EXPECT_EQ(built.error().code, Code::bad_network);
}

TEST(Import, AClosedLineAndALollipopHold) {
  const Built b = DrawnMap()
                      .main("ring", {{0, 0}, {50, 0}, {50, 50}, {0, 50}, {0, 0}})
                      .main("lolly", {{200, 0}, {250, 0}, {250, 40}, {220, 0.0}})
                      .build();
  const auto ring = b.pipe("ring");
  EXPECT_EQ(b.network.pipes.from[ring], b.network.pipes.to[ring]);
  EXPECT_TRUE(network::check_columns(b.network));
  const auto findings = network::check(b.network, units::System::us);
  EXPECT_TRUE(std::ranges::none_of(findings, [](const Finding& f) {
    return f.rule == "network.line_end" || f.rule == "network.zero_length";
  }));
}

}  // namespace
}  // namespace bellhole::maps
