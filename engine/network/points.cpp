#include "network/points.hpp"

#include <algorithm>
#include <cmath>

namespace bellhole::network {
namespace {

/// A place along a main that someone asks for.
struct Wish {
  Index pipe;
  double station;
  Index* point;
};

/// Heights of the nodes; one that is not recorded is taken level with the nearest recorded one
/// along the mains, and everything level with the datum where none is.
std::vector<double> heights(const Network& network) {
  const auto& nodes = network.nodes;
  std::vector<double> height(nodes.size(), std::nan(""));
  std::vector<std::vector<Index>> neighbours(nodes.size());
  for (std::size_t p = 0; p < network.pipes.size(); ++p) {
    neighbours[at(network.pipes.from[p])].push_back(network.pipes.to[p]);
    neighbours[at(network.pipes.to[p])].push_back(network.pipes.from[p]);
  }
  std::vector<Index> queue;
  for (std::size_t i = 0; i < nodes.size(); ++i) {
    height[i] = nodes.elevation[i].si();
    if (!std::isnan(height[i])) queue.push_back(static_cast<Index>(i));
  }
  for (std::size_t next = 0; next < queue.size(); ++next) {
    for (Index other : neighbours[at(queue[next])]) {
      if (!std::isnan(height[at(other)])) continue;
      height[at(other)] = height[at(queue[next])];
      queue.push_back(other);
    }
  }
  for (double& h : height) {
    if (std::isnan(h)) h = 0.0;
  }
  return height;
}

class Maker {
 public:
  explicit Maker(const Network& network) : network_(network) { points_.height = heights(network); }

  Points make() {
    collect_wishes();
    auto wish = wishes_.begin();
    for (std::size_t p = 0; p < network_.pipes.size(); ++p) {
      const auto pipe = static_cast<Index>(p);
      const auto begin = wish;
      while (wish != wishes_.end() && wish->pipe == pipe) ++wish;
      add_pipe(pipe, begin, wish);
    }
    points_.first.push_back(static_cast<Index>(points_.point.size()));
    return std::move(points_);
  }

 private:
  using Iterator = std::vector<Wish>::const_iterator;

  void collect_wishes() {
    const auto& customers = network_.customers;
    const auto& regulators = network_.regulators;
    points_.of_customer.resize(customers.size());
    for (std::size_t c = 0; c < customers.size(); ++c) {
      wishes_.push_back({customers.pipe[c], customers.station[c].si(), &points_.of_customer[c]});
    }
    points_.of_tap = regulators.outlet;
    for (std::size_t r = 0; r < regulators.size(); ++r) {
      if (regulators.sensing[r] != Sensing::remote || regulators.tap_pipe[r] == none) continue;
      wishes_.push_back(
          {regulators.tap_pipe[r], regulators.tap_station[r].si(), &points_.of_tap[r]});
    }
    std::ranges::stable_sort(wishes_, [](const Wish& x, const Wish& y) {
      return x.pipe != y.pipe ? x.pipe < y.pipe : x.station < y.station;
    });
  }

  void add_pipe(Index pipe, Iterator begin, Iterator end) {
    const double length = network_.pipes.length[at(pipe)].si();
    const Index from = network_.pipes.from[at(pipe)], to = network_.pipes.to[at(pipe)];
    points_.first.push_back(static_cast<Index>(points_.point.size()));
    add_point(from, 0.0);
    for (auto wish = begin; wish != end; ++wish) {
      if (wish->station > length - Points::same_place_m) {
        *wish->point = to;
        continue;
      }
      if (wish->station > points_.station.back() + Points::same_place_m) {
        const double share = wish->station / length;
        const double low = points_.height[at(from)], high = points_.height[at(to)];
        points_.height.push_back(low + share * (high - low));
        add_segment(pipe, static_cast<Index>(points_.height.size()) - 1, wish->station);
      }
      *wish->point = points_.point.back();
    }
    add_segment(pipe, to, length);
  }

  void add_point(Index point, double station) {
    points_.point.push_back(point);
    points_.station.push_back(station);
  }

  void add_segment(Index pipe, Index point, double station) {
    points_.a.push_back(points_.point.back());
    points_.b.push_back(point);
    points_.pipe.push_back(pipe);
    points_.length.push_back(station - points_.station.back());
    add_point(point, station);
  }

  const Network& network_;
  Points points_;
  std::vector<Wish> wishes_;
};

}  // namespace

Index Points::segment_at(Index p, double station_m) const {
  const auto begin = station.begin() + first[at(p)], end = station.begin() + first[at(p) + 1];
  const auto behind = static_cast<Index>(std::upper_bound(begin, end, station_m) - begin) - 1;
  return first_segment(p) + std::clamp(behind, 0, segment_count(p) - 1);
}

Points make_points(const Network& network) { return Maker(network).make(); }

}  // namespace bellhole::network
