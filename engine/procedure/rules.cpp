#include "procedure/rules.hpp"

#include <algorithm>
#include <array>
#include <numeric>
#include <string>
#include <utility>
#include <vector>

namespace bellhole::procedure {
namespace {

using enum Dimension;
using enum Sense;
constexpr bool is_law = true;

constexpr std::array all_rules{
    // How far, and on which wall.
    Rule{"squeeze.compression", fraction, most, false,
         "most wall compression on the wall of squeeze.wall_basis"},
    Rule{"squeeze.compression_least", fraction, least, false,
         "least wall compression that counts as shut"},
    Rule{"squeeze.wall_basis", text, set, false, "wall that the stop gap is reckoned on",
         "minimum nominal maximum measured_else_minimum"},
    // How fast.
    Rule{"squeeze.closing_speed", speed, most, false, "fastest closing"},
    Rule{"squeeze.closing_step", length, most, false, "longest stretch of closing without a pause"},
    Rule{"squeeze.closing_pause", duration, least, false, "shortest pause between closing steps"},
    Rule{"squeeze.opening_speed", speed, most, false, "fastest opening"},
    Rule{"squeeze.opening_step", length, most, false, "longest stretch of opening without a pause"},
    Rule{"squeeze.opening_pause", duration, least, false, "shortest pause between opening steps"},
    Rule{"squeeze.relaxation_wait", duration, least, false,
         "wait at the pump's limit before pumping up again"},
    Rule{"squeeze.hold", duration, most, false, "longest time that a pipe stays squeezed"},
    // Where.
    Rule{"squeeze.clearance_diameters", number, least, false, "clearance in pipe diameters"},
    Rule{"squeeze.clearance", length, least, false, "clearance as a length"},
    Rule{"squeeze.clearance_from", text, set, false, "where on the tool the clearance begins",
         "centreline tool_edge"},
    // When and on what.
    Rule{"squeeze.temperature_least", temperature, least, false, "coldest pipe"},
    Rule{"squeeze.temperature_most", temperature, most, false, "warmest pipe"},
    Rule{"squeeze.pressure_single", gauge_pressure, most, false,
         "most line pressure for one squeeze"},
    Rule{"squeeze.pressure_double", gauge_pressure, most, false,
         "most line pressure for two squeezes with a vent between"},
    Rule{"squeeze.od_most", length, most, false, "largest pipe"},
    Rule{"squeeze.made_from", date, least, false,
         "earliest making date without special qualification"},
    Rule{"squeeze.let_by", std_flow, most, false, "most gas passing a closed squeeze"},
    // The tool.
    Rule{"tool.bar_radius_round", length, least, false, "least radius of a round squeeze bar"},
    Rule{"tool.bar_radius_flat_edge", length, least, false,
         "least edge radius of a flat squeeze bar"},
    // What the pipe is rated for.
    Rule{"pipe.design_form", text, set, is_law, "formula of the design pressure", "us iso"},
    Rule{"pipe.design_factor", number, most, is_law, "design factor"},
    Rule{"pipe.design_wall_least", length, least, is_law,
         "least wall for the higher design factor"},
    Rule{"pipe.design_coefficient", number, least, is_law, "overall design coefficient C"},
    Rule{"pipe.design_derating", number, least, is_law,
         "divisor of the design pressure for temperature"},
    Rule{"pipe.design_cap", gauge_pressure, most, is_law,
         "most design pressure whatever the formula gives"},
    Rule{"pipe.design_temperature_least", temperature, least, is_law,
         "coldest pipe that the rating covers"},
    Rule{"pipe.design_temperature_most", temperature, most, is_law,
         "warmest pipe that the rating covers"},
    // What a closed main holds.
    Rule{"linepack.low_pressure", gauge_pressure, set, false,
         "pressure up to which a main has no line pack to speak of"},
    // Gas that escapes.
    Rule{"escape.coefficient_low", number, set, false,
         "least discharge coefficient of a hole whose edge is not known"},
    Rule{"escape.coefficient_high", number, set, false,
         "greatest discharge coefficient of a hole whose edge is not known"},
    // A bypass.
    Rule{"bypass.speed_most", speed, most, false, "fastest gas in a bypass, for noise and debris"},
    // Pressure test of a repair.
    Rule{"test.operating_multiple", number, least, is_law,
         "least test pressure as a multiple of the maximum operating pressure"},
    Rule{"test.pressure_least", gauge_pressure, least, is_law,
         "least test pressure whatever the operating pressure"},
    Rule{"test.design_multiple", number, most, is_law,
         "most test pressure as a multiple of the design pressure"},
    Rule{"test.temperature_most", temperature, most, is_law, "warmest pipe during a test"},
    Rule{"test.duration_least", duration, least, false, "shortest test"},
    Rule{"test.leak", std_flow, most, false, "smallest leak that a test must find"},
    Rule{"test.gauge_steps", number, least, false,
         "gauge divisions that a leak must move before it counts as seen"},
    Rule{"test.against_squeeze", yes_no, set, false, "whether a test may stand against a squeeze"},
    Rule{"test.against_live_valve", yes_no, set, false,
         "whether a test may stand against one valve with live gas behind it"},
    Rule{"test.pretested", yes_no, set, false,
         "whether pipe that was tested before it goes in may stand for a test in place"},
    Rule{"test.keep_off", length, least, false, "distance of people from the ends of a test"},
    // Purging.
    Rule{"purge.speed_least", speed, least, false, "slowest purge, whatever the bore"},
    Rule{"purge.froude_least", number, least, false,
         "least Froude number of a purge, on the weight difference of gas and air"},
    Rule{"purge.end_gas", fraction, least, false,
         "least gas by volume at the end of a purge to gas"},
    Rule{"purge.end_readings", number, least, false, "readings in a row that end a purge"},
    Rule{"purge.volumes", number, least, false, "pipe volumes of gas that a purge is planned with"},
    Rule{"purge.vent_bore_least", length, least, false, "narrowest vent stack of a purge"},
    Rule{"purge.vent_height_least", length, least, false, "lowest mouth of a vent stack"},
    // Gas back into the part.
    Rule{"repressurise.valve_trip", std_flow, most, false,
         "flow at which the first excess-flow valve of the company shuts"},
    Rule{"repressurise.apart_most", gauge_pressure, most, false,
         "difference between the two gauges of a shut-off at which it may be opened"},
    Rule{"repressurise.service_length", length, set, false,
         "longest service behind an excess-flow valve, which fills through it"},
    Rule{"repressurise.service_bore", length, set, false,
         "widest service behind an excess-flow valve"},
    // Joining.
    Rule{"join.interfacial_least", gauge_pressure, least, false,
         "least pressure between the faces of a butt fusion"},
    Rule{"join.interfacial_most", gauge_pressure, most, false,
         "most pressure between the faces of a butt fusion"},
    Rule{"join.heater_least", temperature, least, false, "coldest face of the heater"},
    Rule{"join.heater_most", temperature, most, false, "hottest face of the heater"},
    Rule{"join.bead_least", length, least, false,
         "least bead of melt on the heater before it is taken away"},
    Rule{"join.per_wall", length, set, false,
         "wall thickness that the times of join.soak and join.cooling are given for"},
    Rule{"join.soak", duration, least, false,
         "least heat soak without force, for the wall of join.per_wall"},
    Rule{"join.removal_most", duration, most, false,
         "longest time to take the heater away and bring the faces together"},
    Rule{"join.cooling", duration, least, false,
         "least cooling under pressure, for the wall of join.per_wall"},
    Rule{"join.ambient_most", temperature, most, false,
         "warmest air in which the cooling time holds"},
    Rule{"join.electrofusion_cooling", duration, least, false,
         "least cooling of an electrofusion joint, clamped and unmoved"},
    // Planning.
    Rule{"plan.cost_squeeze", duration, set, false,
         "crew-time of one squeeze, digging and putting back included"},
    Rule{"plan.cost_valve", duration, set, false,
         "crew-time of working one valve, shut and open again"},
    Rule{"plan.cost_station_outlet", duration, set, false,
         "crew-time of shutting a station's outlet and opening it again"},
    Rule{"plan.cost_customer", duration, set, false,
         "crew-time per customer out: both visits, off and relight"},
    Rule{"plan.time_locate", duration, least, false,
         "time from the order until a crew has found the main at the place of a squeeze"},
    Rule{"plan.time_dig", duration, least, false, "time to dig one hole and make it safe to enter"},
    Rule{"plan.time_set", duration, least, false, "time to set one squeeze tool, ready to close"},
    Rule{"plan.time_valve", duration, set, false, "time from the order until one valve is shut"},
    Rule{"plan.time_station_outlet", duration, set, false,
         "time from the order until a station's outlet is shut"},
    Rule{"plan.cost_placed", duration, set, false,
         "crew-time of one shut-off placed by hand: plug, bag, cap"},
    Rule{"plan.time_placed", duration, set, false,
         "time from the order until a shut-off placed by hand holds"},
    Rule{"plan.time_turn_valve", duration, least, false,
         "time to open a valve again, or shut it again, by the person who stands at it"},
    Rule{"plan.time_turn_outlet", duration, least, false,
         "time to open a station's outlet again, or shut it again, by the person who stands at it"},
    Rule{"plan.standoff", length, least, false,
         "distance of a squeeze from the work or from the gas"},
    Rule{"plan.valve_trust", duration, most, false,
         "age of a valve's last operation beyond which it is not trusted"},
    Rule{"plan.pressure_least", gauge_pressure, least, false,
         "least pressure at a main of the tier"},
    Rule{"plan.dig_reach", length, least, false,
         "reach around a dig within which other pipes are shown"},
    // Steps.
    Rule{"steps.gauge_range", gauge_pressure, set, false,
         "top of the scale of the gauges used on a tier"},
    Rule{"steps.vented_gauge_range", gauge_pressure, set, false,
         "top of the scale of the gauges on a part that is vented down"},
    Rule{"steps.vented_most", gauge_pressure, most, false,
         "most pressure in a part that is vented down and cut"},
    Rule{"steps.read_every", duration, most, false,
         "longest time between two readings while nothing is moved"},
    Rule{"steps.time", duration, least, false, "time that a step of a kind takes"},
    Rule{"steps.gauge_step", gauge_pressure, set, false,
         "smallest division that is read on the gauges of a tier"},
    Rule{"steps.vented_gauge_step", gauge_pressure, set, false,
         "smallest division that is read on the gauges of a part that is vented down"},
    Rule{"steps.time_short", number, set, false,
         "how short the time of a step can come out, as a share of it"},
    Rule{"steps.time_long", number, set, false,
         "how long the time of a step can come out, as a multiple of it"},
    // Customers off and back.
    Rule{"relight.rate_low", number, set, false,
         "relight visits per technician and hour, slow end"},
    Rule{"relight.rate_expected", number, set, false,
         "relight visits per technician and hour, expected"},
    Rule{"relight.rate_high", number, set, false,
         "relight visits per technician and hour, fast end"},
    Rule{"relight.shut_rate_low", number, set, false,
         "meters shut per technician and hour, slow end"},
    Rule{"relight.shut_rate_expected", number, set, false,
         "meters shut per technician and hour, expected"},
    Rule{"relight.shut_rate_high", number, set, false,
         "meters shut per technician and hour, fast end"},
    Rule{"relight.revisit_share", fraction, set, false,
         "share of the meters that nobody opens to at the first relight visit"},
    // Who is told.
    Rule{"notify.customer_hours", number, most, is_law,
         "customer-hours of an outage from which an authority is told"},
    Rule{"notify.customers", number, most, is_law, "customers out from which an authority is told"},
    Rule{"notify.must_not_lose", yes_no, set, is_law,
         "whether an authority is told of any outage where gas must not be lost"},
    Rule{"notify.within", duration, most, is_law, "longest time until an authority is told"},
    // Gas lost.
    Rule{"emission.methane_share", fraction, set, false, "methane in the gas, by volume"},
    Rule{"emission.warming", number, set, is_law,
         "warming by methane against carbon dioxide, mass for mass, over 100 years"},
    // The hole and the kit.
    Rule{"hole.working_room", length, least, false,
         "room in the hole beyond the outermost tool, along the main"},
    Rule{"hole.beside", length, least, false, "room in the hole on each side of the pipe"},
    Rule{"hole.below", length, least, false, "room in the hole under the pipe"},
    Rule{"hole.bench", length, least, false,
         "least ground left standing between two holes; with less they are one"},
    Rule{"kit.pumps", text, set, false, "which hydraulic tools keep a pump of their own",
         "each_tool each_hole"},
    // The record of a job.
    Rule{"job.clock_error", duration, most, false,
         "most that two clocks of a job's devices may differ"},
    Rule{"job.entered_late", duration, most, false,
         "longest time from an event until it is entered in the log"},
};

std::size_t distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = std::exchange(row[0], i);
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t swap = diagonal + (a[i - 1] == b[j - 1] ? 0u : 1u);
      diagonal = row[j];
      row[j] = std::min({row[j] + 1, row[j - 1] + 1, swap});
    }
  }
  return row.back();
}

}  // namespace

std::span<const Rule> rules() { return all_rules; }

const Rule* find_rule(std::string_view id) {
  const auto found = std::ranges::find(all_rules, id, &Rule::id);
  return found == all_rules.end() ? nullptr : &*found;
}

std::string nearest_rules(std::string_view id) {
  constexpr std::size_t longest = 80;
  std::vector<std::pair<std::size_t, std::string_view>> near;
  for (const Rule& rule : all_rules)
    near.emplace_back(distance(id.substr(0, longest), rule.id), rule.id);
  std::ranges::sort(near);
  std::string text;
  for (std::size_t i = 0; i < 3; ++i) text += (i == 0 ? "" : ", ") + std::string(near[i].second);
  return text;
}

std::string_view to_string(Dimension dimension) {
  switch (dimension) {
    case fraction:
      return "fraction";
    case length:
      return "length";
    case speed:
      return "speed";
    case duration:
      return "duration";
    case gauge_pressure:
      return "gauge pressure";
    case temperature:
      return "temperature";
    case std_flow:
      return "flow of gas";
    case number:
      return "plain number";
    case text:
      return "text";
    case yes_no:
      return "yes or no";
    case date:
      return "date";
  }
  return "value";
}

}  // namespace bellhole::procedure
