#include "flatten/press.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bellhole::flatten {
namespace {

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

constexpr double safety = 0.85;          // of the stable step
constexpr std::int64_t look_again = 50;  // steps between two looks at the stable step
constexpr std::size_t chunk = 1024;      // nodes a lane takes at a time
constexpr std::size_t block_chunk = 64;  // blocks of bricks
constexpr double least_gap = 0.5;        // of the wall; what is flatter is cut, not squeezed
constexpr double gathers = 0.05;         // share of a stage in which the bars gather speed
constexpr double slows = 0.4;            // and in which they lose it, where the force is most

/// Where a node's brick forces stand, so that they are added in one order whatever the lanes do.
struct Corners {
  std::vector<std::int32_t> first, brick;
  std::vector<std::uint8_t> corner;
};

Corners corners_of(const Mesh& mesh) {
  Corners corners;
  std::vector<std::int32_t> count(mesh.nodes.size() + 1, 0);
  for (const auto& brick : mesh.bricks)
    for (const auto node : brick) ++count[at(node) + 1];
  for (std::size_t i = 1; i < count.size(); ++i) count[i] += count[i - 1];
  corners.first = count;
  corners.brick.resize(at(count.back()));
  corners.corner.resize(at(count.back()));
  for (std::size_t b = 0; b < mesh.bricks.size(); ++b) {
    for (std::size_t c = 0; c < 8; ++c) {
      const auto slot = at(count[at(mesh.bricks[b][c])]++);
      corners.brick[slot] = static_cast<std::int32_t>(b);
      corners.corner[slot] = static_cast<std::uint8_t>(c);
    }
  }
  return corners;
}

class Run {
 public:
  Run(const Press& question, Watch& watch, Lanes& lanes)
      : q_(question),
        watch_(watch),
        lanes_(lanes),
        mesh_(mesh_of(question.shape)),
        corners_(corners_of(mesh_)),
        bricks_(mesh_, question.material),
        x_(mesh_.nodes),
        v_(x_.size(), Vector{}),
        outer_(x_.size(), Vector{}),
        mass_(x_.size(), 0.0),
        partial_((x_.size() + chunk - 1) / chunk) {
    for (std::size_t b = 0; b < mesh_.bricks.size(); ++b)
      for (const auto node : mesh_.bricks[b])
        mass_[at(node)] += question.density * bricks_.volume(b) / 8.0;
    gap_ = question.shape.od;
    least_gap_ = gap_;
    slice_ = question.shape.half_length <= 0.0;
    if (slice_) answer_.thickness = question.shape.wall / question.shape.through;
    swing_ = ring_swing(question);
    damping_ = question.damping / swing_;
  }

  Result<Pressed> go() {
    for (std::size_t s = 0; s < q_.stages.size(); ++s) {
      BELLHOLE_TRY(done, stage(s));
      static_cast<void>(done);
    }
    const Bricks::Work work = bricks_.work();
    answer_.energy.strain = work.strain;
    answer_.energy.hourglass = work.hourglass;
    answer_.energy.kinetic = kinetic();
    answer_.bricks = static_cast<std::int64_t>(mesh_.bricks.size());
    if (answer_.at_least_gap.empty()) answer_.at_least_gap = x_;
    answer_.at_end = std::move(x_);
    answer_.mesh = std::move(mesh_);
    return std::move(answer_);
  }

 private:
  double stable() {
    std::vector<double> least_of((bricks_.blocks() + block_chunk - 1) / block_chunk, HUGE_VAL);
    lanes_.for_each(least_of.size(), [&](std::size_t c) {
      const std::size_t end = std::min(bricks_.blocks(), (c + 1) * block_chunk);
      for (std::size_t b = c * block_chunk; b < end; ++b)
        least_of[c] = std::min(least_of[c], bricks_.stable_step(b, q_.yields, q_.density, x_));
    });
    return safety * std::ranges::min(least_of);
  }

  /// Share of the way after a share of the time: the bars gather speed and lose it again.
  static double way(double t) {
    const double top = 1.0 / (1.0 - 0.5 * (gathers + slows)), left = 1.0 - t;
    if (t < gathers) return 0.5 * top * t * t / gathers;
    if (left < slows) return 1.0 - 0.5 * top * left * left / slows;
    return top * (t - 0.5 * gathers);
  }

