#include "sheets/map_shapes.hpp"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <limits>
#include <set>

namespace bellhole::sheets {
namespace {

std::optional<Point> point_of(const Reply& reply) {
  const auto x = reply.number("x_m"), y = reply.number("y_m");
  if (!x || !y) return std::nullopt;
  return Point{*x, *y};
}

MapLine line_of(const Reply& reply) {
  MapLine line{reply.text("pipe"), reply.text("size"), reply.text("material"),
               reply.text("street")};
  line.weight = weight_for(line.size);
  const std::vector<double> xy = reply.numbers("xy_m");
  for (std::size_t i = 0; i + 1 < xy.size(); i += 2) line.line.push_back({xy[i], xy[i + 1]});
  line.length_m = reply.number("length_m").value_or(length_of(line.line));
  return line;
}

const MapLine* line_named(const MapShapes& shapes, const std::string& pipe) {
  const auto found = std::ranges::find(shapes.lines, pipe, &MapLine::pipe);
  return found == shapes.lines.end() ? nullptr : &*found;
}

Sign sign_of(const std::string& kind) {
  static constexpr std::array<std::pair<std::string_view, Sign>, 8> signs{
      {{"regulator", Sign::regulator},
       {"sensing_tap", Sign::sensing_tap},
       {"source", Sign::source},
       {"valve", Sign::valve},
       {"earlier_squeeze", Sign::earlier_squeeze},
       {"must_not_lose", Sign::must_not_lose},
       {"customer_out", Sign::customer_out},
       {"fixed_point", Sign::fixed}}};
  const auto found =
      std::ranges::find(signs, std::string_view(kind), &std::pair<std::string_view, Sign>::first);
  return found == signs.end() ? Sign::other : found->second;
}

/// Direction of the main that a thing stands on: its own, or the nearest one drawn.
Point direction_at(const MapShapes& shapes, const std::string& pipe, Point at) {
  const MapLine* main = line_named(shapes, pipe);
  double best = std::numeric_limits<double>::infinity();
  for (const MapLine& line : shapes.lines) {
    if (line_named(shapes, pipe) != nullptr) break;
    const double away = distance_to(line.line, at);
    if (away < best) {
      best = away;
      main = &line;
    }
  }
  return main == nullptr ? Point{1, 0} : along(main->line, nearest(main->line, at)).direction;
}

std::string name_of(Sign sign, const std::string& id, const std::string& says) {
  switch (sign) {
    case Sign::regulator:
    case Sign::source:
      return says.empty() ? id : id + " " + says;
    case Sign::sensing_tap:
      return "tap of " + id;
    case Sign::valve:
      return says == "closed" ? id + " closed" : id;
    case Sign::earlier_squeeze:
      return "";
    case Sign::fixed:
      return says.empty() || says.contains(id) ? (says.empty() ? id : says) : says + " " + id;
    default:
      return says.empty() ? id : says;
  }
}

/// What the plan says about the things that the map shows.
struct Concerned {
  std::set<std::string> out;   ///< customers that lose gas
  std::set<std::string> shut;  ///< elements that are shut-offs and have a sign of their own
  std::string measured_from;   ///< all the words that offsets are measured from
};

Concerned concerned_by(const Reply& plan) {
  Concerned concerned;
  for (const Reply& customer : plan.list("customers_out"))
    concerned.out.insert(customer.text("id"));
  for (const std::string& id : plan.texts("must_not_lose_out")) concerned.out.insert(id);
  for (const Reply& shutoff : plan.list("shutoffs")) {
    concerned.shut.insert(shutoff.text("element"));
    for (const Reply& offset : shutoff.list("offsets"))
      concerned.measured_from += offset.text("from") + "\n";
  }
  return concerned;
}

/// The map was made for all plans of the reply; what a thing is to the one that is drawn.
Sign sign_in(const Concerned& concerned, Sign sign, const std::string& id) {
  const bool loses = concerned.out.contains(id);
  if (sign == Sign::must_not_lose && loses) return Sign::must_not_lose_out;
  if (sign == Sign::customer_out && !loses) return Sign::other;
  if (sign == Sign::valve && concerned.shut.contains(id)) return Sign::other;
  const bool used = !id.empty() && concerned.measured_from.contains(id + "\n");
  if (sign == Sign::fixed && !used) return Sign::other;
  return sign;
}

void add_points(MapShapes& shapes, const Reply& map, const Concerned& concerned) {
  for (const Reply& point : map.list("points")) {
    const auto at = point_of(point);
    const std::string id = point.text("id");
    const Sign sign = sign_in(concerned, sign_of(point.text("kind")), id);
    if (!at || sign == Sign::other) continue;
    shapes.points.push_back(
        {sign, name_of(sign, id, point.text("says")), *at, direction_at(shapes, "", *at)});
  }
}

void add_isolated(MapShapes& shapes, const Reply& isolated) {
  for (const Reply& piece : isolated.list("pieces")) {
    const MapLine* main = line_named(shapes, piece.text("pipe"));
    const auto from = piece.number("from_station_m"), to = piece.number("to_station_m");
    if (main == nullptr || !from || !to || !(main->length_m > 0)) continue;
    const double stretch = length_of(main->line) / main->length_m;
    MapLine line = *main;
    line.line = part(main->line, *from * stretch, *to * stretch);
    if (line.line.size() > 1) shapes.isolated.push_back(std::move(line));
  }
}

struct Extent {
  double x0 = std::numeric_limits<double>::infinity(), y0 = x0, x1 = -x0, y1 = -x0;
  void take(Point p) {
    x0 = std::min(x0, p.x), x1 = std::max(x1, p.x);
    y0 = std::min(y0, p.y), y1 = std::max(y1, p.y);
  }
  [[nodiscard]] bool empty() const { return x0 > x1; }
};

Extent extent_of(const MapShapes& shapes) {
  Extent extent;
  for (const Point& point : shapes.work) extent.take(point);
  for (const MapShutoff& shutoff : shapes.shutoffs) extent.take(shutoff.at);
  for (const MapLine& line : shapes.isolated)
    std::ranges::for_each(line.line, [&](Point p) { extent.take(p); });
  for (const MapPoint& point : shapes.points) {
    if (point.sign == Sign::customer_out || point.sign == Sign::must_not_lose_out)
      extent.take(point.at);
  }
  if (extent.empty()) {
    for (const MapLine& line : shapes.lines)
      std::ranges::for_each(line.line, [&](Point p) { extent.take(p); });
  }
  return extent;
}

}  // namespace

double weight_for(const std::string& size) {
  // Nominal size in mm up to which a weight is drawn; a picture, not a dimension.
  struct Row {
    double up_to_mm, weight;
  };
  static constexpr std::array<Row, 5> rows{
      {{70, 0.9}, {130, 1.7}, {185, 2.4}, {260, 3.1}, {1e9, 4.0}}};
  const auto digit =
      std::ranges::find_if(size, [](unsigned char c) { return std::isdigit(c) != 0; });
  if (digit == size.end()) return rows[0].weight;
  double number = 0;
  for (auto at = digit; at != size.end() && std::isdigit(static_cast<unsigned char>(*at)) != 0;
       ++at)
    number = number * 10 + (*at - '0');
  const double mm = size.starts_with("dn") || size.starts_with("DN") ? number : number * 25.4 * 1.1;
  return std::ranges::find_if(rows, [&](const Row& row) { return mm <= row.up_to_mm; })->weight;
}

MapShapes shapes_of(const Reply& reply, std::size_t plan) {
  MapShapes shapes;
  const Reply map = reply.need("map");
  for (const Reply& line : map.list("backdrop")) {
    shapes.backdrop.push_back(line_of(line));
    shapes.backdrop.back().material = line.text("kind");
    shapes.backdrop.back().street = line.text("says");
  }
  for (const Reply& line : map.need_list("lines")) shapes.lines.push_back(line_of(line));
  const Reply work = reply.need("work");
  if (const auto at = point_of(work)) shapes.work.push_back(*at);
  const auto plans = reply.list("plans");
  Concerned concerned;
  if (plan < plans.size()) {
    concerned = concerned_by(plans[plan]);
    add_isolated(shapes, plans[plan].at("isolated"));
    for (const Reply& shutoff : plans[plan].list("shutoffs")) {
      const auto at = point_of(shutoff);
      if (!at) continue;
      shapes.shutoffs.push_back({shutoff.text("id"), shutoff.text("kind"), *at,
                                 direction_at(shapes, shutoff.text("pipe"), *at)});
    }
  }
  add_points(shapes, map, concerned);
  return shapes;
}

View::View(const MapShapes& shapes, const Box& box) {
  const Extent extent = extent_of(shapes);
  centre_ = {box.x + box.w / 2, box.y + box.h / 2};
  if (extent.empty()) return;
  constexpr double least_shown_m = 80;
  const double w = std::max(extent.x1 - extent.x0, least_shown_m);
  const double h = std::max(extent.y1 - extent.y0, least_shown_m);
  constexpr double around =
      0.16;  // of the frame on each side: streets by which a stranger finds the place
  scale_ = std::min(box.w * (1 - 2 * around) / w, box.h * (1 - 2 * around) / h);
  middle_ = {(extent.x0 + extent.x1) / 2, (extent.y0 + extent.y1) / 2};
}

Point View::on_paper(Point metres) const {
  return {centre_.x + (metres.x - middle_.x) * scale_, centre_.y - (metres.y - middle_.y) * scale_};
}

Polyline View::on_paper(const Polyline& metres) const {
  Polyline result;
  result.reserve(metres.size());
  for (const Point& point : metres) result.push_back(on_paper(point));
  return result;
}

}  // namespace bellhole::sheets
