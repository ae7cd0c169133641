#include "pipe/component.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

namespace bellhole::pipe {
namespace {

TEST(Component, OnlySureFieldsAreDecoded) {
  const auto read = read_component("ab5ban6nmC01234x", "t");
  ASSERT_TRUE(read);
  EXPECT_EQ(read->lot, 1234567);
  ASSERT_TRUE(read->made);
  EXPECT_EQ(read->made->year, 2012);
  EXPECT_EQ(read->made->day, 245);
  EXPECT_EQ(read->maker, "ab");
  EXPECT_EQ(read->material, "C");
  EXPECT_EQ(read->type, "01");
  EXPECT_EQ(read->size, "234");
  EXPECT_EQ(read->reserved, "x");
}

TEST(Component, ADateThatReadsBothWaysIsNone) {
  // 15012: day 150 of 2012, or day 12 of 2015.
  const auto read = read_component("ab0001" + base62(15012, 3) + "C01234x", "t");
  EXPECT_FALSE(read->made);
  EXPECT_NE(read->doubt.find("day 150 of 2012 or as day 12 of 2015"), std::string::npos)
      << read->doubt;
  EXPECT_FALSE(read_component("ab0001" + base62(99999, 3) + "C01234x", "t")->made)
      << "no day at all";
}

TEST(Component, WhatIsNoCodeIsRefused) {
  for (const char* text : {"", "ab5ban6nmC01234", "ab5ban6nmC01234xx", "ab5ban6nm-01234x"})
    EXPECT_FALSE(read_component(text, "t")) << text;
}

RC_GTEST_PROP(Base62, ReadsBackWhatWasWritten, ()) {
  const auto number = *rc::gen::inRange<std::int64_t>(0, 62LL * 62 * 62 * 62);
  RC_ASSERT(*read_base62(base62(number, 4), "t") == number);
}

TEST(PrintLine, TakesWhatIsSureAndKeepsTheRest) {
  const auto line = read_print_line(
      "Northisland 4 IPS DR 11.5 PE2708 CEE ASTM D2513 24 08 09 ab5ban6nmC01234x", "t");
  ASSERT_TRUE(line);
  EXPECT_EQ(line->size->name, "IPS 4");
  EXPECT_EQ(line->ratio, 11.5);
  EXPECT_EQ(line->material->name, "PE2708");
  EXPECT_EQ(line->standards, std::vector<std::string>{"ASTM D2513"});
  EXPECT_EQ(line->component->lot, 1234567);
  EXPECT_EQ(line->rest, (std::vector<std::string>{"Northisland", "CEE", "24", "08", "09"}));
}

TEST(PrintLine, TwoSizesAreADoubtAndTheSameTwiceIsNot) {
  EXPECT_FALSE(read_print_line("IPS 4 DR 11 IPS 6", "t")->size);
  EXPECT_EQ(read_print_line("IPS 4 DR 11 IPS 6", "t")->doubts.size(), 1U);
  EXPECT_TRUE(read_print_line("IPS 4 DR11 4 IPS", "t")->size);
  EXPECT_FALSE(read_print_line("SDR 11 DR 11.5", "t")->ratio) << "11 and 11.5 are different walls";
}

TEST(PrintLine, AnInchSizeWithoutItsSystemIsNone) {
  EXPECT_FALSE(read_print_line("4 in DR 11", "t")->size);
  EXPECT_EQ(read_print_line("DR 1150", "t")->rest.size(), 2U);
}

}  // namespace
}  // namespace bellhole::pipe