  Result<bool> stage(std::size_t s) {
    const Stage& stage = q_.stages[s];
    if (!(stage.real.si() > 0.0 && stage.swings > 0.0))
      return trouble(Code::out_of_range, "stage", fmt::format("{}", s), "give it some time");
    const double from = gap_, to = stage.gap.si(), motion = stage.swings * swing_;
    const bool holds = std::abs(to - from) < 1e-9;
    if (s == 0) answer_.clocks = stage.real.si() / motion;
    // The bars' pace on the material's clock is even: only the motion gathers speed and loses it.
    const auto gap_at = [&](double share) {
      return holds ? from : from + (to - from) * way(share);
    };
    const auto real_at = [&](double share) {
      return holds ? held(share, stage.real.si()) : way(share) * stage.real.si();
    };
    double now = 0.0, dt = 0.0, sampled = 0.0, next_sample = motion / q_.samples;
    for (std::int64_t n = 0; now < motion; ++n, ++answer_.steps) {
      if (n % look_again == 0) {
        BELLHOLE_TRY(stable, look(s, now / motion));
        dt = stable;
      }
      const double step = std::min(dt, motion - now + 1e-15), before = now / motion;
      now += step;
      const double share = std::min(1.0, now / motion), gap_before = gap_;
      gap_ = gap_at(share);
      // The gas is let in while the bars gather speed: at once would be a blow.
      pressure_ = q_.pressure * (s == 0 ? std::min(1.0, share / gathers) : 1.0);
      move(step, real_at(share) - real_at(before), gap_before);
      if (now >= next_sample || now >= motion) {
        const double middle = 0.5 * (sampled + share);  // a force is the mean of the steps since
        record(s, share, real_at(middle), gap_at(middle));
        sampled = share;
        next_sample += motion / q_.samples;
      }
    }
    if (gap_ < least_gap_ - 1e-9) {
      least_gap_ = gap_;
      answer_.at_least_gap = x_;
    }
    return true;
  }

  /// The step that is stable from here; asks whether to go on.
  Result<double> look(std::size_t s, double share) {
    const double dt = stable();
    if (!(dt > 0.0))
      return trouble(Code::out_of_range, "gap", fmt::format("{} m", gap_),
                     "a brick was turned inside out: a wider gap or a finer mesh");
    if (!watch_.tick((static_cast<double>(s) + share) / static_cast<double>(q_.stages.size())))
      return trouble(Code::cancelled, "press", "", "asked to stop");
    return dt;
  }

  void record(std::size_t s, double share, double real, double gap) {
    answer_.samples.push_back({s, Duration::from_si(real), Length::from_si(gap),
                               Force::from_si(impulse_ / since_ * (slice_ ? 2.0 : 4.0))});
    impulse_ = since_ = 0.0;
    Energy& energy = answer_.energy;
    if (s == 0 && share > 0.1 && energy.by_bars > 0.0)
      energy.most_kinetic_share = std::max(energy.most_kinetic_share, kinetic() / energy.by_bars);
  }

  /// Time held after a share of the motion: every decade as long as the next, from a thousandth.
  static double held(double share, double all) {
    constexpr double decades = 3.0;
    const double begin = std::pow(10.0, -decades);
    return all * (std::pow(10.0, decades * (share - 1.0)) - begin) / (1.0 - begin);
  }

  void move(double step, double material_step, double gap_before) {
    bricks_.set({step, material_step, q_.yields, q_.hourglass, std::min(1.0, 10.0 * step / swing_),
                 q_.density});
    lanes_.for_each((bricks_.blocks() + block_chunk - 1) / block_chunk, [&](std::size_t c) {
      const std::size_t end = std::min(bricks_.blocks(), (c + 1) * block_chunk);
      for (std::size_t b = c * block_chunk; b < end; ++b) bricks_.move(b, x_, v_);
    });
    gas(step);
    lanes_.for_each(partial_.size(), [&](std::size_t c) { move_nodes(c, step); });
    double bars = 0.0, damped = 0.0, rubbed = 0.0;
    for (const Partial& part : partial_) {
      bars += part.bars;
      damped += part.damped;
      rubbed += part.rubbed;
    }
    impulse_ += bars * step;
    since_ += step;
    answer_.energy.by_bars += bars * 0.5 * (gap_before - gap_);
    answer_.energy.damped += damped;
    answer_.energy.rubbed += rubbed;
  }

  /// The gas pushes the inner wall outward, where it has not met its mirror image.
  void gas(double step) {
    if (pressure_ <= 0.0) return;
    for (Vector& f : outer_) f = {};
    for (const auto& face : mesh_.inside) {
      const Vector &a = x_[at(face[0])], &b = x_[at(face[1])], &c = x_[at(face[2])],
                   &d = x_[at(face[3])];
      const Vector p{c[0] - a[0], c[1] - a[1], c[2] - a[2]},
          r{d[0] - b[0], d[1] - b[1], d[2] - b[2]};
      const Vector area{0.5 * (p[1] * r[2] - p[2] * r[1]), 0.5 * (p[2] * r[0] - p[0] * r[2]),
                        0.5 * (p[0] * r[1] - p[1] * r[0])};
      for (const auto node : face) {
        if (x_[at(node)][1] <= 0.0 && mesh_.held[at(node)][1] == 0) continue;
        for (std::size_t i = 0; i < 3; ++i) {
          const double f = pressure_ * area[i] / 4.0;
          outer_[at(node)][i] += f;
          answer_.energy.by_gas += f * v_[at(node)][i] * step;
        }
      }
    }
  }

  struct Partial {
    double bars = 0.0, damped = 0.0, rubbed = 0.0;
  };

