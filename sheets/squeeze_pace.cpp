#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "sheets/amounts.hpp"
#include "sheets/squeeze_parts.hpp"

namespace bellhole::sheets {
namespace {

/// A bold head with the rest in fine print on the same line, or below where it does not fit.
double draw_lead(Canvas& canvas, const Box& at, const Text& head, const Text& rest) {
  const double w = canvas.width(head, body_type), height = canvas.height(at.w, head, body_type);
  canvas.text({at.x, at.y}, at.w, head, body_type);
  if (canvas.width(rest, fine_type) < at.w - w - 8) {
    canvas.text({at.x + w + 8, at.y + 1.8}, at.w, rest, fine_type);
    return height;
  }
  return height + canvas.text({at.x, at.y + height}, at.w, rest, fine_type);
}

/// Cells in equal strips, each strip with its names at the left.
double draw_strips(Canvas& canvas, const Box& at, const std::vector<std::string>& names,
                   const std::vector<std::vector<std::string>>& cells) {
  constexpr std::size_t most_a_strip = 12;
  constexpr double name_width = 62, line = 12.8;
  const std::size_t strips = (cells.size() + most_a_strip - 1) / most_a_strip;
  if (strips == 0) return 0;
  const std::size_t each = (cells.size() + strips - 1) / strips;
  const double cell = (at.w - name_width) / static_cast<double>(each);
  double y = at.y;
  for (std::size_t first = 0; first < cells.size(); first += each) {
    const std::size_t end = std::min(first + each, cells.size());
    const double height = line * static_cast<double>(names.size()) + 2;
    for (std::size_t row = 0; row < names.size(); ++row) {
      const double top = y + 1 + line * static_cast<double>(row);
      canvas.text({at.x, top + 1.5}, name_width, names[row], fine_type);
      for (std::size_t i = first; i < end; ++i) {
        const Text says = row == 1 ? bold(cells[i][row]) : Text(cells[i][row]);
        canvas.text({at.x + name_width + cell * static_cast<double>(i - first), top}, cell, says,
                    {row == 1 ? size::body : size::table, Align::centre});
      }
    }
    const double right = at.x + name_width + cell * static_cast<double>(end - first);
    canvas.line({at.x, y + height}, {right, y + height}, {0.5});
    for (std::size_t i = first; i <= end; ++i) {
      const double x = at.x + name_width + cell * static_cast<double>(i - first);
      canvas.line({x, y + 1}, {x, y + height}, {0.4});
    }
    y += height + 1.5;
  }
  return y - at.y;
}

/// "strokes" or "turns", as the tool's record counts; "" without a record of it.
std::string count_word(const Reply& reply) { return reply.at("tool").text("counted_in"); }

std::string per_count(const Reply& pace, const std::string& counted_in) {
  const auto seconds = pace.number("shortest_per_count_s");
  if (!seconds || counted_in.empty()) return {};
  return fmt::format(", {:.1f} s or more a {}", std::ceil(*seconds * 10 - 1e-6) / 10,
                     counted_in == "turns" ? "turn" : "stroke");
}

double draw_closing(Canvas& canvas, const Box& at, const Reply& reply, units::System system) {
  const Reply close = reply.at("close");
  double y = at.y;
  if (!close)
    return canvas.text({at.x, y}, at.w,
                       bold("Close: ") + "no pace can be told; a finding says why.", body_type);
  const std::string counted_in = count_word(reply);
  y +=
      1 + draw_lead(canvas, {at.x, y, at.w, 0},
                    bold("Close in " + min_s(close.number("shortest_s")) + " or slower"),
                    "travel " + print(amounts::travel, reply.number("travel_m"), system) +
                        ", at most " + print(amounts::pace, close.number("speed_m_per_s"), system) +
                        per_count(close, counted_in));
  std::vector<std::string> names{"gap, " + unit_of(amounts::gap, system), "not before"};
  if (!counted_in.empty()) names.push_back(counted_in);
  std::vector<std::vector<std::string>> cells;
  const auto marks = close.list("marks");
  for (const Reply& mark : marks) {
    if (mark.number("travelled_m").value_or(0) <= 0) continue;
    const auto& figure =
        &mark == &marks.back() ? amounts::gap : amounts::mark_gap;  // the last one is the stop
    cells.push_back({bare(figure, mark.number("gap_m"), system), stop_watch(mark.number("at_s"))});
    if (counted_in.empty()) continue;
    const auto count = mark.number("count");
    cells.back().push_back(count ? fmt::format("{:.0f}", std::floor(*count + 1e-6)) : "–");
  }
  y += draw_strips(canvas, {at.x, y, at.w, 0}, names, cells);
  return y - at.y;
}

double draw_at_limit(Canvas& canvas, const Box& at, const Reply& reply) {
  const Reply limit = reply.at("at_limit");
  constexpr double pad = 4;
  const auto wait = limit.number("wait_s");
  const Text says =
      bold("At the pump's limit, not on the stops: NOT SHUT. ") +
      (wait ? "Wait " + lasting(wait) : std::string("Wait – no limit set: decide –")) +
      ", pump again; still not: find out why.";
  const double h =
      canvas.text({at.x + pad, at.y + pad - 1}, at.w - 2 * pad, says, {size::table}) + 2 * pad - 2;
  canvas.box({at.x, at.y, at.w, h}, Fill::none, {1.6});
  return h;
}

double draw_opening(Canvas& canvas, const Box& at, const Reply& reply, units::System system) {
  const Reply open = reply.at("open");
  double y = at.y;
  if (!open)
    return canvas.text({at.x, y}, at.w, bold("Open: ") + "no pace can be told; a finding says why.",
                       body_type);
  const auto steps = open.list("steps");
  const double wait = steps.empty() ? 0 : steps.front().number("wait_s").value_or(0);
  y += 1 + draw_lead(canvas, {at.x, y, at.w, 0},
                     bold("Open in " + min_s(open.number("shortest_with_waits_s")) + " or slower"),
                     counted(steps.size(), "step", "steps") + ", at most " +
                         print(amounts::pace, open.number("speed_m_per_s"), system) +
                         per_count(open, count_word(reply)) +
                         (wait > 0 ? ", " + lasting(wait) + " wait after each" : ""));
  std::vector<std::vector<std::string>> cells;
  for (const Reply& step : steps)
    cells.push_back({bare(amounts::mark_gap, step.number("to_gap_m"), system),
                     stop_watch(step.number("starts_s"))});
  y += draw_strips(canvas, {at.x, y, at.w, 0},
                   {"open to, " + unit_of(amounts::gap, system), "start at"}, cells);
  return y - at.y;
}

}  // namespace

double draw_pace(Canvas& canvas, const Box& at, const Reply& reply, units::System system) {
  double y = at.y;
  y += draw_closing(canvas, {at.x, y, at.w, 0}, reply, system) + 3;
  y += draw_at_limit(canvas, {at.x, y, at.w, 0}, reply) + 4;
  y += draw_opening(canvas, {at.x, y, at.w, 0}, reply, system);
  return y - at.y;
}

}  // namespace bellhole::sheets
