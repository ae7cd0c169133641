#include "plan/work.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace bellhole::plan {
namespace {

using network::Index;
using network::Network;
using network::Point;

std::size_t at(Index index) { return static_cast<std::size_t>(index); }

/// Equipment that stands at a node, or whose id was given for a main.
Result<bool> refuse_equipment_id(const Network& network, std::string_view id) {
  const auto is = [&](const std::vector<std::string>& ids) {
    return std::ranges::find(ids, id) != ids.end();
  };
  const std::string_view kind = is(network.regulators.id) ? "a regulator"
                                : is(network.sources.id)  ? "a source"
                                : is(network.valves.id)   ? "a valve"
                                                          : "";
  if (kind.empty()) return true;
  return trouble(Code::work_on_equipment, "pipe", std::string(id),
                 fmt::format("this is {}, not a main: name the main or the node beside it", kind));
}

Result<bool> refuse_equipment_at(const Network& network, Index node, std::string_view id) {
  for (std::size_t r = 0; r < network.regulators.size(); ++r) {
    if (network.regulators.inlet[r] != node && network.regulators.outlet[r] != node) continue;
    return trouble(
        Code::work_on_equipment, "node", std::string(id),
        fmt::format("regulator {} stands here: work on a station is planned with the station's own "
                    "procedure; name the main beside it",
                    network.regulators.id[r]));
  }
  for (std::size_t s = 0; s < network.sources.size(); ++s) {
    if (network.sources.node[s] != node) continue;
    return trouble(
        Code::work_on_equipment, "node", std::string(id),
        fmt::format("source {} stands here: name the main beside it", network.sources.id[s]));
  }
  return true;
}

Work on_pipe(const Network& network, Index pipe, Length begin, Length end, Length away) {
  return {{{pipe, begin, end}}, {}, network::point_on(network, pipe, (begin + end) * 0.5), away};
}

bool inside(const std::vector<Point>& corners, Point p) {
  bool in = false;
  for (std::size_t i = 0, j = corners.size() - 1; i < corners.size(); j = i++) {
    const Point& a = corners[i];
    const Point& b = corners[j];
    if ((a.y > p.y) != (b.y > p.y) && p.x < (b.x - a.x) * (p.y - a.y) / (b.y - a.y) + a.x) in = !in;
  }
  return in;
}

/// Shares along the segment a-b (0 … 1) where it crosses the polygon's sides, ascending.
std::vector<double> crossings(const std::vector<Point>& corners, Point a, Point b) {
  std::vector<double> shares;
  for (std::size_t i = 0, j = corners.size() - 1; i < corners.size(); j = i++) {
    const Point c = corners[j], d = corners[i];
    const double det = (b.x - a.x) * (d.y - c.y) - (b.y - a.y) * (d.x - c.x);
    if (det == 0.0) continue;
    const double t = ((c.x - a.x) * (d.y - c.y) - (c.y - a.y) * (d.x - c.x)) / det;
    const double u = ((c.x - a.x) * (b.y - a.y) - (c.y - a.y) * (b.x - a.x)) / det;
    if (t > 0.0 && t < 1.0 && u >= 0.0 && u <= 1.0) shares.push_back(t);
  }
  std::ranges::sort(shares);
  return shares;
}

/// The parts of one main that lie inside, in drawn metres from its beginning.
void add_inside(const Network& network, Index pipe, const std::vector<Point>& corners,
                std::vector<Piece>& pieces) {
  const auto& pipes = network.pipes;
  std::vector<std::pair<double, double>> parts;
  double before = 0.0;
  for (std::int32_t v = pipes.first[at(pipe)]; v + 1 < pipes.first[at(pipe) + 1]; ++v) {
    const Point a{pipes.vx[at(v)], pipes.vy[at(v)]}, b{pipes.vx[at(v) + 1], pipes.vy[at(v) + 1]};
    const double length = std::hypot(b.x - a.x, b.y - a.y);
    std::vector<double> shares = crossings(corners, a, b);
    shares.insert(shares.begin(), 0.0);
    shares.push_back(1.0);
    for (std::size_t i = 0; i + 1 < shares.size(); ++i) {
      const double middle = 0.5 * (shares[i] + shares[i + 1]);
      if (!inside(corners, {a.x + middle * (b.x - a.x), a.y + middle * (b.y - a.y)})) continue;
      const double begin = before + shares[i] * length, end = before + shares[i + 1] * length;
      if (!parts.empty() && parts.back().second >= begin)
        parts.back().second = end;
      else
        parts.emplace_back(begin, end);
    }
    before += length;
  }
  const double scale = before > 0.0 ? pipes.length[at(pipe)].si() / before : 0.0;
  for (const auto& [begin, end] : parts) {
    pieces.push_back({pipe, Length::from_si(begin * scale),
                      Length::from_si(std::min(end * scale, pipes.length[at(pipe)].si()))});
  }
}

}  // namespace

