#include "flatten/press.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "tests/unit/flatten/rings.hpp"

namespace bellhole::flatten {
namespace {

TEST(Press, ElasticRingIsAsStiffAsCurvedBeamTheorySays) {
  const Press ring = elastic_ring(11, 8, 48);
  // Curved beam with normal force and shear, a ring under two opposite forces: from memory of
  // Roark's Formulas for Stress and Strain, "circular rings", case 1; in plane strain.
  const double want = roark_ring(ring);
  EXPECT_NEAR(ring_slope(ring) / want, 1.0, 0.01);
  EXPECT_NEAR(want / thin_ring(ring), 0.924, 0.002) << "a thick ring is softer than a thin one";
}

TEST(Press, SizesAreAlike) {
  Press small = short_pipe();
  small.stages.front().gap = Length::from_si(0.1);
  Press large = small;
  constexpr double scale = 3.0;
  large.shape.od *= scale;
  large.shape.wall *= scale;
  large.shape.half_length *= scale;
  large.shape.finest *= scale;
  large.bar_radius *= scale;
  for (Stage& stage : large.stages) stage.gap = stage.gap * scale;
  const Pressed a = pressed(small), b = pressed(large);
  ASSERT_EQ(a.samples.size(), b.samples.size());
  const double last = a.samples.back().force.si();
  for (std::size_t i = 0; i < a.samples.size(); ++i)
    EXPECT_NEAR(b.samples[i].force.si() / (scale * scale), a.samples[i].force.si(), 0.005 * last);
}

/// Hands the pieces out from the last to the first.
class Backward final : public Lanes {
 public:
  void for_each(std::size_t n, const std::function<void(std::size_t)>& work) override {
    for (std::size_t i = n; i > 0; --i) work(i - 1);
  }
};

TEST(Press, SameBitsWhateverTheLanesDo) {
  Press question = short_pipe();
  question.stages.front().swings = 3.0;
  Unwatched unwatched;
  Backward backward;
  const Pressed a = pressed(question);
  const auto b = press(question, unwatched, backward);
  ASSERT_TRUE(b);
  EXPECT_EQ(a.at_end, b->at_end);
  EXPECT_EQ(a.samples.back().force, b->samples.back().force);
  EXPECT_EQ(a.energy.strain, b->energy.strain);
}

TEST(Press, EnergyIsAccountedForAndSlowEnough) {
  Press question = short_pipe();
  question.stages.front().swings = 14.0;
  const Pressed out = pressed(question);
  EXPECT_LT(std::abs(out.energy.off()), 0.01);
  EXPECT_LT(out.energy.most_kinetic_share, 0.03);
  EXPECT_LT(out.energy.hourglass, 0.12 * out.energy.by_bars);
  EXPECT_GT(out.energy.by_bars, 0.0);
}

TEST(Press, HeldPipeEasesByTheRateOfItsMaterialAndOpensAgain) {
  Press question = short_pipe();
  const Length stop = question.stages.front().gap, away = Length::from_si(question.shape.od);
  question.stages.push_back({stop, Duration::from_si(900), 10.0});
  question.stages.push_back({away, Duration::from_si(60), 10.0});
  question.stages.push_back({away, Duration::from_si(3600), 10.0});
  const Pressed out = pressed(question);
  double before = 0.0, after_10 = 0.0, after_100 = 0.0;
  for (const Sample& sample : out.samples) {
    if (sample.stage == 0) before = sample.force.si();
    if (sample.stage != 1) continue;
    if (sample.real.si() < 10.0) after_10 = sample.force.si();
    if (sample.real.si() < 100.0) after_100 = sample.force.si();
  }
  EXPECT_LT(after_10, before);
  // A decade takes some 9 % of the force that was there: the material's share of yield.
  EXPECT_NEAR((after_10 - after_100) / before, 0.09, 0.025);
  EXPECT_EQ(out.samples.back().force.si(), 0.0) << "the bars are off";
  const auto crown = static_cast<std::size_t>(out.mesh.outer.back());
  const double closed = 2.0 * out.at_least_gap[crown][1], open = 2.0 * out.at_end[crown][1];
  EXPECT_GT(open, closed) << "it comes back";
  EXPECT_LT(open, question.shape.od * 0.9) << "but not all the way";
}

TEST(Press, GasStiffensAPipeInBending) {
  Press question = short_pipe();
  question.stages.front().gap = Length::from_si(question.shape.od * 0.6);
  const Pressed without = pressed(question);
  question.pressure = 0.4e6;
  const Pressed with = pressed(question);
  EXPECT_GT(with.samples.back().force.si(), 1.03 * without.samples.back().force.si());
  EXPECT_LT(with.energy.by_gas, 0.0) << "the gas is pushed back";
  EXPECT_LT(std::abs(with.energy.off()), 0.02);
}

class Stopped final : public Watch {
 public:
  bool tick(double fraction) override { return fraction < 0.3; }
};

TEST(Press, CanBeStoppedAndRefusesWhatIsNoPipe) {
  Stopped stopped;
  Unwatched unwatched;
  OneLane lane;
  const auto cancelled = press(short_pipe(), stopped, lane);
  ASSERT_FALSE(cancelled);
  EXPECT_EQ(cancelled.error().code, Code::cancelled);
  const auto refused = [&](const Press& question) {
    const auto out = press(question, unwatched, lane);
    return out ? std::string() : out.error().where;
  };
  Press question = short_pipe();
  question.shape.wall = question.shape.od * 0.6;
  EXPECT_EQ(refused(question), "wall");
  question = short_pipe();
  question.stages.front().real = Duration();
  EXPECT_EQ(refused(question), "stage");
  question = short_pipe();
  question.stages.front().gap = Length::from_si(1e-4);
  EXPECT_EQ(refused(question), "gap");
}

}  // namespace
}  // namespace bellhole::flatten
