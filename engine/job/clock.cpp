#include "job/clock.hpp"

#include <fmt/format.h>

#include "procedure/date.hpp"

namespace bellhole::job {
namespace {

constexpr std::int64_t day_ms = 86'400'000;

/// Reads digits one group at a time; `good` turns false at the first that is not as wanted.
struct Reader {
  std::string_view text;
  bool good = true;
  int digits(std::size_t count) {
    int value = 0;
    for (std::size_t i = 0; i < count; ++i) {
      if (text.empty() || text.front() < '0' || text.front() > '9') {
        good = false;
        return 0;
      }
      value = value * 10 + (text.front() - '0');
      text.remove_prefix(1);
    }
    return value;
  }
  char one_of(std::string_view any) {
    if (text.empty() || any.find(text.front()) == std::string_view::npos) {
      good = false;
      return '\0';
    }
    const char c = text.front();
    text.remove_prefix(1);
    return c;
  }
  int fraction_ms() {
    if (text.empty() || text.front() != '.') return 0;
    text.remove_prefix(1);
    int ms = 0, scale = 100, count = 0;
    for (; !text.empty() && text.front() >= '0' && text.front() <= '9'; text.remove_prefix(1)) {
      ms += (text.front() - '0') * scale;
      scale /= 10;
      ++count;
    }
    if (count == 0) good = false;
    return ms;
  }
};

std::int64_t floor_div(std::int64_t a, std::int64_t b) { return a / b - (a % b < 0 ? 1 : 0); }

std::string clock_text(std::int64_t ms_of_day) {
  const std::int64_t s = ms_of_day / 1000;
  return fmt::format("{:02}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60);
}

}  // namespace

Result<Moment> read_moment(std::string_view text, std::string_view where) {
  Reader read{text};
  const std::string_view date = text.substr(0, 10);
  read.digits(4), read.one_of("-"), read.digits(2), read.one_of("-"), read.digits(2);
  read.one_of("Tt");
  const int hour = read.digits(2);
  read.one_of(":");
  const int minute = read.digits(2);
  read.one_of(":");
  const int second = read.digits(2), ms = read.fraction_ms();
  const char zone = read.one_of("Zz+-");
  int offset = 0;
  bool offset_good = true;
  if (zone == '+' || zone == '-') {
    const int hours = read.digits(2);
    read.one_of(":");
    const int minutes = read.digits(2);
    offset_good = hours < 24 && minutes < 60;
    offset = (hours * 60 + minutes) * (zone == '-' ? -1 : 1);
  }
  if (!read.good || !read.text.empty())
    return trouble(Code::unreadable_value, std::string(where), std::string(text),
                   "write date, time and offset from UTC: 2026-11-25T10:41:07-05:00");
  if (hour > 23 || minute > 59 || second > 60 || !offset_good)
    return trouble(Code::out_of_range, std::string(where), std::string(text),
                   "no clock shows that time: correct it");
  BELLHOLE_TRY(day, procedure::parse_date(date, where));
  const std::int64_t local =
      day.first * day_ms + ((hour * 60LL + minute) * 60LL + second) * 1000LL + ms;
  return Moment{{local - offset * 60'000LL}, offset};
}

std::string local_date(Moment moment) {
  const std::int64_t local = moment.at.ms + moment.offset_minutes * 60'000LL;
  return procedure::print_date(static_cast<int>(floor_div(local, day_ms)));
}

std::string local_clock(Moment moment) {
  const std::int64_t local = moment.at.ms + moment.offset_minutes * 60'000LL;
  return clock_text(local - floor_div(local, day_ms) * day_ms);
}

std::string print_moment(Moment moment) {
  const std::int64_t ms = moment.at.ms - floor_div(moment.at.ms, 1000) * 1000;
  std::string text = local_date(moment) + "T" + local_clock(moment);
  if (ms != 0) text += fmt::format(".{:03}", ms);
  if (moment.offset_minutes == 0) return text + "Z";
  const int minutes = moment.offset_minutes < 0 ? -moment.offset_minutes : moment.offset_minutes;
  return text + fmt::format("{}{:02}:{:02}", moment.offset_minutes < 0 ? '-' : '+', minutes / 60,
                            minutes % 60);
}

std::string print_utc(Instant at) { return print_moment({at, 0}); }

std::string uuid_v7(Instant at, const std::array<std::uint8_t, 10>& random) {
  std::array<std::uint8_t, 16> bytes{};
  for (std::size_t i = 0; i < 6; ++i)
    bytes[i] = static_cast<std::uint8_t>(static_cast<std::uint64_t>(at.ms) >> (8 * (5 - i)));
  for (std::size_t i = 0; i < random.size(); ++i) bytes[6 + i] = random[i];
  bytes[6] = static_cast<std::uint8_t>(0x70 | (bytes[6] & 0x0F));
  bytes[8] = static_cast<std::uint8_t>(0x80 | (bytes[8] & 0x3F));
  std::string text;
  for (std::size_t i = 0; i < bytes.size(); ++i) {
    if (i == 4 || i == 6 || i == 8 || i == 10) text += '-';
    text += fmt::format("{:02x}", bytes[i]);
  }
  return text;
}

std::optional<Instant> time_of_uuid(std::string_view text) {
  if (text.size() != 36) return {};
  std::uint64_t high = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (i == 8 || i == 13 || i == 18 || i == 23) {
      if (c != '-') return {};
      continue;
    }
    const bool digit = c >= '0' && c <= '9', lower = c >= 'a' && c <= 'f',
               upper = c >= 'A' && c <= 'F';
    if (!digit && !lower && !upper) return {};
    const int value = digit ? c - '0' : 10 + (lower ? c - 'a' : c - 'A');
    if (i < 13) high = high << 4 | static_cast<std::uint64_t>(value);
  }
  const bool variant = std::string_view("89abAB").find(text[19]) != std::string_view::npos;
  if (text[14] != '7' || !variant) return {};
  return Instant{static_cast<std::int64_t>(high)};
}

}  // namespace bellhole::job
