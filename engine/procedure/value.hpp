// The value of a row: read from what a profile gives, and printed for people.
#pragma once

#include <string>
#include <variant>

#include "findings/trouble.hpp"
#include "procedure/rules.hpp"
#include "units/print.hpp"

namespace bellhole::procedure {

/// Nothing (an empty row), a number in SI (dates as days since 1970-01-01), a word, or yes/no.
using Value = std::variant<std::monostate, double, std::string, bool>;

/// Turns what a profile gives into a rule's value. `unit` is the unit as written ("in/min"); empty
/// for plain numbers, texts, dates and yes/no. Errors: wrong_dimension, unreadable_value,
/// out_of_range.
Result<Value> to_si(const Rule& rule, const Value& given, std::string_view unit,
                    std::string_view where);

/// A number of this dimension for a person, in the units of `system`.
std::string print(Dimension dimension, double si, units::System system,
                  units::Toward toward = units::Toward::nearest);
std::string print(const Rule& rule, const Value& value, units::System system);

/// The SI unit of a dimension as findings carry it: "m", "Pa (gauge)", "1".
std::string_view unit_si(Dimension dimension);

}  // namespace bellhole::procedure
