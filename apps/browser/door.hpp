// What the two engines of a phone differ in: the questions that each answers. The quick one is
// loaded first and holds what a crew asks with a hand on the pump; the other holds everything.
#pragma once

#include <string_view>

#include "ask/ask.hpp"

namespace bellhole::browser {

ask::Reply answer(std::string_view request, ask::Context context);

}  // namespace bellhole::browser
