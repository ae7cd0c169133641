#include "squeeze/gap.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

namespace bellhole::squeeze {
namespace {

Length mm(double value) { return Length::from_si(value * 1e-3); }

TEST(Gap, IsTwiceTheWallLessTheCompression) {
  EXPECT_NEAR(gap_for(Fraction::from_si(0.20), mm(11.4)).si(), 18.24e-3, 1e-12);
  EXPECT_NEAR(compression(mm(18.24), mm(11.4)).si(), 0.20, 1e-12);
  EXPECT_NEAR(compression(mm(22.8), mm(11.4)).si(), 0.0, 1e-12) << "the walls just meet";
  EXPECT_LT(compression(mm(23), mm(11.4)).si(), 0.0) << "not closed";
}

RC_GTEST_PROP(Gap, CompressionOfTheGapIsTheCompression, ()) {
  const double wanted = *rc::gen::inRange(0, 100) / 100.0;
  const Length wall = mm(*rc::gen::inRange(10, 500) / 10.0);
  RC_ASSERT(std::abs(compression(gap_for(Fraction::from_si(wanted), wall), wall).si() - wanted) <
            1e-12);
}

TEST(Gap, AFlattenedPipeIsHalfItsMidWallRoundAndOneWallWide) {
  EXPECT_NEAR(flat_width(mm(100), mm(10)).si() * 1e3, 3.14159265358979 / 2 * 90 + 10, 1e-9);
}

}  // namespace
}  // namespace bellhole::squeeze
