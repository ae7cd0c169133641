#include "units/parse.hpp"

#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <cmath>

#include "units/print.hpp"
#include "units/unit.hpp"

namespace bellhole::units {
namespace {

template <class Kind>
double si(std::string_view text) {
  const auto read = parse<Kind>(text, "--value");
  EXPECT_TRUE(read) << text << ": " << read.error().fix;
  return read ? read->value.si() : std::nan("");
}

template <class Kind>
Trouble refused(std::string_view text) {
  const auto read = parse<Kind>(text, "--value");
  EXPECT_FALSE(read) << text;
  return read ? Trouble{} : read.error();
}

TEST(Parse, ReadsWhatACrewTypes) {
  EXPECT_DOUBLE_EQ(si<kinds::Length>("8in"), 0.2032);
  EXPECT_DOUBLE_EQ(si<kinds::Length>("0.547 in"), 0.547 * 0.0254);
  EXPECT_DOUBLE_EQ(si<kinds::Length>("3mi"), 4828.032);
  EXPECT_DOUBLE_EQ(si<kinds::Length>("11.4mm"), 0.0114);
  EXPECT_NEAR(si<kinds::GaugePressure>("60psig"), 413685.4376, 1e-3);
  EXPECT_NEAR(si<kinds::GaugePressure>("14inWC"), 3487.24474, 1e-6);
  EXPECT_DOUBLE_EQ(si<kinds::GaugePressure>("1.2 bar(g)"), 1.2e5);
  EXPECT_NEAR(si<kinds::AbsolutePressure>("14.73psia"), 101559.7749, 1e-3);
  EXPECT_DOUBLE_EQ(si<kinds::AbsolutePressure>("2bar(a)"), 2e5);
  EXPECT_DOUBLE_EQ(si<kinds::Temperature>("-5degC"), 268.15);
  EXPECT_NEAR(si<kinds::Temperature>("20degF"), 266.4833333, 1e-6);
  EXPECT_NEAR(si<kinds::Temperature>("60 \xC2\xB0"
                                     "F"),
              288.7055556, 1e-6);
  EXPECT_NEAR(si<kinds::StdFlow>("562.5scfh"), 562.5 * 0.028316846592 / 3600, 1e-15);
  EXPECT_DOUBLE_EQ(si<kinds::Speed>("2in/min"), 2 * 0.0254 / 60);
  EXPECT_DOUBLE_EQ(si<kinds::Fraction>("30%"), 0.3);
  EXPECT_DOUBLE_EQ(si<kinds::Duration>("15min"), 900);
}

TEST(Parse, BarePressureUnitsReadAsGaugeAndSaySo) {
  for (const std::string text : {"55psi", "3bar", "75mbar", "60kPa", "0.4MPa"}) {
    const auto read = parse<kinds::GaugePressure>(text, "--pressure");
    ASSERT_TRUE(read) << text;
    EXPECT_NE(read->assumed.find("gauge"), std::string::npos) << text;
    EXPECT_NE(read->assumed.find(text), std::string::npos);
  }
  EXPECT_TRUE(parse<kinds::GaugePressure>("55psig", "--pressure")->assumed.empty());
}

TEST(Parse, ANumberWithoutUnitIsTroubleThatNamesTheUnits) {
  const Trouble trouble = refused<kinds::GaugePressure>("60");
  EXPECT_EQ(trouble.code, Code::missing_value);
  EXPECT_EQ(trouble.where, "--value");
  EXPECT_NE(trouble.fix.find("psig"), std::string::npos);
}

TEST(Parse, AnAbsolutePressureIsNotReadWhereGaugeIsWanted) {
  const Trouble trouble = refused<kinds::GaugePressure>("60psia");
  EXPECT_EQ(trouble.code, Code::wrong_dimension);
  EXPECT_NE(trouble.fix.find("absolute pressure"), std::string::npos);
}

TEST(Parse, RefusesWhatCannotBeRead) {
  EXPECT_EQ(refused<kinds::Length>("eight in").code, Code::unreadable_value);
  EXPECT_EQ(refused<kinds::Length>("").code, Code::unreadable_value);
  EXPECT_EQ(refused<kinds::Length>("1,5 in").code, Code::unreadable_value);
  EXPECT_EQ(refused<kinds::Length>("nan in").code, Code::unreadable_value);
  EXPECT_EQ(refused<kinds::Length>("inf m").code, Code::unreadable_value);
  EXPECT_EQ(refused<kinds::Length>("8 psig").code, Code::wrong_dimension);
  EXPECT_EQ(refused<kinds::Length>("8 furlongs").code, Code::unreadable_value);
  EXPECT_EQ(refused<kinds::Temperature>("-300degC").code, Code::out_of_range);
}

TEST(Parse, CaseMattersOnlyWhereItTellsUnitsApart) {
  EXPECT_DOUBLE_EQ(si<kinds::GaugePressure>("60 PSIG"), si<kinds::GaugePressure>("60psig"));
  EXPECT_DOUBLE_EQ(si<kinds::GaugePressure>("7 inwc"), si<kinds::GaugePressure>("7inWC"));
}

TEST(ParseRange, TheHighEndLendsItsUnit) {
  const auto range = parse_range<kinds::Length>("66:78in", "--feature");
  ASSERT_TRUE(range);
  EXPECT_DOUBLE_EQ(range->low.si(), 66 * 0.0254);
  EXPECT_DOUBLE_EQ(range->high.si(), 78 * 0.0254);
  EXPECT_TRUE(parse_range<kinds::Length>("0in:2m", "--exposed"));
  EXPECT_EQ(parse_range<kinds::Length>("84in:0in", "--exposed").error().code, Code::contradiction);
}

TEST(Parse, WhatIsPrintedInAUnitReadsBackAsTheSameValue) {
  rc::check("every unit of every table goes round", [](double number) {
    const auto round = [&](auto kind) {
      using Kind = decltype(kind);
      for (const Unit& unit : table<Kind>()) {
        const double bounded = std::remainder(number, 1e6) + 1e6 + 500;
        const auto read = parse<Kind>(std::to_string(bounded) + " " + std::string(unit.word), "x");
        RC_ASSERT(bool(read));
        const double back = in_unit(read->value, unit.word);
        RC_ASSERT(std::abs(back - std::stod(std::to_string(bounded))) < 1e-9 * bounded);
      }
    };
    if (!std::isfinite(number)) return;
    round(kinds::Length{});
    round(kinds::GaugePressure{});
    round(kinds::AbsolutePressure{});
    round(kinds::Temperature{});
    round(kinds::StdFlow{});
    round(kinds::Speed{});
    round(kinds::Duration{});
    round(kinds::Stress{});
  });
}

}  // namespace
}  // namespace bellhole::units
