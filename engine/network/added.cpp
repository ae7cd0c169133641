#include "network/added.hpp"

#include <fmt/format.h>

#include <cmath>
#include <limits>
#include <numeric>
#include <utility>

#include "network/locate.hpp"
#include "network/points.hpp"

namespace bellhole::network {
namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

/// Moves what stands beyond the parting onto the new pipe.
struct Mover {
  Index from, to;
  double beyond;

  void operator()(Index& pipe, Length& station) const {
    if (pipe != from || station.si() <= beyond) return;
    pipe = to;
    station = Length::from_si(station.si() - beyond);
  }
  void operator()(std::vector<Index>& pipes, std::vector<Length>& stations) const {
    for (std::size_t i = 0; i < pipes.size(); ++i) (*this)(pipes[i], stations[i]);
  }
};

/// Puts another line in the place of a pipe's drawn one.
void redraw(Pipes& pipes, Index pipe, const std::vector<Point>& line) {
  const auto begin = pipes.first[at(pipe)], end = pipes.first[at(pipe) + 1];
  const auto put = [&](std::vector<double>& column, double Point::* part) {
    std::vector<double> values;
    for (const Point& point : line) values.push_back(point.*part);
    column.erase(column.begin() + begin, column.begin() + end);
    column.insert(column.begin() + begin, values.begin(), values.end());
  };
  put(pipes.vx, &Point::x);
  put(pipes.vy, &Point::y);
  const auto more = static_cast<Index>(line.size()) - (end - begin);
  for (auto next = at(pipe) + 1; next < pipes.first.size(); ++next) pipes.first[next] += more;
}

}  // namespace

WithAdded::WithAdded(Network network, Scenario shut)
    : network_(std::move(network)),
      shut_(std::move(shut)),
      map_pipe_(network_.pipes.size()),
      offset_(network_.pipes.size(), 0.0) {
  std::iota(map_pipe_.begin(), map_pipe_.end(), Index{0});
}

Result<Index> WithAdded::node_at(Index pipe, Length station, std::string_view where) {
  if (pipe < 0 || at_(pipe) >= network_.pipes.size() || map_pipe_[at_(pipe)] != pipe) {
    return trouble(Code::unknown_element, std::string(where), "", "name a main of the network");
  }
  const auto says = [&] {
    return fmt::format("{}@{:.2f}m", network_.pipes.id[at_(pipe)], station.si());
  };
  for (std::size_t p = 0; p < map_pipe_.size(); ++p) {
    if (map_pipe_[p] != pipe) continue;
    const double here = station.si() - offset_[p], length = network_.pipes.length[p].si();
    if (!(here >= -Points::same_place_m && here <= length + Points::same_place_m)) continue;
    for (const Closure& closure : shut_.closures) {
      if (at_(closure.pipe) != p || std::fabs(closure.station.si() - here) > Points::same_place_m)
        continue;
      return trouble(Code::contradiction, std::string(where), says(),
                     "the main is shut at this very place: name one on the side that is meant");
    }
    if (here <= Points::same_place_m) return network_.pipes.from[p];
    if (here >= length - Points::same_place_m) return network_.pipes.to[p];
    const Index node = new_node(static_cast<Index>(p), here);
    part(static_cast<Index>(p), here, node);
    return node;
  }
  return trouble(Code::out_of_range, std::string(where), says(),
                 "name a station between 0 and the main's length");
}

Index WithAdded::new_node(Index pipe, double station) {
  const Index from = network_.pipes.from[at_(pipe)], to = network_.pipes.to[at_(pipe)];
  const double share = station / network_.pipes.length[at_(pipe)].si();
  Nodes& nodes = network_.nodes;
  const auto between = [&](double a, double b) { return a + share * (b - a); };
  const Point point = point_on(network_, pipe, Length::from_si(station));
  nodes.id.push_back(fmt::format("{}@{:.2f}m", network_.pipes.id[at_(map_pipe_[at_(pipe)])],
                                 offset_[at_(pipe)] + station));
  nodes.x.push_back(point.x);
  nodes.y.push_back(point.y);
  nodes.lon.push_back(between(nodes.lon[at_(from)], nodes.lon[at_(to)]));
  nodes.lat.push_back(between(nodes.lat[at_(from)], nodes.lat[at_(to)]));
  nodes.elevation.push_back(
      Length::from_si(between(nodes.elevation[at_(from)].si(), nodes.elevation[at_(to)].si())));
  nodes.tier.push_back(tier_of_pipe(network_, pipe));
  return static_cast<Index>(nodes.size()) - 1;
}

