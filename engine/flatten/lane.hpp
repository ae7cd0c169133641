// Four numbers side by side, so that one instruction serves four bricks. Single precision: what a
// brick adds up are increments of strain below 1e-4, which have digits to spare; positions and
// sums over bricks are double (press.hpp). GCC's and clang's vector extension, no intrinsics.
#pragma once

#include <bit>
#include <cmath>
#include <cstddef>
#include <cstdint>

namespace bellhole::flatten {

inline constexpr std::size_t lane_width = 4;
using Lane = float __attribute__((vector_size(lane_width * sizeof(float))));
using LaneMask = std::int32_t __attribute__((vector_size(lane_width * sizeof(std::int32_t))));

inline Lane lane_of(float value) { return Lane{} + value; }

inline Lane least(Lane a, Lane b) { return a < b ? a : b; }
inline Lane most(Lane a, Lane b) { return a > b ? a : b; }

inline Lane root(Lane a) {
  for (std::size_t i = 0; i < lane_width; ++i) a[i] = std::sqrt(a[i]);
  return a;
}

/// e to the power of x, off by less than 3e-7 of itself between -80 and 80, held there outside.
inline Lane power_of_e(Lane x) {
  x = least(most(x, lane_of(-80.0F)), lane_of(80.0F));
  constexpr float shift = 12582912.0F;  // 1.5 x 2^23: what is added to it is rounded to a whole
  const Lane whole = (x * 1.44269504F + shift) - shift;
  const Lane r = (x - whole * 0.693359375F) + whole * 2.12194440e-4F;
  Lane p = lane_of(1.0F / 5040.0F);
  p = p * r + 1.0F / 720.0F;
  p = p * r + 1.0F / 120.0F;
  p = p * r + 1.0F / 24.0F;
  p = p * r + 1.0F / 6.0F;
  p = p * r + 0.5F;
  p = p * r + 1.0F;
  p = p * r + 1.0F;
  const LaneMask exponent = (__builtin_convertvector(whole, LaneMask) + 127) << 23;
  return p * std::bit_cast<Lane>(exponent);
}

/// Natural logarithm of what is close to 1: off by less than 1e-6 between 0.7 and 1.4.
inline Lane log_near_one(Lane x) {
  const Lane z = (x - 1.0F) / (x + 1.0F), z2 = z * z;
  return 2.0F * z * (1.0F + z2 * (1.0F / 3.0F + z2 * (0.2F + z2 * (1.0F / 7.0F))));
}

}  // namespace bellhole::flatten
