#include "numerics/dense.hpp"

#include <gtest/gtest.h>

namespace bellhole::numerics {
namespace {

TEST(Dense, ExchangesRowsWhereThePivotIsZero) {
  std::vector<double> a{0, 2, 1, 1}, b{4, 3};
  ASSERT_TRUE(solve_dense(a, b));
  EXPECT_DOUBLE_EQ(b[0], 1.0);
  EXPECT_DOUBLE_EQ(b[1], 2.0);
}

TEST(Dense, SaysThatAMatrixIsSingular) {
  std::vector<double> a{1, 2, 2, 4}, b{1, 2};
  EXPECT_FALSE(solve_dense(a, b));
}

}  // namespace
}  // namespace bellhole::numerics