/// Appends a pipe of the same make without a line.
Index WithAdded::copy_pipe(Index pipe) {
  Pipes& p = network_.pipes;
  const auto again = [&](auto& column) {
    auto value = column[at_(pipe)];
    column.push_back(std::move(value));
  };
  again(p.from), again(p.to), again(p.length), again(p.bore), again(p.roughness);
  again(p.material), again(p.grade), again(p.nominal_size), again(p.ratio), again(p.year);
  again(p.lining), again(p.street), again(p.surface), again(p.depth), again(p.id);
  p.first.push_back(p.first.back());
  return static_cast<Index>(p.size()) - 1;
}

void WithAdded::part(Index pipe, double station, Index node) {
  Pipes& pipes = network_.pipes;
  const Length whole = pipes.length[at_(pipe)], here = Length::from_si(station);
  const auto before = line_between(network_, pipe, Length(), here);
  const auto behind = line_between(network_, pipe, here, whole);
  const Index next = copy_pipe(pipe);
  pipes.id[at_(next)] = fmt::format("{} from {:.2f}m", pipes.id[at_(map_pipe_[at_(pipe)])],
                                    offset_[at_(pipe)] + station);
  pipes.to[at_(pipe)] = node;
  pipes.from[at_(next)] = node;
  pipes.length[at_(pipe)] = here;
  pipes.length[at_(next)] = Length::from_si(whole.si() - station);
  redraw(pipes, pipe, before);
  redraw(pipes, next, behind);
  map_pipe_.push_back(map_pipe_[at_(pipe)]);
  offset_.push_back(offset_[at_(pipe)] + station);

  const Mover move{pipe, next, station};
  move(network_.valves.pipe, network_.valves.station);
  move(network_.customers.pipe, network_.customers.station);
  move(network_.regulators.tap_pipe, network_.regulators.tap_station);
  for (Closure& closure : shut_.closures) move(closure.pipe, closure.station);
  Features& features = network_.features;
  for (std::size_t i = 0; i < features.size(); ++i) {
    if (features.pipe[i] != pipe) continue;
    // One that spans the place stays where it begins, up to the place.
    if (features.begin[i].si() <= station) {
      if (features.end[i].si() > station) features.end[i] = here;
      continue;
    }
    features.pipe[i] = next;
    features.begin[i] = Length::from_si(features.begin[i].si() - station);
    features.end[i] = Length::from_si(features.end[i].si() - station);
  }
}

Index WithAdded::lay(std::string id, Index from, Index to, Length length, Length bore,
                     Length roughness) {
  Pipes& p = network_.pipes;
  p.id.push_back(std::move(id));
  p.from.push_back(from);
  p.to.push_back(to);
  p.length.push_back(length);
  p.bore.push_back(bore);
  p.roughness.push_back(roughness);
  p.material.push_back(Material::other);
  p.grade.emplace_back();
  p.nominal_size.emplace_back();
  p.ratio.push_back(unknown);
  p.year.push_back(0);
  p.lining.emplace_back();
  p.street.emplace_back();
  p.surface.emplace_back();
  p.depth.push_back(Length::from_si(unknown));
  for (const Index end : {from, to}) {
    p.vx.push_back(network_.nodes.x[at_(end)]);
    p.vy.push_back(network_.nodes.y[at_(end)]);
  }
  p.first.push_back(static_cast<Index>(p.vx.size()));
  map_pipe_.push_back(none);
  offset_.push_back(0.0);
  return static_cast<Index>(p.size()) - 1;
}

Index WithAdded::supply(std::string id, Index node, GaugePressure pressure, StdFlow capacity) {
  Sources& s = network_.sources;
  s.id.push_back(std::move(id));
  s.node.push_back(node);
  s.pressure.push_back(pressure);
  s.capacity.push_back(capacity);
  return static_cast<Index>(s.size()) - 1;
}

}  // namespace bellhole::network