  void move_nodes(std::size_t c, double step) {
    Partial part;
    const std::size_t end = std::min(x_.size(), (c + 1) * chunk);
    for (std::size_t n = c * chunk; n < end; ++n) {
      Vector f = outer_[n];
      for (auto slot = at(corners_.first[n]); slot < at(corners_.first[n + 1]); ++slot) {
        const Vector add = bricks_.force(at(corners_.brick[slot]), corners_.corner[slot]);
        for (std::size_t i = 0; i < 3; ++i) f[i] += add[i];
      }
      const Vector before = x_[n];
      for (std::size_t i = 0; i < 3; ++i) {
        if (mesh_.held[n][i] != 0) continue;
        v_[n][i] += step * f[i] / mass_[n];
        const double lost = damping_ * step * v_[n][i];
        part.damped += mass_[n] * lost * v_[n][i];
        v_[n][i] -= lost;
        x_[n][i] += step * v_[n][i];
      }
      touch(n, before, step, part);
    }
    partial_[c] = part;
  }

  /// Puts a node out of the bar and above the mirror plane.
  void touch(std::size_t n, const Vector& before, double step, Partial& part) {
    Vector& x = x_[n];
    const double force_of = mass_[n] / (step * step);
    if (x[1] < 0.0 && mesh_.held[n][1] == 0) {
      x[1] = 0.0;
      v_[n][1] = (x[1] - before[1]) / step;
    }
    const double r = q_.bar_radius, axis = 0.5 * gap_ + r;
    if (r <= 0.0) {
      if (x[1] <= 0.5 * gap_) return;
      part.bars += force_of * (x[1] - 0.5 * gap_);
      x[1] = 0.5 * gap_;
      v_[n][1] = (x[1] - before[1]) / step;
      return;
    }
    if (x[2] >= r) return;
    const double up = x[1] - axis, d = std::hypot(up, x[2]);
    if (d >= r || d == 0.0) return;
    const double out = r / d - 1.0;
    const double dy = up * out, dz = mesh_.held[n][2] != 0 ? 0.0 : x[2] * out;
    part.bars -= force_of * dy;
    x[1] += dy;
    x[2] += dz;
    for (const std::size_t i : {std::size_t{1}, std::size_t{2}}) {
      if (mesh_.held[n][i] == 0) v_[n][i] = (x[i] - before[i]) / step;
    }
    rub(n, force_of * std::hypot(dy, dz), step, part);
  }

  /// Friction along the bar only: round it the pipe hardly slides.
  void rub(std::size_t n, double normal, double step, Partial& part) {
    if (q_.friction <= 0.0 || mesh_.held[n][0] != 0) return;
    const double most = q_.friction * normal * step / mass_[n];
    const double lost = std::clamp(v_[n][0], -most, most);
    part.rubbed += mass_[n] * lost * v_[n][0];
    x_[n][0] -= lost * step;
    v_[n][0] -= lost;
  }

  double kinetic() const {
    double sum = 0.0;
    for (std::size_t n = 0; n < v_.size(); ++n)
      sum += 0.5 * mass_[n] * (v_[n][0] * v_[n][0] + v_[n][1] * v_[n][1] + v_[n][2] * v_[n][2]);
    return sum;
  }

  const Press& q_;
  Watch& watch_;
  Lanes& lanes_;
  Mesh mesh_;
  Corners corners_;
  Bricks bricks_;
  std::vector<Vector> x_, v_, outer_;
  std::vector<double> mass_;
  std::vector<Partial> partial_;
  double gap_ = 0.0, least_gap_ = 0.0, impulse_ = 0.0, since_ = 0.0, pressure_ = 0.0, swing_ = 0.0,
         damping_ = 0.0;
  bool slice_ = false;
  Pressed answer_;
};

}  // namespace

double Energy::off() const {
  return by_bars > 0.0
             ? (by_bars + by_gas - strain - hourglass - damped - kinetic - rubbed) / by_bars
             : 0.0;
}

double ring_swing(const Press& question) {
  // Of a thin ring in its own plane, two waves round: Love's formula, in any book on vibration.
  const double t = question.shape.wall, r = (question.shape.od - t) / 2.0;
  const double shear = (question.material.shear() + question.material.network) * question.yields;
  const double plane_strain = 4.0 * shear;
  const double omega2 =
      36.0 / 5.0 * plane_strain / question.density * t * t / 12.0 / (r * r * r * r);
  return 2.0 * std::numbers::pi / std::sqrt(omega2);
}

Result<Pressed> press(const Press& question, Watch& watch, Lanes& lanes) {
  const Shape& shape = question.shape;
  if (!(shape.wall > 0.0 && shape.wall < shape.od / 2.0))
    return trouble(Code::out_of_range, "wall", fmt::format("{} m", shape.wall),
                   "above nought and less than half the outside diameter");
  for (const Stage& stage : question.stages)
    if (!(stage.gap.si() >= least_gap * shape.wall && stage.gap.si() <= shape.od))
      return trouble(Code::out_of_range, "gap", fmt::format("{} m", stage.gap.si()),
                     "between half the wall and the outside diameter");
  return Run(question, watch, lanes).go();
}

}  // namespace bellhole::flatten
