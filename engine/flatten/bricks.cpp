#include "flatten/bricks.hpp"

#include <algorithm>
#include <cmath>

namespace bellhole::flatten {
namespace {

using Lane3 = std::array<Lane, 3>;
using Lane33 = std::array<Lane3, 3>;
using Corners = std::array<Lane3, 8>;
using Symmetric = std::array<Lane, 6>;  // xx yy zz xy yz zx, tensor shear

// Sums over the corners with the signs of a pattern, whose number has the bits of the sides that it
// changes sign along: 0 a shift; 1, 2, 4 the gradients; 3, 5, 6, 7 the hourglasses.
constexpr std::array<std::size_t, 3> gradient{1, 2, 4};
constexpr std::array<std::size_t, 4> hourglass{6, 5, 3, 7};

/// Corners to patterns and back (times 8): a Walsh-Hadamard transform, in place.
void transform(Corners& c) {
  for (std::size_t bit = 1; bit < 8; bit *= 2) {
    for (std::size_t n = 0; n < 8; ++n) {
      if ((n & bit) != 0) continue;
      for (std::size_t i = 0; i < 3; ++i) {
        const Lane low = c[n][i], high = c[n | bit][i];
        c[n][i] = low + high;
        c[n | bit][i] = high - low;
      }
    }
  }
}

/// The same with the signs of the way back: pattern numbers to corners.
void transform_back(Corners& c) {
  for (std::size_t bit = 1; bit < 8; bit *= 2) {
    for (std::size_t n = 0; n < 8; ++n) {
      if ((n & bit) != 0) continue;
      for (std::size_t i = 0; i < 3; ++i) {
        const Lane even = c[n][i], odd = c[n | bit][i];
        c[n][i] = even - odd;
        c[n | bit][i] = even + odd;
      }
    }
  }
}

Lane3 cross(const Lane3& a, const Lane3& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}

/// Of the map from a cube of side 2 to the brick: columns d position / d natural coordinate.
struct Jacobian {
  Lane33 column{};   ///< [natural coordinate][space]
  Lane33 inverse{};  ///< [natural coordinate][space]
  Lane volume{};
};

Jacobian jacobian_of(const Corners& patterns) {
  Jacobian j;
  for (std::size_t k = 0; k < 3; ++k)
    for (std::size_t i = 0; i < 3; ++i) j.column[k][i] = patterns[gradient[k]][i] * 0.125F;
  const Lane3 r0 = cross(j.column[1], j.column[2]), r1 = cross(j.column[2], j.column[0]),
              r2 = cross(j.column[0], j.column[1]);
  const Lane det = j.column[0][0] * r0[0] + j.column[0][1] * r0[1] + j.column[0][2] * r0[2];
  const Lane by = 1.0F / det;
  for (std::size_t i = 0; i < 3; ++i) {
    j.inverse[0][i] = r0[i] * by;
    j.inverse[1][i] = r1[i] * by;
    j.inverse[2][i] = r2[i] * by;
  }
  j.volume = 8.0F * det;
  return j;
}

/// R moves toward the rotation of F, by a third of what it lags at the least each step; it stays
/// orthogonal (Cayley). After Mueller, Bender, Chentanez, Macklin, Motion in Games (2016) 55.
void follow(Lane33& r, const Lane33& f) {
  Lane3 axis{};
  Lane along = lane_of(1e-12F);
  for (std::size_t c = 0; c < 3; ++c) {
    const Lane3 rc{r[0][c], r[1][c], r[2][c]}, fc{f[0][c], f[1][c], f[2][c]};
    const Lane3 turn = cross(rc, fc);
    for (std::size_t i = 0; i < 3; ++i) axis[i] += turn[i];
    along += rc[0] * fc[0] + rc[1] * fc[1] + rc[2] * fc[2];
  }
  const Lane half = 0.5F / along;
  for (Lane& each : axis) each *= half;
  const Lane by = 2.0F / (1.0F + axis[0] * axis[0] + axis[1] * axis[1] + axis[2] * axis[2]);
  for (std::size_t c = 0; c < 3; ++c) {
    const Lane3 rc{r[0][c], r[1][c], r[2][c]};
    const Lane3 once = cross(axis, rc), twice = cross(axis, once);
    for (std::size_t i = 0; i < 3; ++i) r[i][c] += by * (once[i] + twice[i]);
  }
}

/// M in the frame of R: R^T M R; or out of it: R M R^T.
template <bool into>
Symmetric rotate(const Lane33& r, const Symmetric& m) {
  const auto q = [&](std::size_t i, std::size_t j) { return into ? r[j][i] : r[i][j]; };
  const std::array<std::array<std::size_t, 3>, 3> full{{{0, 3, 5}, {3, 1, 4}, {5, 4, 2}}};
  Lane33 half{};
  for (std::size_t i = 0; i < 3; ++i)
    for (std::size_t j = 0; j < 3; ++j)
      half[i][j] = q(i, 0) * m[full[0][j]] + q(i, 1) * m[full[1][j]] + q(i, 2) * m[full[2][j]];
  const auto entry = [&](std::size_t i, std::size_t j) {
    return half[i][0] * q(j, 0) + half[i][1] * q(j, 1) + half[i][2] * q(j, 2);
  };
  return {entry(0, 0), entry(1, 1), entry(2, 2), entry(0, 1), entry(1, 2), entry(2, 0)};
}

}  // namespace

struct Bricks::Kernel {
  const Overlay& material;
  const Step& step;
  const std::vector<Flowing>& flowing;
  Block& block;
  BranchState* branch;

