// The rules of the house that a compiler does not hold: which room may include which, which library
// stays in which room, and what the pure engine never does.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace bellhole::house {

/// One broken rule, for a person: "engine/pipe/wall.cpp:3: pipe may not include network".
using Breach = std::string;

/// What `text`, a C++ source at `path` relative to the top of the project, breaks.
std::vector<Breach> breaches(std::string_view path, std::string_view text);

/// `text` with comments, string and character literals blanked out; line breaks stay where they
/// were. Paths of includes stay.
std::string code_only(std::string_view text);

}  // namespace bellhole::house
