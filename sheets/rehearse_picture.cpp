#include "sheets/rehearse_picture.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "sheets/amounts.hpp"

namespace bellhole::sheets {
namespace {

constexpr std::array dashes{3.0, 2.0}, dots{1.0, 2.0};
constexpr double scale_width = 48, panel_height = 62, hour_s = 3600;

double across(const Box& plot, const ClockAxis& axis, double at_s) {
  const double share = (at_s - axis.from_s) / (axis.to_s - axis.from_s);
  return plot.x + plot.w * std::clamp(share, 0.0, 1.0);
}

Box plot_of(const Box& at) { return {at.x + scale_width, at.y, at.w - scale_width, at.h}; }

/// Pressures from the bottom of a panel to its top.
struct Span {
  double low = HUGE_VAL, high = -HUGE_VAL;
  void take(double pressure) {
    low = std::min(low, pressure);
    high = std::max(high, pressure);
  }
  [[nodiscard]] double up(const Box& plot, double pressure) const {
    return plot.bottom() - plot.h * std::clamp((pressure - low) / (high - low), 0.0, 1.0);
  }
};

struct Stretch {
  std::vector<double> at, low, expected, high;
};

std::vector<Stretch> stretches_of(const Reply& gauge) {
  std::vector<Stretch> all;
  for (const Reply& item : gauge.list("stretches")) {
    Stretch stretch{item.numbers("at_s"), item.numbers("low_draw_pa_gauge"),
                    item.numbers("expected_draw_pa_gauge"), item.numbers("high_draw_pa_gauge")};
    const std::size_t n = std::min(
        {stretch.at.size(), stretch.low.size(), stretch.expected.size(), stretch.high.size()});
    for (auto* column : {&stretch.at, &stretch.low, &stretch.expected, &stretch.high})
      column->resize(n);
    if (n > 0) all.push_back(std::move(stretch));
  }
  return all;
}

/// The limits of a gauge while a step has it; missing ones are not drawn.
struct Limit {
  double from_s = 0, to_s = 0;
  std::optional<double> low, high;
};

std::vector<Limit> limits_of(const Reply& reply, const std::string& point, double to_s) {
  std::vector<Limit> limits;
  for (const Reply& step : reply.list("steps")) {
    for (const Reply& gauge : step.list("gauges")) {
      if (gauge.text("point") != point) continue;
      const double begins = step.number("begins_s").value_or(0);
      if (!limits.empty()) limits.back().to_s = begins;
      limits.push_back({begins, to_s, gauge.number("low_pa_gauge"), gauge.number("high_pa_gauge")});
    }
  }
  return limits;
}

/// What is seen of the curves, and the nearest limits where they are not far off.
Span span_of(const std::vector<Stretch>& stretches, const std::vector<Limit>& limits,
             const ClockAxis& axis) {
  Span span;
  for (const Stretch& stretch : stretches) {
    for (std::size_t i = 0; i < stretch.at.size(); ++i) {
      if (stretch.at[i] < axis.from_s) continue;
      span.take(std::min({stretch.low[i], stretch.expected[i], stretch.high[i]}));
      span.take(std::max({stretch.low[i], stretch.expected[i], stretch.high[i]}));
    }
  }
  if (span.low > span.high) span = {0.0, 1.0};
  const double seen = std::max(span.high - span.low, 0.02 * std::abs(span.high));
  for (const Limit& limit : limits) {
    for (const auto& value : {limit.low, limit.high})
      if (value && *value > span.low - 1.5 * seen && *value < span.high + 1.5 * seen)
        span.take(*value);
  }
  const double room = std::max(0.08 * (span.high - span.low), 0.01 * std::abs(span.high) + 10.0);
  return {span.low - room, span.high + room};
}

void draw_stretch(Canvas& canvas, const Box& plot, const Stretch& stretch, const Span& span,
                  const ClockAxis& axis) {
  std::vector<Point> band, line;
  const auto end = [&](std::size_t i, bool upper) {
    const auto values = {stretch.low[i], stretch.expected[i], stretch.high[i]};
    const double pressure = upper ? std::max(values) : std::min(values);
    return Point{across(plot, axis, stretch.at[i]), span.up(plot, pressure)};
  };
  for (std::size_t i = 0; i < stretch.at.size(); ++i) {
    band.push_back(end(i, true));
    line.push_back({across(plot, axis, stretch.at[i]), span.up(plot, stretch.expected[i])});
  }
  for (std::size_t i = stretch.at.size(); i-- > 0;) band.push_back(end(i, false));
  canvas.polygon(band, Fill::hatch, {0.5});
  canvas.polyline(line, {1.3});
}

void draw_limits_of(Canvas& canvas, const Box& plot, const std::vector<Limit>& limits,
                    const Span& span, const ClockAxis& axis, const std::string& unit) {
  double said_low = HUGE_VAL, said_high = HUGE_VAL;  // each figure once, where it begins
  for (const Limit& limit : limits) {
    const double x0 = across(plot, axis, limit.from_s), x1 = across(plot, axis, limit.to_s);
    if (!(x1 > x0)) continue;
    for (const bool low : {true, false}) {
      const auto& value = low ? limit.low : limit.high;
      if (!value || *value < span.low || *value > span.high) continue;
      const double y = span.up(plot, *value);
      canvas.line({x0, y}, {x1, y}, {1.0, dashes});
      double& said = low ? said_low : said_high;
      if (said == *value) continue;
      said = *value;
      const std::string figure =
          gauge_reading(*value, unit, low ? units::Toward::up : units::Toward::down);
      const double half = canvas.width(figure, fine_type) / 2 + 2;
      canvas.label({std::clamp(x0 + half + 2, plot.x + half, plot.right() - half),
                    std::clamp(y, plot.y + 6, plot.bottom() - 6)},
                   0, figure, fine_type, true);
    }
  }
}

/// A black wedge on the axis of time where the gauge goes beyond a limit.
void draw_wrong(Canvas& canvas, const Box& plot, const Reply& reply, const std::string& point,
                const ClockAxis& axis) {
  for (const Reply& wrong : reply.list("wrong")) {
    if (wrong.text("gauge") != point) continue;
    const double x = across(plot, axis, wrong.number("at_s").value_or(0));
    const std::array wedge{Point{x, plot.y + 9}, Point{x - 4, plot.y + 1},
                           Point{x + 4, plot.y + 1}};
    canvas.polygon(wedge, Fill::black);
  }
}

void draw_scale(Canvas& canvas, const Box& at, const Box& plot, const Span& span,
                const std::string& unit) {
  const auto number = [&](double pressure, double y) {
    canvas.text({at.x, y}, scale_width - 4, gauge_reading(pressure, unit, units::Toward::nearest),
                {size::fine, Align::right});
  };
  number(span.high, plot.y - 1);
  number(span.low, plot.bottom() - 11);
  canvas.text({at.x, plot.y + plot.h / 2 - 6}, scale_width - 4, paper_units(unit),
              {size::fine, Align::right});
}

/// Hours between two lines of the clock, so that no more than a dozen stand.
double hours_apart(const ClockAxis& axis) {
  const double hours = (axis.to_s - axis.from_s) / hour_s;
  for (const double apart : {0.25, 0.5, 1.0, 2.0, 3.0, 6.0, 12.0})
    if (hours / apart <= 12.0) return apart;
  return 24.0;
}

std::string hour_words(double hour) {
  constexpr int day_min = 1440;
  const auto minutes = static_cast<int>(std::lround(hour * 60.0)) % day_min;
  return fmt::format("{:02}:{:02}", minutes / 60, minutes % 60);
}

/// Calls `use(x, hour)` for each line of the clock.
template <class Use>
void each_hour(const Box& plot, const ClockAxis& axis, const Use& use) {
  const double apart = hours_apart(axis), begins = axis.begins_hour + axis.from_s / hour_s,
               ends = axis.begins_hour + axis.to_s / hour_s;
  for (double hour = std::ceil(begins / apart) * apart; hour <= ends; hour += apart)
    use(across(plot, axis, (hour - axis.begins_hour) * hour_s), hour);
}

}  // namespace

ClockAxis clock_axis(const Reply& reply) {
  const Reply clock = reply.need("clock");
  ClockAxis axis;
  axis.begins_hour = reply.need("conditions").number("hour").value_or(0);
  axis.to_s = std::max(clock.number("lasts_s").value_or(1), 1.0);
  const double first = clock.number("first_moves_s").value_or(0);
  axis.from_s = std::max(0.0, first - 0.08 * (axis.to_s - first));
  for (const Reply& step : reply.list("steps")) {
    const std::string kind = step.text("kind"), about = step.text("about");
    if (kind == "shut")
      axis.marks.push_back({step.number("ends_s").value_or(0), about + " shut"});
    else if (kind == "open")
      axis.marks.push_back({step.number("ends_s").value_or(0), about + " open"});
    else if (kind == "cut")
      axis.marks.push_back({step.number("begins_s").value_or(0), "cut"});
  }
  return axis;
}

double draw_clock_marks(Canvas& canvas, const Box& at, const ClockAxis& axis) {
  constexpr double row = 11;
  const Box plot = plot_of(at);
  std::vector<double> free_from;  // of each row
  for (const ClockAxis::Mark& mark : axis.marks) {
    const double width = canvas.width(mark.says, fine_type) + 4;
    const double x =
        std::clamp(across(plot, axis, mark.at_s) - width / 2, plot.x, plot.right() - width);
    std::size_t line = 0;
    while (line < free_from.size() && free_from[line] > x) ++line;
    if (line == free_from.size()) free_from.push_back(0);
    free_from[line] = x + width;
    canvas.text({x, at.y + row * static_cast<double>(line)}, width + 2, mark.says, fine_type);
  }
  return row * static_cast<double>(free_from.size()) + 2;
}

double draw_gauge_panel(Canvas& canvas, const Box& at, const Reply& gauge, const Reply& reply,
                        const ClockAxis& axis, units::System system) {
  const std::string point = gauge.text("id"), tier = gauge.text("tier"), post = gauge.text("post");
  const double head =
      canvas.text({at.x, at.y}, at.w,
                  bold(capital(gauge.text("at"))) + (tier.empty() ? "" : ", tier " + tier) +
                      (post.empty() ? "" : ", read by " + post),
                  fine_type);
  const Box plot = plot_of({at.x, at.y + head + 1, at.w, panel_height});
  const auto stretches = stretches_of(gauge);
  const auto limits = limits_of(reply, point, axis.to_s);
  const Span span = span_of(stretches, limits, axis);
  const std::string unit = scale_unit(span.high, system);
  {
    const Canvas::Clip clip(canvas, plot);
    each_hour(plot, axis,
              [&](double x, double) { canvas.line({x, plot.y}, {x, plot.bottom()}, {0.3, dots}); });
    for (const Stretch& stretch : stretches) draw_stretch(canvas, plot, stretch, span, axis);
    for (const ClockAxis::Mark& mark : axis.marks) {
      const double x = across(plot, axis, mark.at_s);
      canvas.line({x, plot.y}, {x, plot.bottom()}, {0.7});
    }
    draw_limits_of(canvas, plot, limits, span, axis, unit);
    draw_wrong(canvas, plot, reply, point, axis);
  }
  canvas.box(plot, Fill::none, {0.8});
  draw_scale(canvas, at, plot, span, unit);
  return head + panel_height + 6;
}

double draw_clock_scale(Canvas& canvas, const Box& at, const ClockAxis& axis) {
  const Box plot = plot_of(at);
  each_hour(plot, axis, [&](double x, double hour) {
    const std::string says = hour_words(hour);
    const double width = canvas.width(says, fine_type);
    canvas.text({std::clamp(x - width / 2, plot.x - 4, plot.right() - width), at.y}, width + 2,
                says, fine_type);
  });
  return 13;
}

}  // namespace bellhole::sheets