  /// A stiffness that changes with the flow can feed a shiver, so hourglasses are damped as well:
  /// share of the critical for one that swings with the whole modulus.
  static constexpr float damped = 0.25F;

  /// Share of the modulus that hourglasses meet at the least, lest a perfectly plastic brick fold.
  static constexpr float least_tangent = 0.001F;

  /// Equivalent stress after flow. Of w + a exp(w) = w_trial, w = q / (c Y), one step of Newton's
  /// method from w_trial: steps are so short that this is all (tests/unit/flatten), and where the
  /// material's clock jumps it takes a unit of c Y a step, never too much.
  static Lane relaxed(const Flowing& f, Lane trial) {
    if (f.unit <= 0.0F) return least(trial, lane_of(f.yield));
    const Lane y = power_of_e(trial * f.by_unit + f.ln_a);
    return most(trial - f.unit * (y / (1.0F + y)), lane_of(0.0F));
  }

  static void gather(const Block& block, std::span<const Vector> of, bool relative, Corners& out) {
    for (std::size_t w = 0; w < lane_width; ++w) {
      const auto& nodes = block.nodes[w];
      const Vector first =
          relative ? of[static_cast<std::size_t>(nodes[0])] : Vector{0.0, 0.0, 0.0};
      for (std::size_t n = 0; n < 8; ++n) {
        const Vector& from = of[static_cast<std::size_t>(nodes[n])];
        for (std::size_t i = 0; i < 3; ++i) out[n][i][w] = static_cast<float>(from[i] - first[i]);
      }
    }
  }

  struct Flow {
    Symmetric deviator{};
    Lane gave{};  ///< sum of what the branches' equivalent stresses lost to flow
  };

  /// Moves the branches on by a strain increment in the turning frame, xx yy . xy yz zx.
  Flow flow(const std::array<Lane, 5>& strain) {
    Flow all;
    for (std::size_t b = 0; b < flowing.size(); ++b) {
      const Flowing& f = flowing[b];
      BranchState& s = branch[b];
      for (std::size_t i = 0; i < 5; ++i) s[i] += f.twice_shear * strain[i];
      const Lane trial = root(3.0F * (s[0] * s[0] + s[1] * s[1] + s[0] * s[1] + s[2] * s[2] +
                                      s[3] * s[3] + s[4] * s[4]));
      const Lane now = relaxed(f, trial);
      const Lane share = now / most(trial, lane_of(1e-20F));
      for (Lane& each : s) each *= share;
      all.gave += trial - now;
      all.deviator[0] += s[0];
      all.deviator[1] += s[1];
      for (std::size_t i = 3; i < 6; ++i) all.deviator[i] += s[i - 1];
    }
    all.deviator[2] = -(all.deviator[0] + all.deviator[1]);
    return all;
  }

  /// Shear modulus against going on as lately. A mean over some steps, since a brick that shivers
  /// would else be stiff on its way out and soft on its way back, and gain from it.
  Lane tangent(const std::array<Lane, 5>& strain, Lane gave) {
    const auto share = static_cast<float>(step.lately);
    auto& e = block.lately;
    for (std::size_t i = 0; i < 5; ++i) e[i] += share * (strain[i] - e[i]);
    block.flowed_lately += share * (gave - block.flowed_lately);
    // von Mises: root of 2/3 e : e.
    const Lane size =
        root(4.0F / 3.0F *
             (e[0] * e[0] + e[1] * e[1] + e[0] * e[1] + e[2] * e[2] + e[3] * e[3] + e[4] * e[4]));
    const auto whole = static_cast<float>((material.shear() + material.network) * step.yields);
    const Lane left = whole - block.flowed_lately * (1.0F / 3.0F) / most(size, lane_of(1e-12F));
    return least(most(left, lane_of(least_tangent * whole)), lane_of(whole));
  }

