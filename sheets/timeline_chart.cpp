#include "sheets/timeline_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "sheets/marks.hpp"

namespace bellhole::sheets {
namespace {

constexpr double name_width = 84, row = 17, gap = 6, axis = 20, hour_s = 3600;

struct Item {
  std::size_t number = 0;
  double begins = 0, ends = 0;
  bool critical = false, hold = false, no_return = false;
};

struct Lane {
  std::string name;
  std::vector<Item> items;
  std::vector<std::size_t> rows;  ///< of each item
  std::size_t height = 1;         ///< in rows
};

bool meters(const Reply& step) {
  const std::string kind = step.text("kind");
  return kind == "meters_shut" || kind == "relight";
}

/// Crews by number, then the technicians, then everybody else.
std::vector<Lane> lanes_of(const Reply& reply) {
  std::map<double, Lane> lanes;
  constexpr double technicians = 1e6, others = 2e6;
  std::size_t number = 0;
  for (const Reply& step : reply.need_list("steps")) {
    const auto crew = step.number("crew");
    const double at = crew ? *crew : meters(step) ? technicians : others;
    Lane& lane = lanes[at];
    lane.name = crew           ? fmt::format("Crew {:.0f}", *crew)
                : meters(step) ? "Technicians"
                               : "Lead, posts";
    lane.items.push_back(
        {++number, step.at("begins").number("expected_s").value_or(0),
         step.at("ends").number("expected_s").value_or(0), step.flag("critical").value_or(false),
         step.flag("hold_point").value_or(false), step.flag("point_of_no_return").value_or(false)});
  }
  std::vector<Lane> list;
  for (auto& [at, lane] : lanes) list.push_back(std::move(lane));
  return list;
}

/// What runs at the same time lies in rows under each other.
void stack(Lane& lane) {
  std::vector<double> free;
  std::ranges::stable_sort(lane.items, {}, &Item::begins);
  for (const Item& item : lane.items) {
    auto row_free = std::ranges::find_if(free, [&](double ends) { return ends <= item.begins; });
    if (row_free == free.end()) row_free = free.insert(free.end(), 0.0);
    *row_free = item.ends;
    lane.rows.push_back(static_cast<std::size_t>(row_free - free.begin()));
  }
  lane.height = std::max<std::size_t>(free.size(), 1);
}

/// Hours between two marks of the axis: at most twelve of them.
double every(double hours) {
  for (const double step : {0.25, 0.5, 1.0, 2.0, 3.0, 6.0, 12.0, 24.0, 48.0, 96.0})
    if (hours / step <= 12) return step;
  return std::ceil(hours / 12);
}

class Chart {
 public:
  Chart(Canvas& canvas, const Box& at, const Reply& reply)
      : canvas_(canvas), at_(at), reply_(reply), lanes_(lanes_of(reply)) {
    for (Lane& lane : lanes_) stack(lane);
    lasts_ = std::max(reply.at("lasts").number("expected_s").value_or(0), 1.0);
  }

  double draw() {
    double y = at_.y + axis;
    const double top = y;
    for (const Lane& lane : lanes_) y = draw_lane(lane, y);
    y = draw_out(y);
    draw_axis(top, y);
    return y + draw_key(y + 3) + 3 - at_.y;
  }

 private:
  [[nodiscard]] double x_of(double seconds) const {
    return at_.x + name_width + (at_.w - name_width - 4) * seconds / lasts_;
  }

  void draw_axis(double top, double bottom) {
    const double hours = lasts_ / hour_s, step = every(hours);
    constexpr std::array dash{1.0, 3.0};
    canvas_.text({at_.x, at_.y + 4}, name_width - 4, "hours", {size::fine});
    for (double hour = 0; hour <= hours * (1 + 1e-9); hour += step) {
      const double x = x_of(hour * hour_s);
      canvas_.label({x, at_.y + 10}, 0, fmt::format("{:g}", hour), {size::fine, Align::centre},
                    false);
      canvas_.line({x, top - 2}, {x, bottom}, {0.4, dash});
    }
  }

  double draw_lane(const Lane& lane, double y) {
    canvas_.text({at_.x, y + 2}, name_width - 4, bold(lane.name), {size::fine});
    for (std::size_t i = 0; i < lane.items.size(); ++i)
      draw_item(lane.items[i], y + static_cast<double>(lane.rows[i]) * row);
    const double below = y + static_cast<double>(lane.height) * row + gap;
    canvas_.line({at_.x, below - gap / 2}, {at_.right(), below - gap / 2}, {0.4});
    return below;
  }

  void draw_item(const Item& item, double y) {
    const double x = x_of(item.begins), width = std::max(x_of(item.ends) - x, 0.8);
    canvas_.box({x, y + 2, width, row - 5}, item.critical ? Fill::black : Fill::white, {0.7});
    const std::string number = fmt::format("{}", item.number);
    const Type type{size::fine, Align::centre, item.critical};
    if (canvas_.width(number, type) + 2 < width)
      canvas_.label({x + width / 2, y + row / 2 - 0.5}, 0, number, type, false);
    if (item.hold) diamond({x + width, y + 2});
    if (item.no_return) triangle({x, y + 2});
  }

  /// Nobody goes on before a person answers.
  void diamond(Point at) {
    const std::array points{Point{at.x, at.y - 3}, Point{at.x + 3, at.y}, Point{at.x, at.y + 3},
                            Point{at.x - 3, at.y}};
    canvas_.polygon(points, Fill::white, {1.0});
  }

  void triangle(Point at) {
    const std::array points{Point{at.x - 3, at.y - 3}, Point{at.x + 3, at.y - 3},
                            Point{at.x, at.y + 3}};
    canvas_.polygon(points, Fill::black, {0.6});
  }

  double draw_out(double y) {
    const auto outages = reply_.list("outages");
    if (outages.empty()) return y;
    double lost = lasts_, back = 0;
    for (const Reply& outage : outages) {
      lost = std::min(lost, outage.number("lost_s").value_or(lost));
      back = std::max(back, outage.number("back_s").value_or(back));
    }
    const double end = reply_.at("restored").number("expected_s").value_or(back);
    canvas_.text({at_.x, y + 2}, name_width - 4, bold(fmt::format("{} out", outages.size())),
                 {size::fine});
    canvas_.box({x_of(lost), y + 2, x_of(end) - x_of(lost), row - 5}, Fill::hatch, {0.7});
    return y + row + gap;
  }

  double draw_key(double y) {
    double x = at_.x;
    canvas_.box({x, y + 2, 18, row - 7}, Fill::black, {0.7});
    x = words(x + 22, y, "the job is as long as it is because of these");
    diamond({x + 4, y + 7});
    x = words(x + 11, y, "hold point: a person answers");
    triangle({x + 4, y + 7});
    words(x + 11, y, "no way back from here");
    return row;
  }

  double words(double x, double y, const char* says) {
    canvas_.text({x, y + 1}, at_.right() - x, says, {size::fine});
    return x + canvas_.width(says, {size::fine}) + 10;
  }

  Canvas& canvas_;
  Box at_;
  const Reply& reply_;
  std::vector<Lane> lanes_;
  double lasts_ = 1;
};

}  // namespace

double draw_timeline(Canvas& canvas, const Box& at, const Reply& reply) {
  return Chart(canvas, at, reply).draw();
}

}  // namespace bellhole::sheets
