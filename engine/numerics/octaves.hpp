// A smooth function of x >= 0 that takes long to evaluate, by cubics that have its values and
// slopes where they meet: 64 in each of the first two octaves of 1 + x, and 16 in each octave
// above. Where its curvature jumps should be 0, 1, 2 or 3.
//
// A cubic with right ends is off by width^4 / 384 of the fourth derivative: for the loss of a pipe,
// which goes with the flow to between 1.7 and 2, by less than 1e-7 of it, and by less than 2e-7 in
// the blend between laminar and turbulent, which is why the first octaves are finer
// (tests/unit/numerics).
#pragma once

#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

namespace bellhole::numerics {

class Octaves {
 public:
  struct At {
    double value = 0.0, slope = 0.0;
  };

  /// `f(x)` gives value and slope from 0 to end() = 2^octaves - 1. REQUIRES octaves >= 2.
  template <class F>
  Octaves(int octaves, const F& f) : end_(std::ldexp(1.0, octaves) - 1.0) {
    piece_.reserve(2 * fine + static_cast<std::size_t>(octaves - 2) * coarse);
    At low = f(0.0);
    for (double x = 0.0; x < end_;) {
      const double pieces = x < fine_to - 1.0 ? fine : coarse;
      const double width = std::ldexp(1.0 / pieces, std::ilogb(1.0 + x));
      const At high = f(x + width);
      add(width, low, high);
      x += width;
      low = high;
    }
  }

  /// REQUIRES 0 <= x < end().
  [[nodiscard]] At operator()(double x) const {
    // The leading bits of a double are the number of its octave and the number of the piece in it.
    const double y = 1.0 + x;
    const auto bits = std::bit_cast<std::uint64_t>(y);
    const bool low = y < fine_to;
    const int shift = low ? 46 : 48;  // 52 bits of mantissa, 6 or 4 of them the piece
    const std::uint64_t before = low ? leading(1.0, 46) : leading(fine_to, 48) - 2 * fine;
    const Piece& c = piece_[static_cast<std::size_t>((bits >> shift) - before)];
    const double off = y - std::bit_cast<double>(bits >> shift << shift);
    return {c.a + off * (c.b + off * (c.c + off * c.d)), c.b + off * (2.0 * c.c + 3.0 * off * c.d)};
  }
  [[nodiscard]] double end() const { return end_; }

 private:
  static constexpr std::size_t fine = 64, coarse = 16;
  static constexpr double fine_to = 4.0;  // of 1 + x
  static constexpr std::uint64_t leading(double y, int shift) {
    return std::bit_cast<std::uint64_t>(y) >> shift;
  }

  struct Piece {
    double a = 0.0, b = 0.0, c = 0.0, d = 0.0;
  };
  void add(double width, At low, At high) {
    const double rise = (high.value - low.value) / width;
    piece_.push_back({low.value, low.slope, (3.0 * rise - 2.0 * low.slope - high.slope) / width,
                      (low.slope + high.slope - 2.0 * rise) / (width * width)});
  }

  double end_ = 0.0;
  std::vector<Piece> piece_;
};

}  // namespace bellhole::numerics
