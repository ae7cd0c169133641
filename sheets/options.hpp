// What a door may choose about a sheet of paper. Everything else stands in the reply.
#pragma once

#include <string_view>

#include "findings/trouble.hpp"
#include "units/print.hpp"

namespace bellhole::sheets {

enum class Paper { a4, letter };

struct Options {
  Paper paper = Paper::a4;
  units::System system = units::System::us;
};

/// Reads "a4" or "letter". Errors: unreadable_value.
Result<Paper> paper_from(std::string_view word);

}  // namespace bellhole::sheets
