#include "gas/friction.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

namespace bellhole::gas {
namespace {

/// The equation itself, by plain repetition.
double colebrook_by_repetition(double re, double rel) {
  double root = 8.0;
  for (int i = 0; i < 200; ++i) root = -2.0 * std::log10(rel / 3.7 + 2.51 * root / re);
  return 1.0 / (root * root);
}

const auto any_re = [] {
  return rc::gen::map(rc::gen::inRange(0, 10000),
                      [](int i) { return std::pow(10.0, i / 1000.0 - 1.0); });
};
const auto any_roughness = [] {
  return rc::gen::map(rc::gen::inRange(0, 5000), [](int i) { return i * 1e-5; });
};

RC_GTEST_PROP(Friction, ColebrookSolvesItsEquation, ()) {
  const double re = 1000.0 + *any_re(), rel = *any_roughness();
  const double wanted = colebrook_by_repetition(re, rel);
  RC_ASSERT(std::abs(colebrook(re, rel).factor - wanted) < 1e-12 * wanted);
}

RC_GTEST_PROP(Friction, SlopeIsTheDerivative, ()) {
  const double re = *any_re(), rel = *any_roughness();
  const double h = 1e-6;
  // A kink in the second derivative may lie within the step; the first is continuous.
  const double numeric =
      (std::log(darcy(re * (1 + h), rel).factor) - std::log(darcy(re * (1 - h), rel).factor)) /
      (std::log1p(h) - std::log1p(-h));
  RC_ASSERT(std::abs(darcy(re, rel).slope - numeric) < 2e-4);
}

RC_GTEST_PROP(Friction, LossRisesStrictlyWithFlow, ()) {
  const double re = *any_re(), rel = *any_roughness();
  const auto loss = [&](double at) { return darcy(at, rel).factor * at * at; };
  RC_ASSERT(loss(re * 1.001) > loss(re));
  RC_ASSERT(darcy(re, rel).slope > -2.0);
}

TEST(Friction, BlendMeetsBothSidesWithValueAndSlope) {
  for (double rel : {0.0, 1e-4, 0.05}) {
    EXPECT_NEAR(darcy(2000.0 + 1e-9, rel).factor, 0.032, 1e-9);
    EXPECT_NEAR(darcy(2000.0 + 1e-9, rel).slope, -1.0, 1e-9);
    EXPECT_NEAR(darcy(4000.0 - 1e-9, rel).factor, colebrook(4000.0, rel).factor, 1e-12);
    EXPECT_NEAR(darcy(4000.0 - 1e-9, rel).slope, colebrook(4000.0, rel).slope, 1e-9);
  }
}

}  // namespace
}  // namespace bellhole::gas