  /// Adds the rubber network and the pressure, in space.
  void add_elastic(Symmetric& stress, const Lane33& f) const {
    const auto entry = [&](std::size_t i, std::size_t k) {
      return f[i][0] * f[k][0] + f[i][1] * f[k][1] + f[i][2] * f[k][2];
    };
    Symmetric b{entry(0, 0), entry(1, 1), entry(2, 2), entry(0, 1), entry(1, 2), entry(2, 0)};
    const Lane mean = (b[0] + b[1] + b[2]) * (1.0F / 3.0F);
    const Lane ln = block.log_volume;
    const Lane factor =
        static_cast<float>(material.network * step.yields) * power_of_e(ln * (-5.0F / 3.0F));
    const Lane pull = static_cast<float>(material.bulk * step.yields) * ln * power_of_e(-ln);
    for (std::size_t i = 0; i < 6; ++i)
      stress[i] += factor * (i < 3 ? b[i] - mean : b[i]) + (i < 3 ? pull : lane_of(0.0F));
  }

  /// Stiffness against hourglass `mode` in a direction of the frame, N/m for the share of the
  /// pattern: of the strain that the pattern has and the middle does not see, bending without the
  /// shear that bending does not have, and twist; for a brick with square corners.
  static Lane resists(std::size_t mode, std::size_t direction, const Lane3& inverse2) {
    constexpr float plane_strain = 4.0F;  // E / (1 - nu2) over G without change of volume
    constexpr float all_three = 0.05F;    // of the pattern of all three, which hardly ever matters
    if (mode == 3) return all_three * inverse2[direction];
    if (direction != mode) return plane_strain / 6.0F * inverse2[direction];
    return (inverse2[(mode + 1) % 3] + inverse2[(mode + 2) % 3]) * (1.0F / 6.0F);
  }

  void resist_hourglasses(const Jacobian& now, const Corners& at, const Corners& v, const Lane33& l,
                          Lane shear, Corners& out) {
    Lane3 inverse2{};
    for (std::size_t k = 0; k < 3; ++k) {
      const Lane3& c = now.column[k];
      inverse2[k] = 0.25F / (c[0] * c[0] + c[1] * c[1] + c[2] * c[2]);
    }
    const auto seconds = static_cast<float>(step.seconds);
    const Lane stiff = shear * now.volume * (static_cast<float>(step.hourglass) * 0.125F * seconds);
    const auto whole = static_cast<float>((material.shear() + material.network) * step.yields *
                                          step.density * step.hourglass / 512.0);
    const Lane drag = 2.0F * damped * now.volume *
                      root(whole * (inverse2[0] + inverse2[1] + inverse2[2]) * (1.0F / 3.0F));
    // Of a strain that varies across a brick, its stress varies by the tangent: where the brick
    // softens, so do its hourglass forces. The other way round would make energy.
    const Lane softer = least(shear / most(block.tangent, lane_of(1.0F)), lane_of(1.0F));
    block.tangent = shear;
    for (std::size_t mode = 0; mode < 4; ++mode) {
      const Lane3 &moved = at[hourglass[mode]], &moves = v[hourglass[mode]];
      Lane3 speed{}, all{}, pull{};
      for (std::size_t i = 0; i < 3; ++i)
        speed[i] = moves[i] - (l[i][0] * moved[0] + l[i][1] * moved[1] + l[i][2] * moved[2]);
      Lane3& q = block.hourglass[mode];
      const Lane33& r = block.turned;
      for (std::size_t i = 0; i < 3; ++i) {
        const Lane turning = r[0][i] * speed[0] + r[1][i] * speed[1] + r[2][i] * speed[2];
        const Lane before = q[i];
        q[i] = before * softer + stiff * resists(mode, i, inverse2) * turning;
        all[i] = q[i] + drag * turning;
        block.hourglass_work += (all[i] + 0.5F * (before - q[i])) * turning * seconds;
      }
      for (std::size_t i = 0; i < 3; ++i) {
        pull[i] = r[i][0] * all[0] + r[i][1] * all[1] + r[i][2] * all[2];
        out[hourglass[mode]][i] = -pull[i];
      }
      for (std::size_t k = 0; k < 3; ++k) {
        const Lane along = 0.125F * (moved[0] * now.inverse[k][0] + moved[1] * now.inverse[k][1] +
                                     moved[2] * now.inverse[k][2]);
        for (std::size_t i = 0; i < 3; ++i) out[gradient[k]][i] += pull[i] * along;
      }
    }
  }

