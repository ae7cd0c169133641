// Printing quantities for people: a number, its unit, and rounding that never flatters.
#pragma once

#include <string>

#include "units/quantity.hpp"

namespace bellhole::units {

enum class System { us, metric };

/// Which way a printed value may err. `nearest` is for descriptions; the other two are for values
/// that a person acts on: time left and highest pressure round down, watch time, clearance and
/// least pressure up.
enum class Toward { nearest, down, up };

/// Prints `value` in the units that a crew uses for its kind and size ("7.53 in", "55 psig", "3.8
/// min"). Not finite prints "not known". Documents carry the unrounded SI value beside.
template <class Kind>
std::string print(Quantity<Kind> value, System system, Toward toward = Toward::nearest);

/// Prints in a named unit with a given number of decimals: print_in(gap, "in", 3) = "1.098 in".
template <class Kind>
std::string print_in(Quantity<Kind> value, std::string_view unit, int decimals,
                     Toward toward = Toward::nearest);

/// The value in a named unit of its kind's table; nan for a word that is not in it.
template <class Kind>
double in_unit(Quantity<Kind> value, std::string_view unit);

}  // namespace bellhole::units
