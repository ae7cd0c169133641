#include "wire/text_table.hpp"

#include <gtest/gtest.h>

namespace bellhole::wire {
namespace {

Result<TextTable> read(std::string_view text) {
  return read_table(text, "recording", {{{"time"}}, {{"gap"}}, {{"pump", "pump pressure"}, false}});
}

TEST(TextTable, NamesItsColumnsWithTheirUnitsInAnyOfTheUsualWays) {
  for (const char* head : {"time (s),gap (in),pump (psi)", "Time [s];Gap [in];Pump pressure [psi]",
                           "time_s\tgap_in\tpump_pressure_psi", "pump (psi),gap in,time s",
                           "\xEF\xBB\xBFtime_s,gap_in"}) {
    const auto table = read(std::string(head) + "\n");
    ASSERT_TRUE(table) << head << ": " << table.error().fix;
    EXPECT_EQ(table->units[0], "s");
    EXPECT_EQ(table->units[1], "in");
  }
}

TEST(TextTable, PassesOverEmptyLinesAndRemarksAndKeepsTheNumberOfTheLine) {
  const auto table = read("# crew 4\r\ntime (s),gap (in)\r\n\r\n0,4.5\r\n82,0.547\r\n");
  ASSERT_TRUE(table);
  ASSERT_EQ(table->rows.size(), 2U);
  EXPECT_EQ(table->rows[1].where, "recording, line 5");
  EXPECT_EQ(*table->rows[1].cells[1], "0.547");
  EXPECT_FALSE(table->rows[1].cells[2]);
}

TEST(TextTable, SaysWhichLineCannotBeRead) {
  EXPECT_EQ(read("").error().code, Code::unreadable_document);
  EXPECT_EQ(read("0,4.5\n1,4.4\n").error().where, "recording, line 1");
  EXPECT_EQ(read("time (s),gap (in)\n0,4.5,7\n").error().where, "recording, line 2");
  EXPECT_EQ(read("time (s),gap (in)\n0,\n").error().code, Code::missing_value);
  EXPECT_EQ(read("time (s),time (s),gap (in)\n").error().code, Code::contradiction);
  EXPECT_EQ(read("time (s)\n0\n").error().code, Code::missing_value);
  EXPECT_EQ(read("time (s),gap (in),colour\n").error().code, Code::unreadable_document);
}

TEST(TextTable, ACellIsInTheColumnsUnitOrInItsOwnButNotInBoth) {
  EXPECT_NEAR(read_cell<kinds::Length>("4.5", "in", "x")->si(), 0.1143, 1e-12);
  EXPECT_NEAR(read_cell<kinds::Length>("4.5in", "", "x")->si(), 0.1143, 1e-12);
  EXPECT_EQ(read_cell<kinds::Length>("4.5in", "in", "x").error().code, Code::contradiction);
  EXPECT_EQ(read_cell<kinds::Length>("4.5", "", "x").error().code, Code::missing_value);
  EXPECT_EQ(read_cell<kinds::Length>("4.5", "psi", "x").error().code, Code::wrong_dimension);
}

double apart(std::string_view first, std::string_view second) {
  Moments moments;
  const auto a = moments.read(first, "", "x"), b = moments.read(second, "", "x");
  EXPECT_TRUE(a && b) << first << " " << second;
  return a && b ? (*b - *a).si() : -1.0;
}

TEST(Moments, ReadsClocksDatesAndTimesSinceTheStart) {
  EXPECT_EQ(apart("12:00", "14:10"), 7800.0);
  EXPECT_EQ(apart("12:00:05", "12:00:30.5"), 25.5);
  EXPECT_EQ(apart("2026-11-25T23:50", "2026-11-26 00:10:00"), 1200.0);
  EXPECT_EQ(apart("2026-11-25T23:50Z", "2026-11-26T00:10Z"), 1200.0);
  EXPECT_EQ(apart("30s", "1.5min"), 60.0);
}

TEST(Moments, RefusesWhatIsNoTimeAndAMixOfStyles) {
  for (const char* text : {"25:00", "12:60", "noon", "12", "12:0x", "12:00:00:00", "1:05pm", ""}) {
    Moments moments;
    EXPECT_EQ(moments.read(text, "", "x").error().code, Code::unreadable_value) << text;
  }
  Moments moments;
  ASSERT_TRUE(moments.read("12:00", "", "x"));
  EXPECT_EQ(moments.read("90s", "", "x").error().code, Code::contradiction);
}

TEST(OneUnit, HoldsOneScale) {
  OneUnit unit;
  EXPECT_TRUE(unit.hold("58 psi", "x"));
  EXPECT_TRUE(unit.hold("57.5psig", "x"));
  EXPECT_EQ(unit.hold("3.9bar", "x").error().code, Code::contradiction);
}

}  // namespace
}  // namespace bellhole::wire