  /// Rate of deformation at the middle of the step, by the gradient of the velocity at its end and
  /// half its length: turning would else seem to shrink the brick.
  static Symmetric rate_of(const Lane33& l, float half) {
    const auto entry = [&](std::size_t i, std::size_t j) {
      return l[i][j] + half * (l[i][0] * l[0][j] + l[i][1] * l[1][j] + l[i][2] * l[2][j]);
    };
    return {entry(0, 0),
            entry(1, 1),
            entry(2, 2),
            0.5F * (entry(0, 1) + entry(1, 0)),
            0.5F * (entry(1, 2) + entry(2, 1)),
            0.5F * (entry(2, 0) + entry(0, 2))};
  }

  void move(std::span<const Vector> positions, std::span<const Vector> velocities) {
    Corners at{}, v{};
    gather(block, positions, true, at);
    gather(block, velocities, false, v);
    transform(at);
    transform(v);
    const Jacobian now = jacobian_of(at);
    Lane33 f{}, l{};
    for (std::size_t i = 0; i < 3; ++i) {
      for (std::size_t j = 0; j < 3; ++j) {
        f[i][j] = now.column[0][i] * block.begun[0][j] + now.column[1][i] * block.begun[1][j] +
                  now.column[2][i] * block.begun[2][j];
        l[i][j] = 0.125F * (v[1][i] * now.inverse[0][j] + v[2][i] * now.inverse[1][j] +
                            v[4][i] * now.inverse[2][j]);
      }
    }
    follow(block.turned, f);
    const auto seconds = static_cast<float>(step.seconds);
    const Symmetric turned = rotate<true>(block.turned, rate_of(l, 0.5F * seconds));
    const Lane mean = (turned[0] + turned[1] + turned[2]) * (1.0F / 3.0F);
    const std::array<Lane, 5> strain{(turned[0] - mean) * seconds, (turned[1] - mean) * seconds,
                                     turned[3] * seconds, turned[4] * seconds, turned[5] * seconds};
    const Flow flowed = flow(strain);
    const Lane shear = tangent(strain, flowed.gave);
    Symmetric stress = rotate<false>(block.turned, flowed.deviator);
    // What the volume is tells of its change in the last digits of a float only, and such a noise
    // heats the pipe; what it changes by is exact enough, and is held to the other in the long run.
    constexpr float holds = 0.01F;
    block.log_volume += 3.0F * mean * seconds;
    block.log_volume += holds * (log_near_one(now.volume / block.begun_volume) - block.log_volume);
    add_elastic(stress, f);
    Corners out{};
    const Lane by = now.volume * -0.125F;
    for (std::size_t k = 0; k < 3; ++k) {
      const Lane3& g = now.inverse[k];
      out[gradient[k]] = {by * (stress[0] * g[0] + stress[3] * g[1] + stress[5] * g[2]),
                          by * (stress[3] * g[0] + stress[1] * g[1] + stress[4] * g[2]),
                          by * (stress[5] * g[0] + stress[4] * g[1] + stress[2] * g[2])};
    }
    resist_hourglasses(now, at, v, l, shear, out);
    // With the mean of the forces before and after, or every shiver would seem to do work.
    for (std::size_t p = 1; p < 8; ++p)
      for (std::size_t i = 0; i < 3; ++i)
        block.all_work -= (block.pull[p][i] + out[p][i]) * v[p][i] * (0.5F * seconds);
    block.pull = out;
    transform_back(out);
    block.force = out;
  }

