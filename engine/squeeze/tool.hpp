// The record of one squeeze tool, as its owner keeps it: what it may be put on, what it is made
// like, which stops belong to it and what its maker asks for. A value that the record does not give
// is missing, never nought.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "units/quantity.hpp"

namespace bellhole::squeeze {

enum class Drive { hydraulic, screw, other };
enum class Bar { round, flat };

/// How many of a thing there are. Missing: not recorded, which is neither none nor enough.
struct Stock {
  std::optional<std::int64_t> owned;     ///< by the company
  std::optional<std::int64_t> on_truck;  ///< of them, with the crew
};

/// A stop keeps the bars `gap` apart. What it was cut for is its label; what it does on another
/// pipe is arithmetic. An empty list says that the label names none.
struct Stop {
  std::string id;
  Length gap;
  std::vector<std::string> sizes;
  std::vector<double> ratios;
  Stock stock = {};  ///< sets, one for each tool
};

/// When a row of the record is wanted.
enum class Stage {
  before,    ///< before it is taken to the hole
  lowering,  ///< on to the pipe
  during,    ///< closing
  holding,   ///< on the stops
  opening,
  after,    ///< off the pipe
  storing,  ///< until the next job
};
inline constexpr std::array stage_words{std::string_view("before"),  std::string_view("lowering"),
                                        std::string_view("during"),  std::string_view("holding"),
                                        std::string_view("opening"), std::string_view("after"),
                                        std::string_view("storing")};

struct Instruction {
  Stage stage = Stage::before;
  std::string says;
};

struct Tool {
  std::string id, title;
  Drive drive = Drive::other;
  std::vector<std::string> sizes;  ///< that it may squeeze; empty: the record does not say
  std::vector<double> ratios;      ///< empty: the record does not say
  std::optional<GaugePressure> pressure_most;                      ///< of the gas in the pipe
  std::optional<Temperature> temperature_least, temperature_most;  ///< of the pipe
  std::optional<Area> ram_area;                                    ///< of all rams together
  std::optional<GaugePressure> pump_limit;                         ///< of the hydraulic oil
  std::optional<Bar> bar;
  std::optional<Length> bar_radius;     ///< of a round bar; of a flat bar's edge
  std::optional<Length> guide_spacing;  ///< free width between the bar guides
  std::optional<Length>
      half_width;  ///< along the pipe, from the bars' centreline to the tool's edge
  std::optional<Length> travel_per_stroke, travel_per_turn;
  std::vector<Stop> stops;
  std::vector<Instruction> instructions;  ///< its own maker's
  std::string source;                     ///< plate, manual, drawing
  Stock stock;
};

/// A pump that drives a hydraulic tool.
struct Pump {
  std::string id, title;
  std::vector<std::string> tools;  ///< ids of those that it drives; empty: any hydraulic tool
  Stock stock;
};

/// What a company owns to squeeze with.
struct Kit {
  std::vector<Tool> tools;
  std::vector<Stop> stops;  ///< kept apart from any tool
  std::vector<Pump> pumps;
};

/// Force at the pump's limit; nothing for a tool without a ram or a limit on record.
std::optional<Force> force_at_limit(const Tool& tool);

}  // namespace bellhole::squeeze
