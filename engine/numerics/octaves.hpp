// A smooth function of x >= 0 that takes long to evaluate, by cubics that have its values and
// slopes where they meet: sixteen from 0 to 1, and sixteen in every octave of 1 + x above. Where
// its curvature jumps should be 0, 1, 2 or 3.
//
// A cubic with right ends is off by width^4 / 384 of the fourth derivative: for the loss of a pipe,
// which goes with the flow to between 1.7 and 2, by less than 1e-7 of it (tests/unit/numerics).
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

  /// `f(x)` gives value and slope from 0 to end() = 2^octaves - 1. REQUIRES octaves > 0.
  template <class F>
  Octaves(int octaves, const F& f) : end_(std::ldexp(1.0, octaves) - 1.0) {
    piece_.reserve(static_cast<std::size_t>(octaves) * pieces);
    At low = f(0.0);
    for (double x = 0.0; x < end_;) {
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
    const Piece& c = piece_[static_cast<std::size_t>((bits >> shift) - one)];
    const double off = y - std::bit_cast<double>(bits >> shift << shift);
    return {c.a + off * (c.b + off * (c.c + off * c.d)), c.b + off * (2.0 * c.c + 3.0 * off * c.d)};
  }
  [[nodiscard]] double end() const { return end_; }

 private:
  static constexpr int pieces = 16, shift = 48;  // 52 bits of mantissa, 4 of them the piece
  static constexpr std::uint64_t one = std::bit_cast<std::uint64_t>(1.0) >> shift;

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
