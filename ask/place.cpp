#include "ask/place.hpp"

#include <fmt/format.h>

#include <cmath>

#include "units/parse.hpp"

namespace bellhole::ask {
namespace {

using network::Index;
using network::Network;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

/// How far from a main a pointed place may be before it is refused rather than moved, unless the
/// request says.
constexpr Length reach_otherwise = Length::from_si(30.0);

Result<network::Degrees> degrees_of(std::string_view text, std::string_view where) {
  const auto comma = text.find(',');
  if (comma == std::string_view::npos) {
    return trouble(Code::unreadable_value, std::string(where), std::string(text),
                   "write longitude,latitude in degrees: -20.0113,36.0042");
  }
  BELLHOLE_TRY(lon, units::parse_number(text.substr(0, comma), where));
  BELLHOLE_TRY(lat, units::parse_number(text.substr(comma + 1), where));
  if (std::abs(lon) > 180.0 || std::abs(lat) > 90.0) {
    return trouble(Code::out_of_range, std::string(where), std::string(text),
                   "longitude lies in -180 to 180, latitude in -90 to 90; longitude comes first");
  }
  return network::Degrees{lon, lat};
}

/// A station with its unit; a bare number is metres, and that is said.
Result<Length> station_of(std::string_view text, std::vector<std::string>& assumed) {
  if (const auto bare = units::parse_number(text, "pipe")) {
    assumed.push_back(fmt::format("station {} read as metres from the main's beginning", text));
    return Length::from_si(*bare);
  }
  BELLHOLE_TRY(read, units::parse<kinds::Length>(text, "pipe"));
  return read.value;
}

/// "lon,lat lon,lat lon,lat".
Result<plan::Work> work_in(const Network& network, std::string_view text) {
  std::vector<network::Degrees> corners;
  while (!text.empty()) {
    const auto blank = text.find(' ');
    const std::string_view part = text.substr(0, blank);
    text = blank == std::string_view::npos ? std::string_view() : text.substr(blank + 1);
    if (part.empty()) continue;
    BELLHOLE_TRY(corner, degrees_of(part, "polygon"));
    corners.push_back(corner);
  }
  return plan::work_inside(network, corners);
}

}  // namespace

Result<plan::Work> place_on_pipe(const Network& network, const std::string& text,
                                 std::vector<std::string>& assumed) {
  const auto sign = text.rfind('@');
  if (sign == std::string::npos) {
    return trouble(Code::unreadable_value, "pipe", text,
                   "write the main's id and the station: M-12@41m, or M-12@41m:55m for a stretch");
  }
  const std::string_view id = std::string_view(text).substr(0, sign),
                         stations = std::string_view(text).substr(sign + 1);
  const auto colon = stations.find(':');
  BELLHOLE_TRY(begin, station_of(stations.substr(0, colon), assumed));
  Length end = begin;
  if (colon != std::string_view::npos) {
    BELLHOLE_TRY(read, station_of(stations.substr(colon + 1), assumed));
    end = read;
  }
  return plan::work_on_pipe(network, id, begin, end);
}

Result<plan::Work> work_of(const Question& question, const Network& network) {
  BELLHOLE_TRY(point, question.request.text("at"));
  BELLHOLE_TRY(pipe, question.request.text("pipe"));
  BELLHOLE_TRY(node, question.request.text("node"));
  BELLHOLE_TRY(polygon, question.request.text("polygon"));
  const int given = int{point.has_value()} + int{pipe.has_value()} + int{node.has_value()} +
                    int{polygon.has_value()};
  if (given != 1) {
    return trouble(given == 0 ? Code::missing_value : Code::contradiction,
                   "at, pipe, node, polygon", fmt::format("{} given", given),
                   "say where the work is in one way: --at LON,LAT, --pipe ID@STATION, --node ID "
                   "or --polygon \"LON,LAT LON,LAT …\"");
  }
  BELLHOLE_TRY(reach, question.request.quantity<kinds::Length>("reach"));
  if (point) {
    BELLHOLE_TRY(degrees, degrees_of(*point, "at"));
    BELLHOLE_TRY(work, plan::work_at(network, degrees, reach.value_or(reach_otherwise)));
    question.assumed.push_back(fmt::format("the place pointed at was moved {} onto main {}",
                                           units::print_in(work.away, "m", 1),
                                           network.pipes.id[at(work.pieces.front().pipe)]));
    return work;
  }
  if (pipe) return place_on_pipe(network, *pipe, question.assumed);
  if (node) return plan::work_at_node(network, *node);
  return work_in(network, *polygon);
}

Result<units::System> units_of(const Question& question) {
  BELLHOLE_TRY(word, question.request.text("units"));
  BELLHOLE_TRY(which, wire::one_of(word.value_or("us"), {"us", "metric"}, "units"));
  return which == 0 ? units::System::us : units::System::metric;
}

}  // namespace bellhole::ask
