// The PE codes of which a yield is on record, those together that yield alike.
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "units/quantity.hpp"

namespace bellhole::flatten {

/// What yield and modulus at a temperature are, as a share of those of PE4710 at 23 degC and the
/// same rate. Nothing for a material of which no yield is on record.
std::optional<double> share_of(std::string_view material, Temperature pipe);

/// Whether it is colder or warmer than the data behind the slope with temperature.
bool is_extrapolated(Temperature pipe);

/// Strongest first; within a group in the order of the record.
std::vector<std::vector<std::string_view>> grades_alike();

}  // namespace bellhole::flatten
