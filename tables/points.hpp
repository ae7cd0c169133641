// The full runs that the table of the squeeze force is made of, and those that it is held against.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "flatten/table.hpp"

namespace bellhole::tables {

inline constexpr std::array ratios{6.5, 8.2, 10.4, 13.2, 16.8};
inline constexpr std::array bars{0.075, 0.15, 0.3, 0.6};
inline constexpr double quick_s = 10.0, slow_s = 1000.0;
inline constexpr double some_gas = 0.02, most_gas = 0.05;  ///< over yield
inline constexpr std::array way{0.02, 0.04, 0.07, 0.1, 0.15, 0.2,  0.3, 0.4,
                                0.5,  0.6,  0.7,  0.8, 0.9,  0.95, 1.0};
inline constexpr std::array pressed{0.02, 0.04, 0.06, 0.09, 0.12, 0.16,
                                    0.2,  0.24, 0.28, 0.32, 0.36, 0.4};

struct Point {
  std::string name;  ///< of its file
  flatten::Jaws jaws;
  double share = 1.0;  ///< of the best grade's yield at 23 degC
  Duration closing;
  flatten::Fineness bricks = flatten::Fineness::tabled;
};

/// By ratio, bar, and quick, slow, gas, as the table has them.
std::vector<Point> nodes();

/// Some nodes with some of the gas, from which its power comes.
std::vector<Point> between_gas();

/// All over the table's reach, in sizes, grades and temperatures of their own.
std::vector<Point> held_out();

/// Some of the held-out ones again in the bricks of an ordinary run.
std::vector<Point> ordinary();

/// Force at a gap, as closing_force() of a full run has it.
using Curve = std::vector<flatten::Sample>;

struct Runs {
  std::vector<Curve> nodes, between_gas, held_out, ordinary;  ///< of the points of that name
};

/// Text of table_data.cpp. Scores go to standard error, a line a run.
std::string table_source(std::string_view commit, const Runs& runs);

}  // namespace bellhole::tables
