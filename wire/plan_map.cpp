#include "wire/plan_map.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <set>

#include "network/locate.hpp"
#include "network/words.hpp"
#include "plan/main_facts.hpp"

namespace bellhole::wire {
namespace {

using network::Index;
using network::Network;
using network::Point;

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

struct Box {
  double west = std::numeric_limits<double>::infinity(), south = west;
  double east = -west, north = -west;

  void take(Point p) {
    west = std::min(west, p.x), east = std::max(east, p.x);
    south = std::min(south, p.y), north = std::max(north, p.y);
  }
  void widen() {
    // A fifth on every side and never less than a street's block, so that the reader knows where he
    // is.
    const double margin = std::max(80.0, 0.2 * std::max(east - west, north - south));
    west -= margin, south -= margin, east += margin, north += margin;
  }
  [[nodiscard]] bool has(Point p) const {
    return p.x >= west && p.x <= east && p.y >= south && p.y <= north;
  }
};

Box around(const Network& network, const plan::Work& work, const plan::Answer& answer) {
  Box box;
  const auto take = [&](const plan::Piece& piece) {
    for (const Point& p : network::line_between(network, piece.pipe, piece.begin, piece.end))
      box.take(p);
  };
  box.take(work.centre);
  for (const plan::Piece& piece : work.pieces) take(piece);
  for (const plan::ShutoffPlan& plan : answer.plans) {
    for (const plan::Shutoff& shutoff : plan.shutoffs) box.take(shutoff.point);
    for (const plan::Piece& piece : plan.isolated.pieces) take(piece);
  }
  box.widen();
  return box;
}

/// Coordinates to the centimetre: this is for drawing.
double drawn(double metres) { return std::round(metres * 100.0) / 100.0; }

Json line_json(const std::vector<double>& vx, const std::vector<double>& vy, std::int32_t first,
               std::int32_t end) {
  Json xy = Json::array();
  for (std::int32_t v = first; v < end; ++v) {
    xy.push_back(drawn(vx[at(v)]));
    xy.push_back(drawn(vy[at(v)]));
  }
  return xy;
}

template <class Columns>
bool touches(const Columns& lines, std::size_t i, const Box& box) {
  for (std::int32_t v = lines.first[i]; v < lines.first[i + 1]; ++v) {
    if (box.has({lines.vx[at(v)], lines.vy[at(v)]})) return true;
    if (v + 1 == lines.first[i + 1]) break;
    // A long line may cross the box between its points: try along it.
    const Point a{lines.vx[at(v)], lines.vy[at(v)]}, b{lines.vx[at(v) + 1], lines.vy[at(v) + 1]};
    for (int k = 1; k < 16; ++k) {
      if (box.has({a.x + (b.x - a.x) * k / 16.0, a.y + (b.y - a.y) * k / 16.0})) return true;
    }
  }
  return false;
}

class Points {
 public:
  explicit Points(const Box& box) : box_(box) {}
  void add(std::string_view kind, const std::string& id, Point point, const std::string& says) {
    if (!box_.has(point)) return;
    Json one;
    one["kind"] = kind;
    one["id"] = id;
    one["x_m"] = drawn(point.x);
    one["y_m"] = drawn(point.y);
    one["says"] = says.empty() ? Json(nullptr) : Json(says);
    list_.push_back(one);
  }
  Json take() { return std::move(list_); }

