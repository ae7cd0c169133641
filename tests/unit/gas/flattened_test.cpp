// What a squeeze leaves open, by hand; no published measurement is known.
#include "gas/flattened.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace bellhole::gas {
namespace {

constexpr double inch = 0.0254, psi = 6894.757293168;
const Length bore = Length::from_si(4.0 * inch), wall = Length::from_si(0.4 * inch);

Flattened at_clear(double inches) {
  return flattened(bore, wall, Length::from_si((inches + 0.8) * inch));
}

TEST(Flattened, KeepsItsCircumference) {
  for (double clear = 0.0; clear <= 4.0; clear += 0.25) {
    const Flattened now = at_clear(clear);
    const double round = std::numbers::pi * now.clear.si() + 2.0 * now.flat.si();
    EXPECT_NEAR(round, std::numbers::pi * bore.si(), 1e-12);
    // Half circles and the rectangle between them.
    const double h = now.clear.si();
    EXPECT_NEAR(now.area.si(), std::numbers::pi / 4.0 * h * h + h * now.flat.si(), 1e-15);
  }
}

TEST(Flattened, SharesByHand) {
  EXPECT_NEAR(at_clear(4.0).share, 1.0, 1e-12);
  EXPECT_NEAR(at_clear(2.0).share, 0.75, 1e-12);
  EXPECT_NEAR(at_clear(0.4).share, 0.19, 1e-12);
  EXPECT_NEAR(at_clear(0.04).share, 0.0199, 1e-12);
  EXPECT_EQ(flattened(bore, wall, Length::from_si(0.8 * inch)).share, 0.0);
  EXPECT_EQ(flattened(bore, wall, Length::from_si(0.5 * inch)).share, 0.0);
  EXPECT_EQ(flattened(bore, wall, Length::from_si(9.0 * inch)).share, 1.0);
}

TEST(Flattened, LossByHand) {
  EXPECT_EQ(squeeze_loss(1.0).least, 0.0);
  EXPECT_NEAR(squeeze_loss(1.0).most, 0.0, 1e-12);
  EXPECT_NEAR(squeeze_loss(open_share(0.5)).least, 1.0 / 9.0, 1e-12);
  EXPECT_NEAR(squeeze_loss(open_share(0.5)).most, 0.485, 0.01);
  EXPECT_NEAR(squeeze_loss(open_share(0.1)).least, 18.17, 0.01);
  EXPECT_NEAR(squeeze_loss(open_share(0.1)).most, 53.8, 0.3);
  EXPECT_TRUE(std::isinf(squeeze_loss(0.0).least));
  EXPECT_TRUE(std::isinf(squeeze_loss(0.0).most));
}

TEST(Flattened, EveryBitOfTravelCostsMore) {
  LossRange before = squeeze_loss(1.0);
  for (double y = 0.999; y > 0.0; y -= 0.001) {
    const LossRange now = squeeze_loss(open_share(y));
    EXPECT_GT(now.least, before.least) << y;
    EXPECT_GT(now.most, before.most) << y;
    EXPECT_GE(now.most, now.least) << y;
    before = now;
  }
}

TEST(Flattened, CostsAlmostNothingUntilTheLastTenth) {
  // Against 1,000 pipe diameters of main at a friction of 0.015: K = 15.
  EXPECT_LT(squeeze_loss(open_share(0.5)).most, 0.05 * 15.0);
  EXPECT_GT(squeeze_loss(open_share(0.05)).least, 5.0 * 15.0);
}

TEST(Flattened, PassesByHand) {
  const Flowing gas = flowing(*from_gravity(0.6), Temperature::from_si(288.70555));
  const auto at = [](double gauge) { return AbsolutePressure::from_si((14.7 + gauge) * psi); };
  // K = 18.17 on a 4 inch bore, 60 to 59 psig. K rho v^2/2 = 1 psi with rho of the mean pressure.
  const double k = squeeze_loss(open_share(0.1)).least;
  const double density = gas.density(at(59.5).si());
  const double area = std::numbers::pi / 4.0 * bore.si() * bore.si();
  const double by_hand = area * std::sqrt(2.0 * density * psi / k);
  EXPECT_NEAR(passes(gas, bore, k, at(60), at(59)).si(), by_hand, 1e-3 * by_hand);
  EXPECT_NEAR(passes(gas, bore, k, at(59), at(60)).si(), -by_hand, 1e-3 * by_hand);
  // Into the open air it chokes: 0.667 of p A / sqrt(R T) for an exponent of 1.30.
  const double slot = area / (1.0 + std::sqrt(k));
  const double choked = 0.6673 * slot * at(60).si() /
                        std::sqrt(gas.z(at(60).si()) * gas.specific_constant * gas.temperature_k);
  EXPECT_NEAR(passes(gas, bore, k, at(60), at(0)).si(), choked, 2e-4 * choked);
  EXPECT_EQ(passes(gas, bore, squeeze_loss(0.0).least, at(60), at(0)).si(), 0.0);
}

}  // namespace
}  // namespace bellhole::gas
