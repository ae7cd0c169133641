#include "flatten/bricks.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>
#include <numbers>

namespace bellhole::flatten {
namespace {

TEST(Lane, ExponentialAndLogarithm) {
  for (double x = -79.0; x < 79.0; x += 0.37) {
    const double got = power_of_e(lane_of(static_cast<float>(x)))[2];
    EXPECT_NEAR(got / std::exp(static_cast<double>(static_cast<float>(x))), 1.0, 3e-7);
  }
  for (double x = 0.7; x < 1.4; x += 0.01)
    EXPECT_NEAR(log_near_one(lane_of(static_cast<float>(x)))[1],
                std::log(static_cast<double>(static_cast<float>(x))), 1e-6);
}

TEST(Overlay, FollowsTheCurveThatItIsMadeFrom) {
  const Overlay pe = pe_overlay();
  EXPECT_NEAR(3.0 * (pe.shear() + pe.network), 1e9, 0.06e9) << "the slope at the start, at nu 0.42";
  // True stress at 4.5 % plastic strain: the branches that have yielded, the rest elastic.
  const double strain = 0.045 + 22.5e6 / 1e9;
  double stress = 3.0 * pe.network * strain;
  for (const Branch& b : pe.branches) stress += std::min(b.yield, 2.0 * 1.42 * b.shear * strain);
  EXPECT_NEAR(stress / 22.5e6, 1.0, 0.01);
}

/// One brick, its corners moved as told.
struct Alone {
  Mesh mesh;
  std::vector<Vector> at;
  Bricks bricks;
  static Mesh cube() {
    Mesh mesh;
    for (int n = 0; n < 8; ++n)
      mesh.nodes.push_back({0.01 * (n & 1), 0.01 * (n >> 1 & 1), 0.01 * (n >> 2 & 1)});
    mesh.bricks.push_back({0, 1, 2, 3, 4, 5, 6, 7});
    return mesh;
  }
  explicit Alone(const Overlay& material) : mesh(cube()), at(mesh.nodes), bricks(mesh, material) {}

