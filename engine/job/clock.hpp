// Instants, durations between them and identifiers with a time in them. Nothing here reads a clock:
// the door does, and hands in what it read.
#pragma once

#include <array>
#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "findings/trouble.hpp"
#include "units/quantity.hpp"

namespace bellhole::job {

/// A moment of the wall clock: milliseconds since 1970-01-01T00:00:00Z, leap seconds not counted.
struct Instant {
  std::int64_t ms = 0;
  friend auto operator<=>(Instant, Instant) = default;
};
inline Duration operator-(Instant a, Instant b) {
  return Duration::from_si(static_cast<double>(a.ms - b.ms) / 1000.0);
}

/// A moment as somebody wrote it: the instant, and how far their clock stood from UTC.
struct Moment {
  Instant at;
  int offset_minutes = 0;
  friend bool operator==(const Moment&, const Moment&) = default;
};

/// Reads an RFC 3339 date-time with its offset: "2026-11-25T10:41:07.25-05:00". Digits beyond the
/// millisecond are cut off; a leap second reads as the second after it. Errors: unreadable_value
/// (also without an offset: a local time alone is no moment), out_of_range (no such day or hour).
Result<Moment> read_moment(std::string_view text, std::string_view where);

/// The same as text; a fraction only where there is one. UTC prints "Z".
std::string print_moment(Moment moment);
std::string print_utc(Instant at);
/// "2026-11-25" and "10:41:07" as the writer's clock showed them.
std::string local_date(Moment moment);
std::string local_clock(Moment moment);

/// A UUID of version 7 (RFC 9562, 5.7): 48 bits of milliseconds, then random bits, lower case.
std::string uuid_v7(Instant at, const std::array<std::uint8_t, 10>& random);
/// The time in a UUID of version 7; nothing where the text is none.
std::optional<Instant> time_of_uuid(std::string_view text);

}  // namespace bellhole::job
