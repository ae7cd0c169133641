#include "network/locate.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>

namespace bellhole::network {
namespace {

double drawn_length(const Pipes& pipes, std::size_t pipe) {
  double sum = 0.0;
  for (std::int32_t v = pipes.first[pipe]; v + 1 < pipes.first[pipe + 1]; ++v) {
    const auto i = static_cast<std::size_t>(v);
    sum += std::hypot(pipes.vx[i + 1] - pipes.vx[i], pipes.vy[i + 1] - pipes.vy[i]);
  }
  return sum;
}

struct Foot {
  double along = 0.0;  ///< drawn metres from the line's beginning
  double away = std::numeric_limits<double>::infinity();
};

/// The foot of the perpendicular from a point onto a drawn line.
Foot foot_on(const Pipes& pipes, std::size_t pipe, Point point) {
  Foot best;
  double before = 0.0;
  for (std::int32_t v = pipes.first[pipe]; v + 1 < pipes.first[pipe + 1]; ++v) {
    const auto i = static_cast<std::size_t>(v);
    const double dx = pipes.vx[i + 1] - pipes.vx[i], dy = pipes.vy[i + 1] - pipes.vy[i];
    const double length = std::hypot(dx, dy);
    const double t =
        length > 0.0 ? std::clamp(((point.x - pipes.vx[i]) * dx + (point.y - pipes.vy[i]) * dy) /
                                      (length * length),
                                  0.0, 1.0)
                     : 0.0;
    const double away = std::hypot(point.x - pipes.vx[i] - t * dx, point.y - pipes.vy[i] - t * dy);
    if (away < best.away) best = {before + t * length, away};
    before += length;
  }
  return best;
}

OnPipe on_pipe(const Network& network, std::size_t pipe, Foot foot) {
  const double drawn = drawn_length(network.pipes, pipe);
  const double share = drawn > 0.0 ? foot.along / drawn : 0.0;
  return {static_cast<Index>(pipe), network.pipes.length[pipe] * share, Length::from_si(foot.away)};
}

/// Least-squares affine map out = a + b u + c v through weighted samples, about their mean.
struct Affine {
  std::array<double, 2> origin_in{}, origin_out{};
  std::array<std::array<double, 2>, 2> slope{};
};

struct Sample {
  std::array<double, 2> in, out;
};

std::optional<Affine> fit(const std::vector<Sample>& samples) {
  Affine map;
  const auto n = static_cast<double>(samples.size());
  if (samples.size() < 3) return std::nullopt;
  for (const Sample& s : samples) {
    for (std::size_t k = 0; k < 2; ++k) {
      map.origin_in[k] += s.in[k] / n;
      map.origin_out[k] += s.out[k] / n;
    }
  }
  double uu = 0, uv = 0, vv = 0;
  std::array<double, 2> ux{}, vx{};
  for (const Sample& s : samples) {
    const double u = s.in[0] - map.origin_in[0], v = s.in[1] - map.origin_in[1];
    uu += u * u, uv += u * v, vv += v * v;
    for (std::size_t k = 0; k < 2; ++k) {
      const double x = s.out[k] - map.origin_out[k];
      ux[k] += u * x, vx[k] += v * x;
    }
  }
  const double det = uu * vv - uv * uv;
  if (!(det > 1e-9 * uu * vv) || !(uu > 0.0) || !(vv > 0.0))
    return std::nullopt;  // all on one line
  for (std::size_t k = 0; k < 2; ++k) {
    map.slope[k] = {(ux[k] * vv - vx[k] * uv) / det, (vx[k] * uu - ux[k] * uv) / det};
  }
  return map;
}

std::array<double, 2> apply(const Affine& map, std::array<double, 2> in) {
  const double u = in[0] - map.origin_in[0], v = in[1] - map.origin_in[1];
  return {map.origin_out[0] + map.slope[0][0] * u + map.slope[0][1] * v,
          map.origin_out[1] + map.slope[1][0] * u + map.slope[1][1] * v};
}

/// Fits near a place first and over ever more nodes while the near ones lie on one line.
Result<std::array<double, 2>> carry(const Network& network, std::array<double, 2> place,
                                    bool from_degrees) {
  const Nodes& nodes = network.nodes;
  std::vector<Sample> samples;
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    const std::array<double, 2> degrees{nodes.lon[i], nodes.lat[i]}, metres{nodes.x[i], nodes.y[i]};
    if (!std::isfinite(degrees[0] + degrees[1] + metres[0] + metres[1])) continue;
    samples.push_back(from_degrees ? Sample{degrees, metres} : Sample{metres, degrees});
  }
  const double squeeze = from_degrees ? std::cos(place[1] * 3.14159265358979323846 / 180.0) : 1.0;
  const auto distance = [&](const Sample& s) {
    return std::hypot((s.in[0] - place[0]) * squeeze, s.in[1] - place[1]);
  };
  for (std::size_t wanted = 24; !samples.empty(); wanted *= 8) {
    const std::size_t count = std::min(wanted, samples.size());
    std::ranges::partial_sort(samples, samples.begin() + static_cast<std::ptrdiff_t>(count), {},
                              distance);
    if (const auto map =
            fit({samples.begin(), samples.begin() + static_cast<std::ptrdiff_t>(count)})) {
      return apply(*map, place);
    }
    if (count == samples.size()) break;
  }
  return trouble(
      Code::bad_network, "nodes", fmt::format("{} with degrees", samples.size()),
      "name the place by --pipe or --node: degrees need three nodes that are not on one line");
}

std::size_t letters_apart(std::string_view a, std::string_view b) {
  std::vector<std::size_t> row(b.size() + 1);
  std::iota(row.begin(), row.end(), std::size_t{0});
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::size_t diagonal = row[0];
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t change = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
      diagonal = row[j];
      row[j] = std::min({change, row[j] + 1, row[j - 1] + 1});
    }
  }
  return row.back();
}

