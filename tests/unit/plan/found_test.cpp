#include "plan/found.hpp"

#include <gtest/gtest.h>

#include "pipe/materials.hpp"
#include "tests/unit/plan/small_town.hpp"

namespace bellhole::plan {
namespace {

using network::Ternary;

test::Town one_main() {
  test::Town town;
  town.main("M1", town.node("a", 0, 0), town.node("b", 200, 0));
  town.network.pipes.lining[0].cased = Ternary::no;
  return town;
}

squeeze::Found ips(const char* size, std::optional<double> ratio) {
  squeeze::Found found;
  found.size = *pipe::read_size(size, "size");
  found.ratio = ratio;
  return found;
}

TEST(PipeFound, WhatWasFoundStandsAndTheRestStaysTheMaps) {
  auto town = one_main();
  const double before = town.network.pipes.bore[0].si();
  auto found = ips("IPS 4", 13.5);
  found.lining.inserted = pipe::Told::yes;
  const auto says = lay_over(town.network, 0, found);
  ASSERT_TRUE(says) << says.error().fix;
  const auto& pipes = town.network.pipes;
  EXPECT_EQ(pipes.ratio[0], 13.5);
  // ASTM D3035: 4.500 in, least wall 0.333 in; as made 6 % above it in the mean.
  EXPECT_NEAR(pipes.bore[0].si(), (4.500 - 2 * 1.06 * 0.333) * 0.0254, 1e-6);
  EXPECT_GT(pipes.bore[0].si(), before);
  EXPECT_EQ(pipes.lining[0].inserted, Ternary::yes);
  EXPECT_EQ(pipes.lining[0].cased, Ternary::no);
  EXPECT_NE(says->find("IPS 4 DR 13.5"), std::string::npos) << *says;
  EXPECT_NE(says->find("the map has IPS 4 DR 11"), std::string::npos) << *says;
}

TEST(PipeFound, ARatioOfAnotherSizeIsNotTakenOver) {
  auto town = one_main();
  const double before = town.network.pipes.bore[0].si();
  const auto says = lay_over(town.network, 0, ips("IPS 3", {}));
  ASSERT_TRUE(says);
  EXPECT_TRUE(std::isnan(town.network.pipes.ratio[0]));
  EXPECT_EQ(town.network.pipes.bore[0].si(), before);
  EXPECT_NE(says->find("stays the map's"), std::string::npos) << *says;
}

TEST(PipeFound, AMeasuredWallIsTheBore) {
  auto town = one_main();
  auto found = ips("IPS 4", {});
  found.readings = {Length::from_si(0.009), Length::from_si(0.011)};
  ASSERT_TRUE(lay_over(town.network, 0, found));
  EXPECT_NEAR(town.network.pipes.bore[0].si(), 4.5 * 0.0254 - 2 * 0.010, 1e-9);
  EXPECT_TRUE(std::isnan(town.network.pipes.ratio[0]));
}

TEST(PipeFound, ARatioThatIsNotMadeIsTrouble) {
  auto town = one_main();
  EXPECT_EQ(lay_over(town.network, 0, ips("IPS 4", 12.34)).error().code, Code::unknown_ratio);
}

}  // namespace
}  // namespace bellhole::plan
