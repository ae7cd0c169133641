// Where streets run. Avenues go north, streets go east; the burn runs between the fifth and sixth
// avenue.
#pragma once

#include <array>
#include <string_view>

#include "demo/town.hpp"

namespace bellhole::demo {

inline constexpr std::array<std::string_view, 9> avenues{
    "Slipway Avenue", "Mast Avenue", "Keel Avenue",   "Oar Avenue",  "Compass Avenue",
    "Spar Avenue",    "Bell Avenue", "Rudder Avenue", "Cliff Avenue"};
inline constexpr std::array<std::string_view, 12> streets{
    "Quay Street",    "Ropewalk",      "Chandler Street", "Cooper Street",
    "Lantern Street", "Anchor Street", "Heron Street",    "Beacon Street",
    "Tide Street",    "Signal Street", "Gull Street",     "North Street"};

inline constexpr double avenue_gap = 187.5, street_gap = 100.0;
constexpr double avenue(double i) { return avenue_gap * i; }
constexpr double row(double j) { return street_gap * j; }
/// Mains lie to one side of the middle of their street.
inline constexpr double aside = 2.5;

Line coast();

}  // namespace bellhole::demo