Result<Index> find(const std::vector<std::string>& ids, std::string_view id, std::string_view kind,
                   std::string_view where) {
  const auto found = std::ranges::find(ids, id);
  if (found != ids.end()) return static_cast<Index>(found - ids.begin());
  std::vector<std::pair<std::size_t, std::string_view>> near;
  for (const auto& other : ids)
    near.emplace_back(letters_apart(id.substr(0, 64), std::string_view(other).substr(0, 64)),
                      other);
  const std::size_t shown = std::min<std::size_t>(3, near.size());
  std::ranges::partial_sort(near, near.begin() + static_cast<std::ptrdiff_t>(shown));
  std::string list;
  for (std::size_t i = 0; i < shown; ++i)
    list += (i == 0 ? "" : ", ") + std::string(near[i].second);
  return trouble(Code::unknown_element, std::string(where), std::string(id),
                 ids.empty() ? fmt::format("this network has no {}", kind)
                             : fmt::format("no {} has this id; the nearest are {}", kind, list));
}

}  // namespace

std::optional<OnPipe> nearest(const Network& network, Point point) {
  std::optional<OnPipe> best;
  for (std::size_t pipe = 0; pipe < network.pipes.size(); ++pipe) {
    const Foot foot = foot_on(network.pipes, pipe, point);
    if (!best || foot.away < best->away.si()) best = on_pipe(network, pipe, foot);
  }
  return best;
}

std::vector<OnPipe> within(const Network& network, Point point, Length reach) {
  std::vector<OnPipe> found;
  for (std::size_t pipe = 0; pipe < network.pipes.size(); ++pipe) {
    const Foot foot = foot_on(network.pipes, pipe, point);
    if (foot.away <= reach.si()) found.push_back(on_pipe(network, pipe, foot));
  }
  std::ranges::stable_sort(found, {}, &OnPipe::away);
  return found;
}

Point point_on(const Network& network, Index pipe, Length station) {
  const auto p = static_cast<std::size_t>(pipe);
  const Pipes& pipes = network.pipes;
  const double share =
      pipes.length[p].si() > 0.0 ? std::clamp(station / pipes.length[p], 0.0, 1.0) : 0.0;
  double left = share * drawn_length(pipes, p);
  auto v = static_cast<std::size_t>(pipes.first[p]);
  const auto last = static_cast<std::size_t>(pipes.first[p + 1]) - 1;
  for (; v < last; ++v) {
    const double length = std::hypot(pipes.vx[v + 1] - pipes.vx[v], pipes.vy[v + 1] - pipes.vy[v]);
    if (left <= length && length > 0.0) {
      const double t = left / length;
      return {pipes.vx[v] + t * (pipes.vx[v + 1] - pipes.vx[v]),
              pipes.vy[v] + t * (pipes.vy[v + 1] - pipes.vy[v])};
    }
    left -= length;
  }
  return {pipes.vx[last], pipes.vy[last]};
}

std::vector<Point> line_between(const Network& network, Index pipe, Length begin, Length end) {
  const auto p = static_cast<std::size_t>(pipe);
  const Pipes& pipes = network.pipes;
  const double drawn = drawn_length(pipes, p);
  const double scale = pipes.length[p].si() > 0.0 ? drawn / pipes.length[p].si() : 0.0;
  std::vector<Point> points{point_on(network, pipe, begin)};
  double before = 0.0;
  for (std::int32_t v = pipes.first[p] + 1; v < pipes.first[p + 1]; ++v) {
    const auto i = static_cast<std::size_t>(v);
    before += std::hypot(pipes.vx[i] - pipes.vx[i - 1], pipes.vy[i] - pipes.vy[i - 1]);
    if (before > begin.si() * scale && before < end.si() * scale)
      points.push_back({pipes.vx[i], pipes.vy[i]});
  }
  points.push_back(point_on(network, pipe, end));
  return points;
}

Result<Point> project(const Network& network, Degrees place) {
  BELLHOLE_TRY(point, carry(network, {place.lon, place.lat}, true));
  return Point{point[0], point[1]};
}

Result<Degrees> unproject(const Network& network, Point point) {
  BELLHOLE_TRY(degrees, carry(network, {point.x, point.y}, false));
  return Degrees{degrees[0], degrees[1]};
}

Result<Index> find_pipe(const Network& network, std::string_view id, std::string_view where) {
  return find(network.pipes.id, id, "main", where);
}
Result<Index> find_node(const Network& network, std::string_view id, std::string_view where) {
  return find(network.nodes.id, id, "node", where);
}
Result<Index> find_valve(const Network& network, std::string_view id, std::string_view where) {
  return find(network.valves.id, id, "valve", where);
}

}  // namespace bellhole::network
