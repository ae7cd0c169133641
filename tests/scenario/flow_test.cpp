// What the pressures in small networks do when something is shut. All of it can be followed with a
// finger.
#include <gtest/gtest.h>

#include "tests/scenario/drawing.hpp"

namespace bellhole::scenario {
namespace {

TEST(Flow, ARingHoldsWhenItIsShutOnce) {
  Drawing town(R"(
    A-4--c-----4-B
    |            |
    4            2
    c            c
    |            |
    C-2----c-----D)");
  town.tier("A", "street", "60psig", "20psig")
      .feed("A", "50psig", "100000scfh")
      .customers("2000scfh");
  const Answer open = town.flow();
  EXPECT_TRUE(open.carried());
  EXPECT_NEAR(open.scfh("S1"), 8000, 0.01);

  const Answer shut = town.flow({"A-B@20m"});
  EXPECT_TRUE(shut.carried());
  EXPECT_EQ(shut.out(), "") << "everybody is fed the other way round";
  EXPECT_NEAR(shut.scfh("A-C"), 8000, 0.01) << "all of it goes down the left side now";
  EXPECT_LT(shut.psig("B"), open.psig("B"));
  EXPECT_LT(shut.psig_at_customer("C1"), shut.psig("B")) << "C1 stands behind B, seen from the gas";
}

TEST(Flow, TwoShutPlacesTakeTheirCustomersOut) {
  Drawing town(R"(
    A-4--c-----4-B
    |            |
    4            2
    c            c
    |            |
    C-2----c-----D)");
  town.tier("A", "street", "60psig", "20psig")
      .feed("A", "50psig", "100000scfh")
      .customers("500scfh");
  EXPECT_EQ(town.flow({"A-B@20m", "B-D@40m"}).out(), "C1 C3")
      << "from the first shut place over B to the second";
  EXPECT_EQ(town.flow({"A-B@70m", "B-D@40m"}).out(), "C3") << "C1 stands before the shut place";
  EXPECT_EQ(town.flow({"A-B@50m", "A-B@60m"}).out(), "") << "between them stands nobody";
  EXPECT_TRUE(town.flow({"A-B@20m", "B-D@40m"}).says("network.customers_out"));
}

TEST(Flow, ACustomerAtTheVeryPlaceCountsAsBeforeIt) {
  Drawing town("A-4--c-----4-B");
  town.tier("A", "street", "60psig", "20psig")
      .feed("A", "50psig", "100000scfh")
      .customers("500scfh");
  EXPECT_EQ(town.flow({"A-B@50m"}).out(), "") << "C1 stands at 50 m";
  EXPECT_EQ(town.flow({"A-B@49.99m"}).out(), "C1");
}

TEST(Flow, AClosedValvePartsAMain) {
  Drawing ring(R"(
    A-4-v-c-x-c-4-B
    |             |
    2             2
    |             |
    D-2----c------C)");
  ring.tier("A", "street", "60psig", "20psig")
      .feed("A", "50psig", "100000scfh")
      .customers("300scfh");
  const Answer asked = ring.flow();
  EXPECT_EQ(asked.out(), "");
  EXPECT_NEAR(asked.scfh("A-B"), 300, 0.01) << "only C1 is on this side of the closed V2";
  EXPECT_EQ(ring.flow({"V1"}).out(), "C1") << "between V1 and V2";
}

TEST(Flow, ARegulatorHoldsItsSetPoint) {
  Drawing town("A-4---->-4--c--B");
  town.tier("A", "high", "60psig", "20psig").tier("B", "low", "15inWC", "5inWC");
  town.feed("A", "50psig", "100000scfh").regulator("R1", "8inWC", "5000scfh").customers("700scfh");
  const Answer asked = town.flow();
  EXPECT_EQ(asked.mode("R1"), "controls");
  EXPECT_NEAR(asked.inwc("R1 right"), 8.0, 0.001);
  EXPECT_NEAR(asked.scfh("R1"), 700, 0.01);
  EXPECT_LT(asked.inwc("B"), 8.0);
  EXPECT_EQ(town.flow({"R1"}).mode("R1"), "shut");
  EXPECT_EQ(town.flow({"R1"}).out(), "C1");
}

TEST(Flow, ARegulatorTooSmallRunsWideOpenAndTheRestFallsShort) {
  Drawing town("A-4---->-4--c--B");
  town.tier("A", "high", "60psig", "20psig").tier("B", "low", "15psig", "5psig");
  town.feed("A", "50psig", "100000scfh").regulator("R1", "10psig", "500scfh").customers("700scfh");
  const Answer asked = town.flow();
  EXPECT_EQ(asked.mode("R1"), "wide open");
  EXPECT_FALSE(asked.carried());
  EXPECT_EQ(asked.short_of_gas(), "C1");
  EXPECT_LT(asked.scfh("R1"), 700);
  EXPECT_GT(asked.scfh("R1"), 450)
      << "with an outlet under its set point it passes a little more than its capacity";
  EXPECT_TRUE(asked.says("network.cannot_carry"));
  EXPECT_TRUE(asked.says("network.regulator_wide_open"));
}

TEST(Flow, OfTwoRegulatorsTheHigherSetFeeds) {
  Drawing town(R"(
    A-4--->-4-B
    |         c
    4         4
    |         |
    C-4--->-4-D)");
  town.tier("A", "high", "60psig", "20psig").tier("B", "low", "20psig", "5psig");
  town.feed("A", "50psig", "100000scfh")
      .customers("700scfh")
      .regulator("R1", "10psig", "9000scfh")
      .regulator("R2", "9psig", "9000scfh");
  const Answer asked = town.flow();
  EXPECT_EQ(asked.mode("R1"), "controls");
  EXPECT_EQ(asked.mode("R2"), "closed") << "it feels more than its 9 psig";
  const Answer without = town.flow({"R1"});
  EXPECT_EQ(without.mode("R2"), "controls") << "it takes over by itself";
  EXPECT_TRUE(without.carried());
}

TEST(Flow, ARegulatorHoldsThePlaceThatItFeels) {
  Drawing town("A-4->-4-----c-------c------4-B");
  town.tier("A", "high", "60psig", "20psig").tier("B", "low", "15psig", "2psig");
  town.feed("A", "50psig", "100000scfh")
      .regulator("R1", "8psig", "50000scfh")
      .feels("R1", "R1-B@210m")
      .customers("9000scfh");
  const Answer asked = town.flow();
  EXPECT_NEAR(asked.psig("B"), 8.0, 0.01) << "from 210 m on nobody draws";
  EXPECT_GT(asked.psig("R1 right"), 8.01) << "so the outlet stands higher";
}

TEST(Flow, ShuttingBetweenARegulatorAndWhatItFeelsIsAHalt) {
  Drawing town("A-4->-4-----c-------c------4-B");
  town.tier("A", "high", "60psig", "20psig").tier("B", "low", "15psig", "2psig");
  town.feed("A", "50psig", "100000scfh")
      .regulator("R1", "8psig", "50000scfh")
      .feels("R1", "R1-B@210m")
      .customers("900scfh");
  const Answer asked = town.flow({"R1-B@150m"});
  EXPECT_TRUE(asked.says("network.sensing_parted"));
  EXPECT_EQ(asked.mode("R1"), "wide open") << "it feels a main without gas and opens for it";
  EXPECT_GT(asked.psig("R1 right"), 15.0);
  EXPECT_TRUE(asked.says("network.maop")) << "and drives its tier above the MAOP";
}

TEST(Flow, ARegulatorMayFeedBackwardsUnlessACheckIsRecorded) {
  const char* picture = R"(
    A-4-c->-4-B
    |         c
    4         4
    |         |
    C-4-v->-4-D)";
  Drawing town(picture);
  town.tier("A", "high", "60psig", "5psig").tier("B", "low", "20psig", "5psig");
  town.feed("D", "10psig", "9000scfh")
      .customers("100scfh")
      .regulator("R1", "12psig", "9000scfh")
      .regulator("R2", "12psig", "9000scfh");
  const Answer asked = town.flow();
  EXPECT_EQ(asked.out(), "");
  EXPECT_TRUE(asked.says("network.reverse_flow"))
      << "only D is fed, and the upper tier lives on what comes back";
  town.one_way("R1").one_way("R2");
  EXPECT_EQ(town.flow().out(), "C1");
}

TEST(Flow, PressureRisesUphillInAMainOfLightGas) {
  Drawing town("A-4----------4-B");
  town.tier("A", "low", "15inWC", "5inWC").feed("A", "7inWC", "5000scfh").height("B", "30.48m");
  EXPECT_NEAR(town.flow().inwc("B"), 7.0 + 0.59, 0.02) << "about 0.59 inches in 100 feet";
}

TEST(Flow, InchesOfWaterAndSixtyPoundsInOneNetwork) {
  Drawing town(R"(
    A-8--c---->-6--c--E-4->-4---c---4-B
                                      c
                                      2
                                      |
                                      C)");
  town.tier("A", "high", "60psig", "20psig").tier("B", "low", "15inWC", "4inWC");
  town.tier("E", "middle", "15psig", "5psig");
  town.feed("A", "60psig", "100000scfh")
      .customers("300scfh")
      .regulator("R1", "10psig", "9000scfh")
      .regulator("R2", "7inWC", "5000scfh");
  const Answer asked = town.flow();
  EXPECT_TRUE(asked.carried());
  EXPECT_NEAR(asked.scfh("S1"), 1200, 0.01);
  EXPECT_NEAR(asked.scfh("R1"), 900, 0.01);
  EXPECT_NEAR(asked.scfh("R2"), 600, 0.01);
  EXPECT_NEAR(asked.psig("R1 right"), 10.0, 0.001);
  EXPECT_NEAR(asked.inwc("R2 right"), 7.0, 0.001);
  EXPECT_LT(asked.inwc("C"), asked.inwc("B"));
}

TEST(Flow, ASourceGivesNoMoreThanItCan) {
  Drawing town("A-4--c-------4-B");
  town.tier("A", "street", "60psig", "20psig")
      .feed("A", "50psig", "1000scfh")
      .feed("B", "40psig", "9000scfh")
      .customers("5000scfh");
  const Answer asked = town.flow();
  EXPECT_NEAR(asked.scfh("S1"), 1000, 11) << "it gives its capacity, and at most a hundredth more";
  EXPECT_NEAR(asked.scfh("S1") + asked.scfh("S2"), 5000, 0.1);
  EXPECT_TRUE(asked.says("network.source_at_capacity"));
}

TEST(Flow, GasAtRestHasOnePressure) {
  Drawing town(R"(
    A-4--->-4-B
    |         |
    2         2
    |         |
    C         D)");
  town.tier("A", "high", "60psig", "20psig").tier("B", "low", "20psig", "5psig");
  town.feed("A", "50psig", "9000scfh").regulator("R1", "10psig", "9000scfh");
  const Answer asked = town.flow();
  EXPECT_NEAR(asked.psig("C"), 50.0, 1e-3);
  EXPECT_NEAR(asked.psig("D"), 10.0, 1e-3);
}

TEST(Flow, WhatIsNotKnownIsSaid) {
  Drawing town("A-4---->-4--c--B");
  town.feed("A", "50psig").regulator("R1", "8psig").customers("700scfh").tier("B", "low", "", "");
  const Answer asked = town.flow();
  for (const char* rule : {"network.capacity_unknown", "network.source_capacity_unknown",
                           "network.least_pressure", "network.maop"}) {
    EXPECT_TRUE(asked.says(rule)) << rule;
  }
}

}  // namespace
}  // namespace bellhole::scenario
