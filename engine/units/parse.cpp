#include "units/parse.hpp"

#include <fast_float/fast_float.h>
#include <fmt/format.h>

#include <cmath>
#include <optional>

#include "units/unit.hpp"

namespace bellhole::units {
namespace {

/// Blanks, degree signs and stray separators do not tell units apart; case does only for a few
/// (Mscf and mscf, MPa and mPa), so an exact match is tried first.
std::string plain(std::string_view word) {
  std::string out;
  for (std::size_t i = 0; i < word.size(); ++i) {
    const char c = word[i];
    if (c == ' ' || c == '\t' || c == '_') continue;
    if (word.substr(i).starts_with("\xC2\xB0")) {  // degree sign, UTF-8
      ++i;
      continue;
    }
    if (word.substr(i).starts_with("\xC2\xB3")) {  // superscript three
      out += '3';
      ++i;
      continue;
    }
    out += c;
  }
  return out;
}

std::string lower(std::string text) {
  for (char& c : text) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return text;
}

const Unit* find(std::span<const Unit> table, std::string_view word) {
  const std::string wanted = plain(word);
  for (const Unit& unit : table) {
    if (plain(unit.word) == wanted) return &unit;
  }
  const std::string folded = lower(wanted);
  const Unit* match = nullptr;
  for (const Unit& unit : table) {
    if (lower(plain(unit.word)) != folded) continue;
    if (match != nullptr && match->factor != unit.factor)
      return nullptr;  // mscf: thousand or milli?
    match = &unit;
  }
  return match;
}

template <class... Kinds>
std::optional<std::string_view> kind_that_has(std::string_view word) {
  std::optional<std::string_view> name;
  ((find(table<Kinds>(), word) != nullptr && !name ? void(name = Kinds::name) : void()), ...);
  return name;
}

std::optional<std::string_view> other_kind(std::string_view word) {
  return kind_that_has<kinds::Length, kinds::GaugePressure, kinds::AbsolutePressure,
                       kinds::Temperature, kinds::Duration, kinds::Speed, kinds::StdFlow,
                       kinds::StdVolume, kinds::Volume, kinds::Area, kinds::Force, kinds::Mass,
                       kinds::MassFlow, kinds::Fraction>(word);
}

std::string words_of(std::span<const Unit> table) {
  std::string out;
  for (const Unit& unit : table) {
    if (!out.empty()) out += ", ";
    out += unit.word;
  }
  return out;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '\t')) text.remove_prefix(1);
  while (!text.empty() && (text.back() == ' ' || text.back() == '\t')) text.remove_suffix(1);
  return text;
}

struct Split {
  double number;
  std::string_view unit;
};

Result<Split> split(std::string_view text, std::string_view where) {
  const std::string_view whole = trimmed(text);
  std::string_view rest = whole;
  if (rest.starts_with('+')) rest.remove_prefix(1);
  double number = 0.0;
  const auto [end, error] = fast_float::from_chars(rest.data(), rest.data() + rest.size(), number);
  if (error != std::errc() || rest.empty() || !std::isfinite(number)) {
    return trouble(
        Code::unreadable_value, std::string(where), std::string(text),
        "write a number and its unit, with a point for decimals: 60psig, 8.625in, -5degC");
  }
  const auto unit = trimmed(rest.substr(static_cast<std::size_t>(end - rest.data())));
  if (unit.starts_with(',')) {
    return trouble(Code::unreadable_value, std::string(where), std::string(text),
                   "write decimals with a point and no thousands separator");
  }
  return Split{number, unit};
}

}  // namespace

Result<double> parse_number(std::string_view text, std::string_view where) {
  BELLHOLE_TRY(parts, split(text, where));
  if (!parts.unit.empty()) {
    return trouble(Code::unreadable_value, std::string(where), std::string(text),
                   "write a plain number");
  }
  return parts.number;
}

