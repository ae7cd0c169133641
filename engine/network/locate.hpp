// From a place that a person names to a place on the network.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "findings/trouble.hpp"
#include "network/columns.hpp"

namespace bellhole::network {

/// A point in the projected system of a network, in metres.
struct Point {
  double x = 0.0, y = 0.0;
};

/// A point in degrees.
struct Degrees {
  double lon = 0.0, lat = 0.0;
};

/// A place on a main.
struct OnPipe {
  Index pipe = none;
  Length station;  ///< 0 … length of the pipe
  Length away;     ///< distance from the point asked for to the main
};

/// The nearest place on any main. `nullopt` only for a network without mains. Ties go to the lower
/// index.
std::optional<OnPipe> nearest(const Network& network, Point point);

/// All mains with any part within `reach` of the point, nearest first.
std::vector<OnPipe> within(const Network& network, Point point, Length reach);

/// Where a station of a pipe lies. Stations are scaled onto the drawn line when the recorded length
/// and the drawn length differ; a station outside 0 … length is held to the nearer end.
Point point_on(const Network& network, Index pipe, Length station);

/// Degrees to projected metres and back, by an affine map fitted (least squares) to the nodes
/// nearest to the place. Within a town this errs by centimetres; it is for finding and showing
/// places, never for lengths. Errors: bad_network when the network has fewer than three nodes with
/// degrees that are not on one line.
Result<Point> project(const Network& network, Degrees place);
Result<Degrees> unproject(const Network& network, Point point);

/// The straight part of the drawn line between two stations, for drawing: points in order, ends
/// included.
std::vector<Point> line_between(const Network& network, Index pipe, Length begin, Length end);

// Elements by id. Errors: unknown_element with the nearest ids as the fix; work_on_equipment is the
// caller's to raise. `where` names the field.
Result<Index> find_pipe(const Network& network, std::string_view id, std::string_view where);
Result<Index> find_node(const Network& network, std::string_view id, std::string_view where);
Result<Index> find_valve(const Network& network, std::string_view id, std::string_view where);

}  // namespace bellhole::network
