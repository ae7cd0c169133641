// The press on meshes and at speeds that take minutes: how far its numbers are from those of a
// finer one, and from what books say.
#include <gtest/gtest.h>

#include <cmath>
#include <cstdio>

#include "tests/unit/flatten/rings.hpp"

namespace bellhole::flatten {
namespace {

TEST(PressDeep, ElasticRingsWithinAPercentOfCurvedBeamTheory) {
  for (const double ratio : {9.0, 11.0, 17.0, 26.0}) {
    const Press ring =
        ratio < 15.0 ? elastic_ring(ratio, 8, 48) : elastic_ring(ratio, 5, ratio < 20.0 ? 36 : 72);
    EXPECT_NEAR(ring_slope(ring) / roark_ring(ring), 1.0, 0.01) << ratio;
  }
}

TEST(PressDeep, PlasticRingCarriesFourHinges) {
  Press ring = plastic_ring(41, 6, 80, 2e6);
  ring.stages = {{Length::from_si(ring.shape.od * 0.84), Duration::from_si(60), 10.0}};
  const Pressed out = pressed(ring);
  for (const Sample& sample : out.samples) {
    const double way = 1.0 - sample.gap.si() / ring.shape.od;
    const double share = sample.force.si() / out.thickness / four_hinges(ring, 2e6);
    std::printf("way %.3f of OD: %.3f of four hinges\n", way, share);
    // Flat plates: DeRuntz and Hodge, J. Appl. Mech. 30 (1963) 391, from memory.
    if (way > 0.12) {
      EXPECT_NEAR(share * std::sqrt(1.0 - way * way), 1.0, 0.05) << way;
    }
  }
}

/// An IPS 8 pipe in the bricks of an ordinary run, pressed to its stops.
Press whole_pipe(double ratio) {
  Press question = short_pipe();
  question.shape.wall = question.shape.od / ratio;
  question.shape.half_length = 2.5 * question.shape.od;
  question.shape.finest = 0.003;
  question.shape.through = 5;
  question.shape.around = 30;
  question.shape.along = 28;
  question.shape.toward_ear = 2.0;
  question.stages = {{Length::from_si(1.4 * question.shape.wall), Duration::from_si(120), 14.0}};
  return question;
}

/// Forces at gap / 2 t of 3, 2, 1.3 and at the stops.
std::array<double, 4> forces(const Press& question) {
  const Pressed out = pressed(question);
  std::array<double, 4> list{};
  for (const Sample& sample : out.samples) {
    const double x = sample.gap.si() / (2.0 * question.shape.wall);
    for (std::size_t i = 0; i < 3; ++i)
      if (x > std::array{3.0, 2.0, 1.3}[i]) list[i] = sample.force.si();
    list[3] = sample.force.si();
  }
  return list;
}

void compare(const char* what, const std::array<double, 4>& a, const std::array<double, 4>& b,
             double within) {
  for (std::size_t i = 0; i < 4; ++i) {
    std::printf("%s: %.2f kN, changed by %+.2f %%\n", what, a[i] / 1e3, 100.0 * (b[i] / a[i] - 1));
    EXPECT_NEAR(b[i] / a[i], 1.0, within) << what << " " << i;
  }
}

TEST(PressDeep, SpeedAndHourglassAndMeshHardlyMatter) {
  const Press question = whole_pipe(11);
  const auto base = forces(question);
  Press other = question;
  other.stages.front().swings *= 2.0;
  compare("half the speed", base, forces(other), 0.02);
  other = question;
  other.hourglass = 0.5;
  compare("half the hourglass stiffness", base, forces(other), 0.03);
  other = question;
  other.shape.through = 6;
  other.shape.around = 40;
  other.shape.along = 36;
  other.shape.finest = 0.0024;
  compare("a finer mesh", base, forces(other), 0.03);
}

TEST(PressDeep, AFullLengthPipeIsAccountedFor) {
  const Pressed out = pressed(whole_pipe(17));
  EXPECT_LT(std::abs(out.energy.off()), 0.005);
  EXPECT_LT(out.energy.most_kinetic_share, 0.02);
}

}  // namespace
}  // namespace bellhole::flatten
