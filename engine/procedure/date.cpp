#include "procedure/date.hpp"

#include <fmt/format.h>

#include <chrono>
#include <vector>

namespace bellhole::procedure {
namespace {

constexpr int first_year = 1900;
constexpr int last_year = 2199;

std::chrono::year_month_day civil(int year, int month, int day) {
  return std::chrono::year(year) / std::chrono::month(static_cast<unsigned>(month)) /
         std::chrono::day(static_cast<unsigned>(day));
}

int count(std::chrono::year_month_day date) {
  return static_cast<int>(std::chrono::sys_days(date).time_since_epoch().count());
}

}  // namespace

int days_from_civil(int year, int month, int day) { return count(civil(year, month, day)); }

Result<Days> parse_date(std::string_view text, std::string_view where) {
  const auto unreadable = [&] {
    return trouble(Code::unreadable_value, std::string(where), std::string(text),
                   "write a date as 2015-06-01, 2015-06 or 2015");
  };
  std::vector<int> parts;
  constexpr std::size_t widths[] = {4, 2, 2};
  std::string_view rest = text;
  while (parts.size() < 3 && !rest.empty()) {
    const std::size_t width = widths[parts.size()];
    if (rest.size() < width) return unreadable();
    int part = 0;
    for (const char c : rest.substr(0, width)) {
      if (c < '0' || c > '9') return unreadable();
      part = part * 10 + (c - '0');
    }
    parts.push_back(part);
    rest.remove_prefix(width);
    if (rest.empty()) break;
    if (parts.size() == 3 || rest.front() != '-' || rest.size() == 1) return unreadable();
    rest.remove_prefix(1);
  }
  if (parts.empty()) return unreadable();
  const int year = parts[0];
  const int from_month = parts.size() > 1 ? parts[1] : 1;
  const int to_month = parts.size() > 1 ? parts[1] : 12;
  const auto first = civil(year, from_month, parts.size() > 2 ? parts[2] : 1);
  if (year < first_year || year > last_year || !first.ok()) {
    return trouble(Code::out_of_range, std::string(where), std::string(text),
                   fmt::format("give a day between {}-01-01 and {}-12-31", first_year, last_year));
  }
  if (parts.size() > 2) return Days{count(first), count(first)};
  const std::chrono::year_month_day last = std::chrono::year(year) /
                                           std::chrono::month(static_cast<unsigned>(to_month)) /
                                           std::chrono::last;
  return Days{count(first), count(last)};
}

std::string print_date(int days) {
  const std::chrono::year_month_day date{std::chrono::sys_days{std::chrono::days{days}}};
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

}  // namespace bellhole::procedure
