// Reading what a person types: "8in", "60psig", "-5degC", "0.547 in", "3mi", "14inWC".
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "findings/trouble.hpp"
#include "units/quantity.hpp"

namespace bellhole::units {

/// A value as read, and what reading it took for granted ("psi read as gauge"); empty where nothing
/// was.
template <class Kind>
struct Read {
  Quantity<Kind> value;
  std::string assumed;
};

/// Reads a number with its unit. There is no default unit: a bare "60" is trouble that names the
/// units wanted. Bare psi, bar, kPa … read as gauge and say so. `where` names the field for the
/// trouble.
///
/// Errors: unreadable_value (no number, or more than one), wrong_dimension (the unit belongs to
/// another kind: the trouble says which), missing_value (no unit), out_of_range (not finite, below
/// absolute zero).
template <class Kind>
Result<Read<Kind>> parse(std::string_view text, std::string_view where);

/// "low:high" of one kind, the unit at least on the high end: "0in:84in", "66:78in". A single value
/// reads as low = high.
template <class Kind>
struct Range {
  Quantity<Kind> low, high;
  std::string assumed;
};
template <class Kind>
Result<Range<Kind>> parse_range(std::string_view text, std::string_view where);

/// A plain number, whole string, locale free. Errors: unreadable_value.
Result<double> parse_number(std::string_view text, std::string_view where);

}  // namespace bellhole::units
