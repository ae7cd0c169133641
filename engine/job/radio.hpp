// The state of one shut-off as twelve characters, to be read over the radio from one hole to the
// other where nothing else reaches: what was done to it last and when, whether the main is cut, the
// gap and the gauge of the part as read last. The last character checks the others.
//
// Alphabet: figures and the letters that are not taken for another when they are written or heard,
// 31 in all. 31 is prime, so a sum with a different weight at each place finds every single wrong
// character and every two that changed places (the construction of the ISBN-10, ISO 2108:1992,
// there modulo 11). A code is a message, not a seal: whoever takes it is the witness.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "job/clock.hpp"
#include "job/state.hpp"

namespace bellhole::job {

inline constexpr std::string_view radio_alphabet = "0123456789ACDEFGHJKLMNPQRTUVWXY";
inline constexpr std::size_t radio_length = 12;

struct Radio {
  int job_mark = 0;        ///< 0 to 960, of the job's id: another job is nearly always noticed
  char letter = 'A';       ///< of the shut-off
  std::optional<Did> did;  ///< shut, undone or opened; none: nothing was done to it yet
  bool cut = false;        ///< the main is cut
  int minute_utc = 0;      ///< of the day, when the last of this was so
  /// Rounded up to 0.1 mm and 0.1 kPa: wider and more is the unsafe side. Above 999.9 mm and
  /// 880.9 kPa the greatest stands for "this or more".
  std::optional<Length> gap;
  std::optional<GaugePressure> part;
};

int radio_mark(std::string_view job);

/// What there is to say of a shut-off; its letter is one of A to Z. Errors: unknown_element.
Result<Radio> radio_of(const State& state, const std::string& letter);

/// Twelve characters, without blanks.
std::string radio_code(const Radio& radio);

/// Reads them, blanks and hyphens anywhere, small letters too; O, I, B, S, Z as the figures that
/// they look like. Errors: unreadable_value (length, another character, the check).
Result<Radio> read_radio(std::string_view code, std::string_view where);

/// The latest moment not after `heard` that shows this minute.
Instant radio_moment(const Radio& radio, Instant heard);

/// "Alfa 4 Kilo": letters by the spelling alphabet of ICAO (Annex 10, volume II), figures as
/// figures.
std::string spelled(std::string_view code);

}  // namespace bellhole::job