  /// The frame begins along the brick's own sides; the Jacobian's inverse is taken in it.
  static void begin(Block& block, std::span<const Vector> positions) {
    Corners at{};
    gather(block, positions, true, at);
    transform(at);
    const Jacobian now = jacobian_of(at);
    block.begun_volume = now.volume;
    Lane33 axis{};
    for (std::size_t k = 0; k < 3; ++k) {
      Lane3 side = now.column[k];
      for (std::size_t done = 0; done < k; ++done) {
        const Lane along =
            side[0] * axis[done][0] + side[1] * axis[done][1] + side[2] * axis[done][2];
        for (std::size_t i = 0; i < 3; ++i) side[i] -= along * axis[done][i];
      }
      const Lane by = 1.0F / root(side[0] * side[0] + side[1] * side[1] + side[2] * side[2]);
      for (std::size_t i = 0; i < 3; ++i) {
        axis[k][i] = side[i] * by;
        block.turned[i][k] = axis[k][i];
      }
    }
    for (std::size_t k = 0; k < 3; ++k)
      for (std::size_t j = 0; j < 3; ++j)
        block.begun[k][j] = now.inverse[k][0] * axis[j][0] + now.inverse[k][1] * axis[j][1] +
                            now.inverse[k][2] * axis[j][2];
  }
};

Bricks::Bricks(const Mesh& mesh, const Overlay& material)
    : material_(material),
      blocks_((mesh.bricks.size() + lane_width - 1) / lane_width),
      branches_(blocks_.size() * material.branches.size()),
      count_(mesh.bricks.size()) {
  for (std::size_t b = 0; b < blocks_.size(); ++b) {
    for (std::size_t w = 0; w < lane_width; ++w) {
      const std::size_t brick = b * lane_width + w;
      blocks_[b].nodes[w] = mesh.bricks[std::min(brick, count_ - 1)];
    }
    Kernel::begin(blocks_[b], mesh.nodes);
  }
}

void Bricks::set(const Step& step) {
  step_ = step;
  flowing_.clear();
  for (const Branch& branch : material_.branches) {
    const double shear = branch.shear * step.yields, yield = branch.yield * step.yields;
    const double unit = material_.per_e_fold * yield;
    Flowing f{.twice_shear = static_cast<float>(2.0 * shear), .yield = static_cast<float>(yield)};
    if (unit > 0.0) {
      f.unit = static_cast<float>(unit);
      f.by_unit = static_cast<float>(1.0 / unit);
      f.ln_a = static_cast<float>(
          std::log(3.0 * shear * material_.reference_rate * step.material_seconds / unit) -
          1.0 / material_.per_e_fold);
    }
    flowing_.push_back(f);
  }
}

void Bricks::move(std::size_t block, std::span<const Vector> at, std::span<const Vector> v) {
  Kernel{material_, step_, flowing_, blocks_[block],
         branches_.data() + block * material_.branches.size()}
      .move(at, v);
}

Vector Bricks::force(std::size_t brick, std::size_t corner) const {
  const auto& f = blocks_[brick / lane_width].force[corner];
  const std::size_t w = brick % lane_width;
  return {f[0][w], f[1][w], f[2][w]};
}

double Bricks::volume(std::size_t brick) const {
  return blocks_[brick / lane_width].begun_volume[brick % lane_width];
}

double Bricks::stable_step(std::size_t block, double yields, double density,
                           std::span<const Vector> at) const {
  Corners c{};
  Kernel::gather(blocks_[block], at, true, c);
  transform(c);
  const Jacobian j = jacobian_of(c);
  // Greatest eigenvalue of J^-1 J^-T, by its rows: tight where the corners are square.
  Lane greatest{};
  for (std::size_t k = 0; k < 3; ++k) {
    Lane row{};
    for (std::size_t m = 0; m < 3; ++m) {
      const Lane dot = j.inverse[k][0] * j.inverse[m][0] + j.inverse[k][1] * j.inverse[m][1] +
                       j.inverse[k][2] * j.inverse[m][2];
      row += most(dot, -dot);
    }
    greatest = most(greatest, row);
  }
  const Lane rate2 = greatest * j.volume / blocks_[block].begun_volume;
  double least_step = HUGE_VAL;
  for (std::size_t w = 0; w < lane_width; ++w) {
    if (!(j.volume[w] > 0.0F)) return 0.0;
    const double omega2 =
        material_.longitudinal() * yields / density * static_cast<double>(rate2[w]);
    least_step = std::min(least_step, 2.0 / std::sqrt(omega2));
  }
  return least_step;
}

Bricks::Work Bricks::work() const {
  Work all;
  for (std::size_t brick = 0; brick < count_; ++brick) {
    const Block& block = blocks_[brick / lane_width];
    const double unseen = block.hourglass_work[brick % lane_width];
    all.hourglass += unseen;
    all.strain += static_cast<double>(block.all_work[brick % lane_width]) - unseen;
  }
  return all;
}

}  // namespace bellhole::flatten
