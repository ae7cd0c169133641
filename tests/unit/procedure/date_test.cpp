#include "procedure/date.hpp"

#include <gtest/gtest.h>

namespace bellhole::procedure {
namespace {

TEST(Date, ReadsDaysMonthsAndYears) {
  EXPECT_EQ(parse_date("1970-01-01", "made").value(), (Days{0, 0}));
  EXPECT_EQ(parse_date("2019-01-22", "made")->first, days_from_civil(2019, 1, 22));
  EXPECT_EQ(parse_date("2024-02", "made").value(),
            (Days{days_from_civil(2024, 2, 1), days_from_civil(2024, 2, 29)}));
  EXPECT_EQ(parse_date("1972", "made").value(),
            (Days{days_from_civil(1972, 1, 1), days_from_civil(1972, 12, 31)}));
  EXPECT_EQ(days_from_civil(2000, 3, 1) - days_from_civil(2000, 2, 28), 2);
}

TEST(Date, RefusesWhatIsNoDate) {
  for (const char* text : {"", "19", "72", "1972-", "1972-13", "2023-02-29", "2015-06-01-",
                           "2015/06/01", "1850", "2015-6-1", "2015-06-01T00:00"}) {
    EXPECT_FALSE(parse_date(text, "made")) << text;
  }
  EXPECT_EQ(parse_date("2023-02-29", "made").error().code, Code::out_of_range);
  EXPECT_EQ(parse_date("next week", "made").error().where, "made");
}

TEST(Date, PrintsWhatItReads) {
  EXPECT_EQ(print_date(parse_date("2004-07-14", "made")->first), "2004-07-14");
  EXPECT_EQ(print_date(parse_date("1969-12-31", "made")->first), "1969-12-31");
}

}  // namespace
}  // namespace bellhole::procedure