template <class Kind>
Result<Read<Kind>> parse(std::string_view text, std::string_view where) {
  BELLHOLE_TRY(parts, split(text, where));
  if (parts.unit.empty()) {
    return trouble(Code::missing_value, std::string(where), std::string(text),
                   fmt::format("add the unit: one of {}", words_of(table<Kind>())));
  }
  const Unit* unit = find(table<Kind>(), parts.unit);
  if (unit == nullptr) {
    const auto other = other_kind(parts.unit);
    if (other) {
      return trouble(Code::wrong_dimension, std::string(where), std::string(text),
                     fmt::format("'{}' is a unit of {}; a {} is wanted here ({})", parts.unit,
                                 *other, Kind::name, words_of(table<Kind>())));
    }
    return trouble(Code::unreadable_value, std::string(where), std::string(text),
                   fmt::format("'{}' is not a unit of {}; write one of {}", parts.unit, Kind::name,
                               words_of(table<Kind>())));
  }
  const double si = parts.number * unit->factor + unit->offset;
  const bool below_zero = (std::is_same_v<Kind, kinds::Temperature> && si <= 0.0) ||
                          (std::is_same_v<Kind, kinds::AbsolutePressure> && si < 0.0);
  if (!std::isfinite(si) || below_zero) {
    return trouble(Code::out_of_range, std::string(where), std::string(text),
                   fmt::format("no {} can be that", Kind::name));
  }
  std::string assumed;
  if (!unit->assumes.empty())
    assumed = fmt::format("{}: {} {}", where, trimmed(text), unit->assumes);
  return Read<Kind>{Quantity<Kind>::from_si(si), std::move(assumed)};
}

template <class Kind>
Result<Range<Kind>> parse_range(std::string_view text, std::string_view where) {
  const auto colon = text.find(':');
  if (colon == std::string_view::npos) {
    BELLHOLE_TRY(only, parse<Kind>(text, where));
    return Range<Kind>{only.value, only.value, only.assumed};
  }
  const auto high_text = text.substr(colon + 1);
  BELLHOLE_TRY(high, parse<Kind>(high_text, where));
  std::string low_text(text.substr(0, colon));
  BELLHOLE_TRY(low_parts, split(low_text, where));
  if (low_parts.unit.empty()) {  // "66:78in": the unit of the high end holds for both
    BELLHOLE_TRY(high_parts, split(high_text, where));
    low_text += std::string(high_parts.unit);
  }
  BELLHOLE_TRY(low, parse<Kind>(low_text, where));
  if (low.value > high.value) {
    return trouble(Code::contradiction, std::string(where), std::string(text),
                   "write the smaller value before the colon");
  }
  return Range<Kind>{low.value, high.value, high.assumed};
}

#define BELLHOLE_PARSES(Kind)                                                                \
  template Result<Read<kinds::Kind>> parse<kinds::Kind>(std::string_view, std::string_view); \
  template Result<Range<kinds::Kind>> parse_range<kinds::Kind>(std::string_view, std::string_view);

BELLHOLE_PARSES(Fraction)
BELLHOLE_PARSES(Length)
BELLHOLE_PARSES(Area)
BELLHOLE_PARSES(Volume)
BELLHOLE_PARSES(Duration)
BELLHOLE_PARSES(Speed)
BELLHOLE_PARSES(Mass)
BELLHOLE_PARSES(MassFlow)
BELLHOLE_PARSES(Density)
BELLHOLE_PARSES(Viscosity)
BELLHOLE_PARSES(StdVolume)
BELLHOLE_PARSES(StdFlow)
BELLHOLE_PARSES(Force)
BELLHOLE_PARSES(Stress)
BELLHOLE_PARSES(PressureDifference)
BELLHOLE_PARSES(PressureRate)
BELLHOLE_PARSES(TemperatureDifference)
BELLHOLE_PARSES(GaugePressure)
BELLHOLE_PARSES(AbsolutePressure)
BELLHOLE_PARSES(Temperature)

}  // namespace bellhole::units