Result<Work> work_at(const Network& network, network::Degrees place, Length reach) {
  BELLHOLE_TRY(point, network::project(network, place));
  const auto found = network::nearest(network, point);
  if (!found || found->away > reach) {
    return trouble(
        Code::work_not_found, "at", fmt::format("{:.6f},{:.6f}", place.lon, place.lat),
        found ? fmt::format(
                    "the nearest main, {}, is {} away; a place is looked for within {}: check "
                    "longitude before latitude, or name the main with --pipe",
                    network.pipes.id[at(found->pipe)],
                    units::print(found->away, units::System::metric),
                    units::print(reach, units::System::metric))
              : "this network has no mains");
  }
  return on_pipe(network, found->pipe, found->station, found->station, found->away);
}

Result<Work> work_on_pipe(const Network& network, std::string_view id, Length begin, Length end) {
  BELLHOLE_TRY(equipment, refuse_equipment_id(network, id));
  static_cast<void>(equipment);
  BELLHOLE_TRY(pipe, network::find_pipe(network, id, "pipe"));
  const Length length = network.pipes.length[at(pipe)];
  if (begin.si() < 0.0 || end > length || begin > end) {
    return trouble(
        Code::out_of_range, "pipe", fmt::format("{}@{:.2f}:{:.2f} m", id, begin.si(), end.si()),
        fmt::format("main {} is {:.2f} m long: give stations from 0 to that, the smaller first", id,
                    length.si()));
  }
  return on_pipe(network, pipe, begin, end, Length());
}

Result<Work> work_at_node(const Network& network, std::string_view id) {
  BELLHOLE_TRY(node, network::find_node(network, id, "node"));
  BELLHOLE_TRY(equipment, refuse_equipment_at(network, node, id));
  static_cast<void>(equipment);
  Work work;
  work.nodes.push_back(node);
  work.centre = {network.nodes.x[at(node)], network.nodes.y[at(node)]};
  for (std::size_t pipe = 0; pipe < network.pipes.size(); ++pipe) {
    const auto p = static_cast<Index>(pipe);
    if (network.pipes.from[pipe] == node)
      work.pieces.push_back({p, Length(), Length()});
    else if (network.pipes.to[pipe] == node)
      work.pieces.push_back({p, network.pipes.length[pipe], network.pipes.length[pipe]});
  }
  if (work.pieces.empty()) {
    return trouble(Code::work_not_found, "node", std::string(id),
                   "no main ends at this node: name another");
  }
  return work;
}

Result<Work> work_inside(const Network& network, const std::vector<network::Degrees>& degrees) {
  if (degrees.size() < 3) {
    return trouble(Code::out_of_range, "polygon", fmt::format("{} corners", degrees.size()),
                   "give at least three corners");
  }
  std::vector<Point> corners;
  for (const auto& corner : degrees) {
    BELLHOLE_TRY(point, network::project(network, corner));
    corners.push_back(point);
  }
  Work work;
  for (std::size_t pipe = 0; pipe < network.pipes.size(); ++pipe) {
    add_inside(network, static_cast<Index>(pipe), corners, work.pieces);
  }
  if (work.pieces.empty()) {
    return trouble(Code::work_not_found, "polygon", fmt::format("{} corners", degrees.size()),
                   "no main lies inside: check longitude before latitude");
  }
  for (std::size_t node = 0; node < network.nodes.size(); ++node) {
    if (!inside(corners, {network.nodes.x[node], network.nodes.y[node]})) continue;
    BELLHOLE_TRY(equipment,
                 refuse_equipment_at(network, static_cast<Index>(node), network.nodes.id[node]));
    static_cast<void>(equipment);
    work.nodes.push_back(static_cast<Index>(node));
  }
  const Piece& first = work.pieces.front();
  work.centre = network::point_on(network, first.pipe, (first.begin + first.end) * 0.5);
  return work;
}

std::string describe(const Network& network, const Work& work, units::System system) {
  const auto shown = [&](Length length) {
    return units::print_in(length, system == units::System::metric ? "m" : "ft", 1);
  };
  const Piece& first = work.pieces.front();
  const std::string& street = network.pipes.street[at(first.pipe)];
  const std::string where = street.empty() ? "" : ", " + street;
  if (work.nodes.size() == 1 && first.begin == first.end) {
    return fmt::format("node {} where {} mains meet{}", network.nodes.id[at(work.nodes.front())],
                       work.pieces.size(), where);
  }
  if (work.pieces.size() > 1) {
    Length sum;
    for (const Piece& piece : work.pieces) sum = sum + (piece.end - piece.begin);
    return fmt::format("{} of main in {} pieces, {} among them{}", shown(sum), work.pieces.size(),
                       network.pipes.id[at(first.pipe)], where);
  }
  if (first.begin == first.end)
    return fmt::format("main {} at {}{}", network.pipes.id[at(first.pipe)], shown(first.begin),
                       where);
  return fmt::format("main {} from {} to {}{}", network.pipes.id[at(first.pipe)],
                     shown(first.begin), shown(first.end), where);
}

}  // namespace bellhole::plan
