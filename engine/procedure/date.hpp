// Dates without a clock: days of the Gregorian calendar, counted from 1970-01-01.
#pragma once

#include <string>
#include <string_view>

#include "findings/trouble.hpp"

namespace bellhole::procedure {

/// The days that a typed date can mean, both ends included: one day for "2015-06-01", a whole month
/// for "2015-06", a whole year for "2015".
struct Days {
  int first = 0;
  int last = 0;
  friend bool operator==(const Days&, const Days&) = default;
};

/// Days from 1970-01-01 to a date of the proleptic Gregorian calendar.
int days_from_civil(int year, int month, int day);

/// Reads "2015-06-01", "2015-06" or "2015". Errors: unreadable_value; out_of_range (no such day, or
/// a year before 1900 or after 2199, when no PE pipe was made).
Result<Days> parse_date(std::string_view text, std::string_view where);

/// "2015-06-01".
std::string print_date(int days);

}  // namespace bellhole::procedure
