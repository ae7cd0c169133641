#include "gas/pipe_law.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <cmath>

namespace bellhole::gas {
namespace {

constexpr AbsolutePressure sea_level = AbsolutePressure::from_si(101325.0);

PipeLaw law_of(Law law, double bore_m, double supply_gauge) {
  const Flowing gas = flowing(*from_gravity(0.6), Temperature::from_si(288.7));
  return {law,
          gas,
          Length::from_si(bore_m),
          Length::from_si(1.5e-6),
          AbsolutePressure::from_si(101325.0 + supply_gauge),
          sea_level};
}

RC_GTEST_PROP(PipeLaw, RisesStrictlyIsOddAndHasTheSlopeItSays, ()) {
  const Law law = *rc::gen::element(Law::general, Law::fuel_gas_code);
  const PipeLaw pipe =
      law_of(law, *rc::gen::inRange(10, 600) * 1e-3, *rc::gen::element(1700.0, 4e5));
  const double m = std::pow(10.0, *rc::gen::inRange(-9000, 1000) / 1000.0);
  const Loss loss = pipe.loss(m, 100.0);
  RC_ASSERT(loss.slope > 0.0);
  RC_ASSERT(pipe.loss(-m, 100.0).value == -loss.value);
  RC_ASSERT(std::abs(pipe.loss(m, 200.0).value - 2.0 * loss.value) <= 1e-12 * loss.value);
  const double h = 1e-6 * m;
  const double numeric =
      (pipe.loss(m + h, 100.0).value - pipe.loss(m - h, 100.0).value) / (2.0 * h);
  RC_ASSERT(std::abs(numeric - loss.slope) <= 3e-4 * loss.slope);
}

RC_GTEST_PROP(PipeLaw, DrivenIsTheOtherWayRound, ()) {
  const Law law = *rc::gen::element(Law::general, Law::fuel_gas_code);
  const PipeLaw pipe =
      law_of(law, *rc::gen::inRange(10, 600) * 1e-3, *rc::gen::element(1700.0, 4e5));
  const double m = std::pow(10.0, *rc::gen::inRange(-9000, 1000) / 1000.0);
  const Loss loss = pipe.loss(m, 100.0);
  const PipeLaw::Driven driven = pipe.driven(loss.value, 100.0);
  RC_ASSERT(std::abs(driven.flow - m) <= 1e-11 * m);
  RC_ASSERT(std::abs(driven.slope * loss.slope - 1.0) <= 1e-7);
  RC_ASSERT(pipe.driven(-loss.value, 100.0).flow == -driven.flow);
  RC_ASSERT(std::abs(pipe.driven(0.0, 100.0).flow) == 0.0);
}

TEST(PipeLaw, NoFlowLosesNothingButHasASlope) {
  for (Law law : {Law::general, Law::fuel_gas_code}) {
    const Loss loss = law_of(law, 0.05, 1700.0).loss(0.0, 10.0);
    EXPECT_EQ(loss.value, 0.0);
    EXPECT_GT(loss.slope, 0.0);
  }
}

TEST(PipeLaw, NetworkFormOfTheFuelGasCodeGivesTheTableFormBack) {
  // 2 in SDR 11, 80 ft, 0.5 inH2O at 7 inH2O: through the potential and through the table formula.
  const Length bore = Length::from_si(1.943 * 0.0254), length = Length::from_si(80 * 0.3048);
  const double inlet = 7.0 * 249.08891, drop = 0.5 * 249.08891;
  const Temperature t = Temperature::from_si(288.7055556);
  const Flowing gas = flowing(*from_gravity(0.6), t);
  const StdFlow table = fuel_gas_code_capacity(bore, length, GaugePressure::from_si(inlet),
                                               PressureDifference::from_si(drop), sea_level, 0.6, t,
                                               Viscosity::from_si(gas.viscosity_pa_s));
  const PipeLaw pipe(Law::fuel_gas_code, gas, bore, Length::from_si(0.0),
                     AbsolutePressure::from_si(101325.0 + inlet), sea_level);
  const double m = table.si() * base_density(*from_gravity(0.6), us_base).si();
  const double p1 = 101325.0 + inlet;
  EXPECT_NEAR(pipe.loss(m, length.si()).value / p1, drop, 0.002 * drop);
}

}  // namespace
}  // namespace bellhole::gas