  /// To corners given by `to(corner as it was)`.
  template <class F>
  void move(const F& to, double seconds, double material_seconds) {
    std::vector<Vector> v(8);
    for (std::size_t n = 0; n < 8; ++n) {
      const Vector next = to(mesh.nodes[n]);
      for (std::size_t i = 0; i < 3; ++i) v[n][i] = (next[i] - at[n][i]) / seconds;
      at[n] = next;
    }
    bricks.set({.seconds = seconds, .material_seconds = material_seconds});
    bricks.move(0, at, v);
  }
  /// Pull of the face x = 0.01 over the area that it has.
  [[nodiscard]] double stress() const {
    double sum = 0.0;
    for (const std::size_t n : {1, 3, 5, 7}) sum -= bricks.force(0, n)[0];
    return sum / ((at[2][1] - at[0][1]) * (at[4][2] - at[0][2]));
  }
};

Overlay one_branch(double per_decade) {
  return {.branches = {{350e6, 25e6}}, .bulk = 2083e6, .per_e_fold = per_decade / std::log(10.0)};
}

RC_GTEST_PROP(Bricks, TurningAloneChangesNothing, ()) {
  const double turn = *rc::gen::inRange(-300, 300) / 100.0;
  Alone brick(pe_overlay());
  const auto stretched = [](const Vector& x) { return Vector{1.01 * x[0], 0.995 * x[1], x[2]}; };
  constexpr int steps = 4000;
  for (int i = 1; i <= 50; ++i)
    brick.move(
        [&](const Vector& x) {
          return Vector{(1.0 + 0.01 * i / 50) * x[0], (1.0 - 0.005 * i / 50) * x[1], x[2]};
        },
        1e-6, 1e-9);
  const double before = brick.stress();
  for (int i = 1; i <= steps; ++i) {
    const double a = turn * i / steps, c = std::cos(a), s = std::sin(a);
    brick.move(
        [&](const Vector& x) {
          const Vector y = stretched(x);
          return Vector{c * y[0] - s * y[1], s * y[0] + c * y[1], y[2]};
        },
        1e-6, 1e-9);
  }
  double pull = 0.0;
  for (const std::size_t n : {1, 3, 5, 7}) {
    const Vector f = brick.bricks.force(0, n);
    pull -= f[0] * std::cos(turn) + f[1] * std::sin(turn);
  }
  RC_ASSERT(std::abs(pull / (0.995e-4) / before - 1.0) < 0.005);
}

TEST(Bricks, PlaneStrainYieldsAtTheStressOfMises) {
  Alone brick(one_branch(0.0));
  // Squeezed along x, let go along y without change of volume, held along z.
  for (int i = 1; i <= 2000; ++i) {
    const double stretch = std::exp(-0.1 * i / 2000);
    brick.move([&](const Vector& x) { return Vector{x[0] * stretch, x[1] / stretch, x[2]}; }, 1e-6,
               1e-3);
  }
  // Without a mean stress the deviator alone: half of 2/sqrt(3) Y on each side.
  EXPECT_NEAR(brick.stress() / (-25e6 / std::sqrt(3.0)), 1.0, 0.002);
}

TEST(Bricks, ADecadeOfRateIsWorthItsShare) {
  const auto at_rate = [](double rate) {
    Alone brick(one_branch(0.09));
    constexpr int steps = 8000;
    for (int i = 1; i <= steps; ++i) {
      const double stretch = std::exp(-0.2 * i / steps);
      // Equivalent strain of plane strain: 2/sqrt(3) of the larger.
      brick.move([&](const Vector& x) { return Vector{x[0] * stretch, x[1] / stretch, x[2]}; },
                 1e-6, 2.0 / std::sqrt(3.0) * 0.2 / steps / rate);
    }
    return -brick.stress() * std::sqrt(3.0) / 25e6;
  };
  EXPECT_NEAR(at_rate(0.01), 1.0, 0.004);
  EXPECT_NEAR(at_rate(0.1), 1.09, 0.004);
}

TEST(Bricks, RelaxesAsASpringOnAnExponentialDashpot) {
  Alone brick(one_branch(0.09));
  for (int i = 1; i <= 4000; ++i) {
    const double stretch = std::exp(-0.1 * i / 4000);
    brick.move([&](const Vector& x) { return Vector{x[0] * stretch, x[1] / stretch, x[2]}; }, 1e-6,
               2.0 / std::sqrt(3.0) * 0.1 / 4000 / 0.01);
  }
  const double begun = -brick.stress() * std::sqrt(3.0);
  const std::vector<Vector> there = brick.at;
  double held = 0.0;
  for (int i = 0; i < 6000; ++i) {
    const double next = 1e-4 * std::pow(10.0, 7.0 * (i + 1) / 6000.0);
    std::size_t n = 0;
    brick.move([&](const Vector&) { return there[n++]; }, 1e-6, next - held);
    held = next;
  }
  // q(t) = q0 - c Y ln(1 + t / tau), tau = c Y / (3 G rate): by separation of the variables.
  const double unit = 0.09 / std::log(10.0) * 25e6, tau = unit / (3.0 * 350e6 * 0.01);
  const double want = begun - unit * std::log(1.0 + held / tau);
  EXPECT_NEAR(-brick.stress() * std::sqrt(3.0) / want, 1.0, 0.002);
}

TEST(Bricks, BendingIsSeenByHourglassForces) {
  Alone brick(one_branch(0.0));
  // Corners 1 and 7 patterns: x changes sign with y: bending about z.
  for (int i = 1; i <= 100; ++i) {
    brick.move(
        [&](const Vector& x) {
          const double twist = 1e-7 * i * ((x[0] > 0.005) == (x[1] > 0.005) ? 1.0 : -1.0);
          return Vector{x[0] + twist, x[1], x[2]};
        },
        1e-3, 1e-3);
  }
  EXPECT_LT(brick.bricks.force(0, 3)[0], 0.0);
  EXPECT_GT(brick.bricks.force(0, 1)[0], 0.0);
  // A cube's side in pure bending: strain from -e to e, energy a third of the uniform strain's.
  const double strain = 1e-5 / 0.005, volume = 1e-6;
  const double want = 0.5 * 4.0 * 350e6 * strain * strain / 3.0 * volume;
  EXPECT_NEAR(brick.bricks.work().hourglass / want, 1.0, 0.05);
  EXPECT_NEAR(brick.bricks.work().strain, 0.0, 0.01 * want);
}

TEST(Bricks, AStepIsStableForTheShortestSide) {
  Alone brick(one_branch(0.0));
  const double speed = std::sqrt((2083e6 + 4.0 / 3.0 * 350e6) / 950.0);
  EXPECT_NEAR(brick.bricks.stable_step(0, 1.0, 950.0, brick.at) / (0.01 / speed), 1.0, 0.01);
  std::vector<Vector> flat = brick.at;
  for (Vector& x : flat) x[0] = -x[0];
  EXPECT_EQ(brick.bricks.stable_step(0, 1.0, 950.0, flat), 0.0);
}

}  // namespace
}  // namespace bellhole::flatten
