// The profiles and orders of profiles/, put into the program by the build.
#pragma once

#include <string_view>

namespace bellhole::wire::built_in {

extern const std::string_view us_profile;
extern const std::string_view metric_profile;
extern const std::string_view planned_order;
extern const std::string_view emergency_order;

}  // namespace bellhole::wire::built_in
