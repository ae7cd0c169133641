// The network document described once, for reading and for writing. A Door has a member function
// for each kind of column; the reader's fills the vectors, the writer's prints them.
//
// Internal to wire/.
#pragma once

#include <limits>
#include <string_view>

#include "network/columns.hpp"

namespace bellhole::wire {

/// Whether a column may hold null (and may be left out, which is null in every row).
enum class Need { must, may };

/// Closed range of a number, in the column's own unit.
struct Bounds {
  double low = -std::numeric_limits<double>::infinity();
  double high = std::numeric_limits<double>::infinity();
};
inline constexpr Bounds any{};
inline constexpr Bounds not_negative{.low = 0.0};

template <class Door, class Net>
void describe_grid(Door& door, Net& net) {
  door.table("tiers", net.tiers.id, [&] {
    door.quantity("maop", net.tiers.maop, Need::may, not_negative);
    door.quantity("least", net.tiers.least, Need::may, not_negative);
  });
  door.table("nodes", net.nodes.id, [&] {
    auto& nodes = net.nodes;
    door.number("x_m", nodes.x, Need::must, any);
    door.number("y_m", nodes.y, Need::must, any);
    door.number("lon_deg", nodes.lon, Need::may, {-180.0, 180.0});
    door.number("lat_deg", nodes.lat, Need::may, {-90.0, 90.0});
    door.quantity("elevation", nodes.elevation, Need::may, {-1000.0, 9000.0});
    door.reference("tier", nodes.tier, "tiers", net.tiers.id, Need::may);
  });
  door.table("pipes", net.pipes.id, [&] {
    auto& pipes = net.pipes;
    door.reference("from", pipes.from, "nodes", net.nodes.id, Need::must);
    door.reference("to", pipes.to, "nodes", net.nodes.id, Need::must);
    door.quantity("length", pipes.length, Need::must, not_negative);
    door.quantity("bore", pipes.bore, Need::may, not_negative);
    door.quantity("roughness", pipes.roughness, Need::may, not_negative);
    door.word("material", pipes.material);
    door.text("grade", pipes.grade);
    door.text("size", pipes.nominal_size);
    door.number("ratio", pipes.ratio, Need::may, {1.0, 100.0});
    door.year("year", pipes.year);
    using network::Lining;
    door.ternary("inserted", pipes.lining, &Lining::inserted);
    door.ternary("cased", pipes.lining, &Lining::cased);
    door.ternary("layered", pipes.lining, &Lining::layered);
    door.ternary("lined", pipes.lining, &Lining::lined);
    door.text("street", pipes.street);
    door.text("surface", pipes.surface);
    door.quantity("depth", pipes.depth, Need::may, {-10.0, 100.0});
    door.lines("line_m", pipes.first, pipes.vx, pipes.vy, &pipes, &net.nodes);
  });
}

template <class Door, class Net>
void describe_equipment(Door& door, Net& net) {
  door.table("valves", net.valves.id, [&] {
    auto& valves = net.valves;
    door.reference("pipe", valves.pipe, "pipes", net.pipes.id, Need::must);
    door.quantity("station", valves.station, Need::must, not_negative);
    door.word("position", valves.position);
    door.word("normal", valves.normal);
    door.number("last_operated_year", valves.last_operated_year, Need::may, {1800.0, 2200.0});
    door.ternary("operable", valves.operable);
    door.ternary("reachable", valves.reachable);
  });
  door.table("regulators", net.regulators.id, [&] {
    auto& regulators = net.regulators;
    door.text("station_name", regulators.station_name);
    door.reference("inlet", regulators.inlet, "nodes", net.nodes.id, Need::must);
    door.reference("outlet", regulators.outlet, "nodes", net.nodes.id, Need::must);
    door.word("sensing", regulators.sensing);
    door.reference("tap_pipe", regulators.tap_pipe, "pipes", net.pipes.id, Need::may);
    door.quantity("tap_station", regulators.tap_station, Need::may, not_negative);
    door.quantity("set_point", regulators.set_point, Need::may, not_negative);
    door.quantity("capacity", regulators.capacity, Need::may, not_negative);
    door.quantity("least_inlet", regulators.least_inlet, Need::may, not_negative);
    door.number("lock_up", regulators.lock_up, Need::may, not_negative);
    door.quantity("relief", regulators.relief, Need::may, not_negative);
    door.ternary("blocks_reverse", regulators.blocks_reverse);
    door.ternary("needs_reset", regulators.needs_reset);
  });
  door.table("sources", net.sources.id, [&] {
    door.reference("node", net.sources.node, "nodes", net.nodes.id, Need::must);
    door.quantity("pressure", net.sources.pressure, Need::may, not_negative);
    door.quantity("capacity", net.sources.capacity, Need::may, not_negative);
  });
}

template <class Door, class Net>
void describe_use(Door& door, Net& net) {
  door.table("shapes", net.shapes.id, [&] {
    door.quantity("reference", net.shapes.reference, Need::must, not_negative);
    door.day("hour_factor", net.shapes.hour_factor);
    door.number("low", net.shapes.low, Need::must, not_negative);
    door.number("high", net.shapes.high, Need::must, not_negative);
  });
  door.table("customers", net.customers.id, [&] {
    auto& customers = net.customers;
    door.reference("pipe", customers.pipe, "pipes", net.pipes.id, Need::must);
    door.quantity("station", customers.station, Need::must, not_negative);
    door.reference("shape", customers.shape, "shapes", net.shapes.id, Need::may);
    door.quantity("base", customers.base, Need::may, not_negative);
    door.number("slope_std_m3_per_s_per_k", customers.per_k, Need::may, not_negative);
    door.quantity("least", customers.least, Need::may, not_negative);
    door.flag("must_not_lose", customers.must_not_lose);
    door.text("why_not", customers.why_not);
    door.text("street", customers.street);
    door.ternary("excess_flow_valve", customers.excess_flow_valve);
  });
  door.table("features", net.features.id, [&] {
    auto& features = net.features;
    door.word("kind", features.kind);
    door.reference("pipe", features.pipe, "pipes", net.pipes.id, Need::must);
    door.quantity("begin", features.begin, Need::must, not_negative);
    door.quantity("end", features.end, Need::must, not_negative);
    door.text("says", features.says);
  });
}

template <class Door, class Net>
void describe_paper(Door& door, Net& net) {
  door.table("fixed_points", net.fixed_points.id, [&] {
    door.number("x_m", net.fixed_points.x, Need::must, any);
    door.number("y_m", net.fixed_points.y, Need::must, any);
    door.text("says", net.fixed_points.says);
  });
  door.rows("backdrop", "kind", [&] {
    door.word("kind", net.backdrop.kind);
    door.text("says", net.backdrop.says);
    door.lines("line_m", net.backdrop.first, net.backdrop.vx, net.backdrop.vy);
  });
  door.rows("notes", "rule", [&] {
    door.text("rule", net.notes.rule);
    door.text("element", net.notes.element);
    door.text("says", net.notes.says);
    door.flag("assumed", net.notes.assumed);
  });
}

template <class Door, class Net>
void describe(Door& door, Net& net) {
  door.head("name", net.name);
  door.head("crs", net.crs);
  door.head("imported_from", net.imported_from);
  door.head("map_date", net.map_date);
  door.head("base", net.base_pressure, net.base_temperature);
  door.head("barometer", net.barometer);
  door.head("datum_altitude", net.datum_altitude);
  describe_grid(door, net);
  describe_equipment(door, net);
  describe_use(door, net);
  describe_paper(door, net);
}

}  // namespace bellhole::wire