 private:
  const Box& box_;
  Json list_ = Json::array();
};

Json points_json(const Network& network, const plan::Answer& answer, const Box& box) {
  Points points(box);
  const auto node = [&](Index n) { return Point{network.nodes.x[at(n)], network.nodes.y[at(n)]}; };
  for (std::size_t i = 0; i < network.sources.size(); ++i)
    points.add("source", network.sources.id[i], node(network.sources.node[i]), "");
  for (std::size_t i = 0; i < network.regulators.size(); ++i) {
    points.add("regulator", network.regulators.id[i], node(network.regulators.outlet[i]),
               network.regulators.station_name[i]);
    if (network.regulators.tap_pipe[i] != network::none) {
      points.add("sensing_tap", network.regulators.id[i],
                 network::point_on(network, network.regulators.tap_pipe[i],
                                   network.regulators.tap_station[i]),
                 network.regulators.station_name[i]);
    }
  }
  for (std::size_t i = 0; i < network.valves.size(); ++i) {
    points.add("valve", network.valves.id[i],
               network::point_on(network, network.valves.pipe[i], network.valves.station[i]),
               std::string(network::word(network.valves.position[i])));
  }
  std::set<Index> out;
  if (!answer.plans.empty()) {
    for (const plan::CustomerOut& one : answer.plans.front().out) out.insert(one.customer);
  }
  for (std::size_t i = 0; i < network.customers.size(); ++i) {
    const bool must = network.customers.must_not_lose[i] != 0;
    const bool lost = out.contains(static_cast<Index>(i));
    if (!must && !lost) continue;
    points.add(must ? "must_not_lose" : "customer_out", network.customers.id[i],
               network::point_on(network, network.customers.pipe[i], network.customers.station[i]),
               network.customers.why_not[i]);
  }
  for (std::size_t i = 0; i < network.features.size(); ++i) {
    if (network.features.kind[i] != network::FeatureKind::squeeze ||
        network.features.pipe[i] == network::none)
      continue;
    points.add("earlier_squeeze", network.features.id[i],
               network::point_on(network, network.features.pipe[i], network.features.begin[i]),
               network.features.says[i]);
  }
  std::set<Index>
      measured_from;  // only what some shut-off is taped from: a town has a hydrant at every corner
  for (const plan::ShutoffPlan& plan : answer.plans) {
    for (const plan::Shutoff& shutoff : plan.shutoffs) {
      for (const plan::Offset& offset : shutoff.offsets) measured_from.insert(offset.fixed_point);
    }
  }
  for (const Index i : measured_from) {
    if (i == network::none) continue;
    const auto& fixed = network.fixed_points;
    points.add("fixed_point", fixed.id[at(i)], {fixed.x[at(i)], fixed.y[at(i)]}, fixed.says[at(i)]);
  }
  return points.take();
}

}  // namespace

Json plan_map(const Network& network, const plan::Work& work, const plan::Answer& answer) {
  const Box box = around(network, work, answer);
  Json map;
  map["crs"] = network.crs;
  map["box_m"] = {drawn(box.west), drawn(box.south), drawn(box.east), drawn(box.north)};
  Json lines = Json::array();
  const auto& pipes = network.pipes;
  for (std::size_t i = 0; i < pipes.size(); ++i) {
    if (!touches(pipes, i, box)) continue;
    const auto pipe = static_cast<Index>(i);
    const Index tier = plan::tier_of_main(network, pipe);
    Json one;
    one["pipe"] = pipes.id[i];
    one["size"] = pipes.nominal_size[i].empty() ? Json(nullptr) : Json(pipes.nominal_size[i]);
    put(one, "bore", pipes.bore[i]);
    put(one, "length", pipes.length[i]);
    one["tier"] = tier == network::none ? Json(nullptr) : Json(network.tiers.id[at(tier)]);
    one["material"] = network::word(pipes.material[i]);
    one["street"] = pipes.street[i].empty() ? Json(nullptr) : Json(pipes.street[i]);
    one["xy_m"] = line_json(pipes.vx, pipes.vy, pipes.first[i], pipes.first[i + 1]);
    lines.push_back(one);
  }
  map["lines"] = lines;
  Json backdrop = Json::array();
  for (std::size_t i = 0; i < network.backdrop.size(); ++i) {
    if (!touches(network.backdrop, i, box)) continue;
    Json one;
    one["kind"] = network::word(network.backdrop.kind[i]);
    one["says"] = network.backdrop.says[i].empty() ? Json(nullptr) : Json(network.backdrop.says[i]);
    one["xy_m"] = line_json(network.backdrop.vx, network.backdrop.vy, network.backdrop.first[i],
                            network.backdrop.first[i + 1]);
    backdrop.push_back(one);
  }
  map["backdrop"] = backdrop;
  map["points"] = points_json(network, answer, box);
  return map;
}

std::vector<plan::PassedOver> passed_over_nearby(const plan::Answer& answer) {
  std::set<Index> concerned;
  for (const plan::ShutoffPlan& plan : answer.plans) {
    for (const plan::Piece& piece : plan.isolated.pieces) concerned.insert(piece.pipe);
    for (const plan::Shutoff& shutoff : plan.shutoffs) concerned.insert(shutoff.place.pipe);
  }
  std::vector<plan::PassedOver> list;
  for (const plan::PassedOver& item : answer.places.passed_over) {
    if (concerned.contains(item.pipe)) list.push_back(item);
  }
  return list;
}

}  // namespace bellhole::wire
