#include "plan/times.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "plan/regions.hpp"
#include "tests/unit/plan/small_town.hpp"

namespace bellhole::plan {
namespace {

using test::psi;
using test::Town;

procedure::RowDraft row(const char* rule, double value, const char* unit) {
  procedure::RowDraft r;
  r.rule = rule;
  r.value = value;
  r.unit = unit;
  r.source = "invented for a test";
  r.evidence = Evidence::company;
  return r;
}

/// 20 min to find, 50 min through grass below 36 in, 35 min above, 10 min to set, 2 in a minute
/// with 20 s after every inch.
procedure::Profile by_parts(bool with_closing = true) {
  procedure::ProfileDraft draft;
  draft.id = "parts";
  draft.rows = {row("plan.time_locate", 20, "min"), row("plan.time_set", 10, "min"),
                row("squeeze.closing_step", 1, "in"), row("squeeze.closing_pause", 20, "s")};
  auto shallow = row("plan.time_dig", 35, "min"), deep = row("plan.time_dig", 50, "min");
  shallow.when[procedure::Listed::surface] = {"grass"};
  shallow.when[procedure::Ranged::depth].up_to = 36 * 0.0254;
  deep.when[procedure::Listed::surface] = {"grass"};
  deep.when[procedure::Ranged::depth].above = 36 * 0.0254;
  draft.rows.push_back(shallow);
  draft.rows.push_back(deep);
  if (with_closing) draft.rows.push_back(row("squeeze.closing_speed", 2, "in/min"));
  return *procedure::compose(draft, nullptr);
}

Town one_main(double depth_in, const char* surface = "grass") {
  Town town;
  const auto a = town.node("a", 0, 0), b = town.node("b", 300, 0);
  town.main("m", a, b);
  town.source("gate", a, 40);
  town.customer("c1", 0, 100, 4000);
  town.customer("c2", 0, 200, 4000);
  town.network.pipes.depth[0] = Length::from_si(depth_in * 0.0254);
  town.network.pipes.surface[0] = surface;
  return town;
}

double minutes(const Town& town, int count, const procedure::Profile& profile) {
  Costs costs(profile, units::System::us);
  return time_of_squeeze(town.network, profile, 0, count, case_of_main(town.network, 0), costs) /
         60.0;
}

TEST(Times, OfASqueezeByHand) {
  // IPS 4 DR 11 closes from 4.500 in until its walls meet at 2 x 4.5 / 11 = 0.818 in: 3.682 in at 2
  // in a minute are 1.841 min, and three waits of 20 s one more.
  EXPECT_NEAR(minutes(one_main(40), 1, by_parts()), 20 + 50 + 10 + 2.841, 0.001);
  EXPECT_NEAR(minutes(one_main(30), 1, by_parts()), 20 + 35 + 10 + 2.841, 0.001);
  EXPECT_NEAR(minutes(one_main(30), 2, by_parts()), 20 + 35 + 2 * (10 + 2.841), 0.001)
      << "two tools in one hole";
}

TEST(Times, AnUnknownDepthTakesTheLongestThatMayApply) {
  EXPECT_NEAR(minutes(one_main(std::nan("")), 1, by_parts()), 20 + 50 + 10 + 2.841, 0.001);
}

TEST(Times, WhatIsNotSetIsNotKnown) {
  EXPECT_TRUE(std::isnan(minutes(one_main(30, "rock"), 1, by_parts()))) << "no row for rock";
  EXPECT_TRUE(std::isnan(minutes(one_main(30), 1, by_parts(false)))) << "no closing speed";
}

TEST(Regions, AShutPlacePartsAMainAndPressureRunsBetweenKnownPlaces) {
  const Town town = one_main(30);
  const network::Model model = test::model_of(town);
  network::Scenario scenario{.air = Temperature::from_si(280.0)};
  const auto open = *model.solve(scenario);
  const Regions whole(town.network, scenario);
  EXPECT_EQ(whole.of_node(0), whole.of_node(1));
  const auto at = [&](double station) {
    return pressure_at(town.network, whole, open, 0, Length::from_si(station)).si();
  };
  EXPECT_DOUBLE_EQ(at(100), open.customer_pressure[0].si());
  EXPECT_LT(at(60), at(20));
  EXPECT_GT(at(60), at(100));
  EXPECT_NEAR(at(250), open.customer_pressure[1].si(), 1.0) << "nothing flows behind the last";
  const double kg = gas::base_density(model.conditions().gas,
                                      {town.network.base_pressure, town.network.base_temperature})
                        .si();
  const auto flow = [&](double station) {
    return flow_at(town.network, whole, open, 0, Length::from_si(station), kg).si();
  };
  EXPECT_NEAR(flow(150) / flow(50), 0.5, 1e-6);
  EXPECT_NEAR(flow(250), 0.0, 1e-9);

  scenario.closures.push_back({0, Length::from_si(150)});
  const auto shut = *model.solve(scenario);
  const Regions parted(town.network, scenario);
  EXPECT_NE(parted.of_node(0), parted.of_node(1));
  EXPECT_EQ(parted.of_customer(0), parted.of_node(0));
  EXPECT_EQ(parted.of_customer(1), parted.of_node(1));
  const Length here = Length::from_si(150);
  EXPECT_EQ(parted.at(0, here, -1), parted.of_node(0));
  EXPECT_EQ(parted.at(0, here, 1), parted.of_node(1));
  EXPECT_GT(pressure_at(town.network, parted, shut, 0, here, -1).si(), 39.0 * psi);
  EXPECT_TRUE(std::isnan(pressure_at(town.network, parted, shut, 0, here, 1).si()));
}

}  // namespace
}  // namespace bellhole::plan
