#include "job/radio.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>

namespace bellhole::job {
namespace {

constexpr std::uint64_t base = radio_alphabet.size();
constexpr std::int64_t minute_ms = 60'000;
constexpr std::int64_t day_minutes = 1440;

/// How many values each part of a code has, first to last. Their product is below 31 to the 11th.
constexpr std::uint64_t marks = 961, letters = 26, dids = 4, tenths_gap = 10'001,
                        tenths_part = 8'811;

/// Nought: not said. Otherwise one more than the tenths, rounded up, the last one "this or more".
std::uint64_t tenths(std::optional<double> value, std::uint64_t values) {
  if (!value) return 0;
  const double last = static_cast<double>(values - 1);
  const double up =
      std::ceil(*value * 10.0 - 1e-6);  // a tenth that lacks the last bits of a double
  return static_cast<std::uint64_t>(std::clamp(up + 1.0, 1.0, last));
}
std::optional<double> from_tenths(std::uint64_t value) {
  if (value == 0) return {};
  return static_cast<double>(value - 1) / 10.0;
}

char check_of(std::string_view digits) {
  std::uint64_t sum = 0;
  for (std::size_t i = 0; i < digits.size(); ++i)
    sum += (radio_length - i) * radio_alphabet.find(digits[i]);
  return radio_alphabet[(base - sum % base) % base];
}

char meant(char written) {
  const char upper =
      written >= 'a' && written <= 'z' ? static_cast<char>(written - 'a' + 'A') : written;
  constexpr std::string_view looks = "OIBSZ", means = "01852";
  const auto at = looks.find(upper);
  return at == std::string_view::npos ? upper : means[at];
}

constexpr std::array did_order{Did::shut, Did::undone, Did::opened};

/// Takes the last part of a number that was put together part by part.
std::uint64_t taken(std::uint64_t& number, std::uint64_t values) {
  const std::uint64_t part = number % values;
  number /= values;
  return part;
}

Instant later(Instant a, Instant b) { return std::max(a, b); }

}  // namespace

int radio_mark(std::string_view job) {
  std::uint64_t number = 0;
  for (const char one : job) number = (number * 131 + static_cast<unsigned char>(one)) % 1'000'003;
  return static_cast<int>(number % marks);
}

Result<Radio> radio_of(const State& state, const std::string& letter) {
  const ShutoffState* shutoff = state.shutoff(letter);
  if (letter.size() != 1 || letter[0] < 'A' || letter[0] > 'Z' || shutoff == nullptr)
    return trouble(Code::unknown_element, "about", letter,
                   "name a shut-off of this job by its letter, A to Z");
  Radio radio{.job_mark = radio_mark(state.job), .letter = letter[0], .cut = state.cut()};
  Instant last{0};
  if (!shutoff->acts.empty()) {
    radio.did = shutoff->acts.back().what.did;
    last = shutoff->acts.back().stamp.happened_at.at;
  }
  if (!shutoff->bars.empty()) {
    radio.gap = shutoff->bars.back().what.gap;
    last = later(last, shutoff->bars.back().stamp.happened_at.at);
  }
  for (const Said<Reading>& reading : state.readings)
    if (reading.what.point == letter + "-part" && reading.what.scale == Scale::gauge) {
      radio.part = GaugePressure::from_si(reading.what.si);
      last = later(last, reading.stamp.happened_at.at);
    }
  if (last.ms == 0 && state.opened) last = state.opened->stamp.happened_at.at;
  radio.minute_utc = static_cast<int>(last.ms / minute_ms % day_minutes);
  return radio;
}

std::string radio_code(const Radio& radio) {
  const auto did = radio.did ? std::ranges::find(did_order, *radio.did) : did_order.end();
  const std::uint64_t done =
      did == did_order.end() ? 0 : static_cast<std::uint64_t>(did - did_order.begin()) + 1;
  std::optional<double> gap_mm, part_kpa;
  if (radio.gap) gap_mm = radio.gap->si() * 1e3;
  if (radio.part) part_kpa = std::max(radio.part->si(), 0.0) / 1e3;
  std::uint64_t number = static_cast<std::uint64_t>(radio.job_mark);
  number = number * letters + static_cast<std::uint64_t>(radio.letter - 'A');
  number = number * dids + done;
  number = number * 2 + (radio.cut ? 1 : 0);
  number = number * day_minutes + static_cast<std::uint64_t>(radio.minute_utc);
  number = number * tenths_gap + tenths(gap_mm, tenths_gap);
  number = number * tenths_part + tenths(part_kpa, tenths_part);
  std::string code(radio_length - 1, radio_alphabet[0]);
  for (std::size_t i = code.size(); i-- > 0;) code[i] = radio_alphabet[taken(number, base)];
  code += check_of(code);
  return code;
}

Result<Radio> read_radio(std::string_view text, std::string_view where) {
  std::string code;
  for (const char one : text)
    if (one != ' ' && one != '-') code += meant(one);
  if (code.size() != radio_length)
    return trouble(Code::unreadable_value, std::string(where), std::string(text),
                   fmt::format("a code has {} characters", radio_length));
  for (const char one : code)
    if (radio_alphabet.find(one) == std::string_view::npos)
      return trouble(Code::unreadable_value, std::string(where), std::string(1, one),
                     "no code has this character: have it read again");
  if (check_of(std::string_view(code).substr(0, radio_length - 1)) != code.back())
    return trouble(Code::unreadable_value, std::string(where), std::string(text),
                   "the last character does not fit the others: have it read again");
  std::uint64_t number = 0;
  for (std::size_t i = 0; i + 1 < code.size(); ++i)
    number = number * base + radio_alphabet.find(code[i]);
  Radio radio;
  const auto part = from_tenths(taken(number, tenths_part));
  const auto gap = from_tenths(taken(number, tenths_gap));
  radio.minute_utc = static_cast<int>(taken(number, day_minutes));
  radio.cut = taken(number, 2) == 1;
  const std::uint64_t done = taken(number, dids);
  radio.letter = static_cast<char>('A' + taken(number, letters));
  if (number >= marks)
    return trouble(Code::unreadable_value, std::string(where), std::string(text),
                   "no phone makes this code: have it read again");
  radio.job_mark = static_cast<int>(number);
  if (done > 0) radio.did = did_order[done - 1];
  if (gap) radio.gap = Length::from_si(*gap / 1e3);
  if (part) radio.part = GaugePressure::from_si(*part * 1e3);
  return radio;
}

Instant radio_moment(const Radio& radio, Instant heard) {
  const std::int64_t now = heard.ms / minute_ms;
  const std::int64_t back = ((now - radio.minute_utc) % day_minutes + day_minutes) % day_minutes;
  return {(now - back) * minute_ms};
}

std::string spelled(std::string_view code) {
  constexpr std::array<std::string_view, 26> words{
      "Alfa",    "Bravo", "Charlie", "Delta",  "Echo",     "Foxtrot", "Golf",   "Hotel",  "India",
      "Juliett", "Kilo",  "Lima",    "Mike",   "November", "Oscar",   "Papa",   "Quebec", "Romeo",
      "Sierra",  "Tango", "Uniform", "Victor", "Whiskey",  "X-ray",   "Yankee", "Zulu"};
  std::string out;
  for (const char one : code) {
    if (!out.empty()) out += ' ';
    out += one >= 'A' && one <= 'Z' ? std::string(words[static_cast<std::size_t>(one - 'A')])
                                    : std::string(1, one);
  }
  return out;
}

}  // namespace bellhole::job
