#include "procedure/value.hpp"

#include <fmt/format.h>

#include <cmath>
#include <limits>

#include "procedure/date.hpp"
#include "units/parse.hpp"

namespace bellhole::procedure {
namespace {

template <class Kind>
Result<Value> measured(double number, std::string_view unit, std::string_view where) {
  // The number is printed shortest and read back exactly, so that a profile's "2 in/min" and a
  // typed one are the same bits.
  BELLHOLE_TRY(read, units::parse<Kind>(fmt::format("{} {}", number, unit), where));
  return Value(read.value.si());
}

Result<Value> number_of(const Rule& rule, double number, std::string_view unit,
                        std::string_view where) {
  if (!std::isfinite(number)) {
    return trouble(Code::unreadable_value, std::string(where), fmt::format("{}", number),
                   "give a finite number");
  }
  switch (rule.dimension) {
    case Dimension::fraction:
      return measured<kinds::Fraction>(number, unit, where);
    case Dimension::length:
      return measured<kinds::Length>(number, unit, where);
    case Dimension::speed:
      return measured<kinds::Speed>(number, unit, where);
    case Dimension::duration:
      return measured<kinds::Duration>(number, unit, where);
    case Dimension::gauge_pressure:
      return measured<kinds::GaugePressure>(number, unit, where);
    case Dimension::temperature:
      return measured<kinds::Temperature>(number, unit, where);
    case Dimension::std_flow:
      return measured<kinds::StdFlow>(number, unit, where);
    case Dimension::number:
      if (unit.empty() || unit == "1") return Value(number);
      return trouble(Code::wrong_dimension, std::string(where), fmt::format("{} {}", number, unit),
                     fmt::format("{} is a plain number: leave the unit out", rule.id));
    case Dimension::text:
    case Dimension::yes_no:
    case Dimension::date:
      break;
  }
  return trouble(Code::wrong_dimension, std::string(where), fmt::format("{} {}", number, unit),
                 fmt::format("{} takes a {}", rule.id, to_string(rule.dimension)));
}

bool has_word(std::string_view words, std::string_view word) {
  while (!words.empty()) {
    const auto blank = std::min(words.find(' '), words.size());
    if (words.substr(0, blank) == word) return true;
    words.remove_prefix(std::min(blank + 1, words.size()));
  }
  return false;
}

Result<Value> word_of(const Rule& rule, const std::string& given, std::string_view where) {
  if (rule.dimension == Dimension::date) {
    BELLHOLE_TRY(days, parse_date(given, where));
    return Value(static_cast<double>(days.first));
  }
  if (rule.dimension != Dimension::text) {
    return trouble(Code::wrong_dimension, std::string(where), given,
                   fmt::format("{} takes a {}, as a number beside its unit", rule.id,
                               to_string(rule.dimension)));
  }
  if (!has_word(rule.words, given)) {
    return trouble(Code::unreadable_value, std::string(where), given,
                   fmt::format("give one of: {}", rule.words));
  }
  return Value(given);
}

/// Below or above what a value of the dimension can be.
bool impossible(Dimension dimension, double si) {
  switch (dimension) {
    case Dimension::fraction:
      return si < 0.0 || si > 1.0;
    case Dimension::length:
    case Dimension::duration:
    case Dimension::std_flow:
    case Dimension::number:
      return si < 0.0;
    case Dimension::speed:
      return si <= 0.0;
    default:
      return false;
  }
}

}  // namespace

Result<Value> to_si(const Rule& rule, const Value& given, std::string_view unit,
                    std::string_view where) {
  if (std::holds_alternative<std::monostate>(given)) return given;
  if (const auto* number = std::get_if<double>(&given)) {
    BELLHOLE_TRY(value, number_of(rule, *number, unit, where));
    if (impossible(rule.dimension, std::get<double>(value))) {
      return trouble(Code::out_of_range, std::string(where), fmt::format("{} {}", *number, unit),
                     fmt::format("no {} can be that", rule.asks));
    }
    return value;
  }
  if (!unit.empty()) {
    return trouble(
        Code::wrong_dimension, std::string(where), std::string(unit),
        fmt::format("only a number has a unit; {} takes a {}", rule.id, to_string(rule.dimension)));
  }
  if (const auto* word = std::get_if<std::string>(&given)) return word_of(rule, *word, where);
  if (rule.dimension != Dimension::yes_no) {
    return trouble(Code::wrong_dimension, std::string(where),
                   std::get<bool>(given) ? "true" : "false",
                   fmt::format("{} takes a {}", rule.id, to_string(rule.dimension)));
  }
  return given;
}

std::string print(Dimension dimension, double si, units::System system, units::Toward toward) {
  using units::print;
  switch (dimension) {
    case Dimension::fraction:
      return print(Fraction::from_si(si), system, toward);
    case Dimension::length:
      return print(Length::from_si(si), system, toward);
    case Dimension::speed:
      return print(Speed::from_si(si), system, toward);
    case Dimension::duration:
      return print(Duration::from_si(si), system, toward);
    case Dimension::gauge_pressure:
      return print(GaugePressure::from_si(si), system, toward);
    case Dimension::temperature:
      return print(Temperature::from_si(si), system, toward);
    case Dimension::std_flow:
      return print(StdFlow::from_si(si), system, toward);
    case Dimension::date:
      return print_date(static_cast<int>(si));
    default:
      return fmt::format("{:g}", si);
  }
}

std::string print(const Rule& rule, const Value& value, units::System system) {
  if (const auto* number = std::get_if<double>(&value))
    return print(rule.dimension, *number, system);
  if (const auto* word = std::get_if<std::string>(&value)) return *word;
  if (const auto* yes = std::get_if<bool>(&value)) return *yes ? "yes" : "no";
  return "not set";
}

std::string_view unit_si(Dimension dimension) {
  switch (dimension) {
    case Dimension::length:
      return kinds::Length::symbol;
    case Dimension::speed:
      return kinds::Speed::symbol;
    case Dimension::duration:
      return kinds::Duration::symbol;
    case Dimension::gauge_pressure:
      return kinds::GaugePressure::symbol;
    case Dimension::temperature:
      return kinds::Temperature::symbol;
    case Dimension::std_flow:
      return kinds::StdFlow::symbol;
    case Dimension::date:
      return "days since 1970-01-01";
    default:
      return "1";
  }
}

}  // namespace bellhole::procedure
