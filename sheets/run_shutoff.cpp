#include <algorithm>

#include "sheets/amounts.hpp"
#include "sheets/parts.hpp"
#include "sheets/run_parts.hpp"

namespace bellhole::sheets {
namespace {

Text squeeze_words(const Reply& shutoff, units::System system) {
  const Reply squeeze = shutoff.at("squeeze");
  if (!squeeze) return {};
  const Reply stop = squeeze.at("stop");
  Text says;
  if (stop)
    says += bold("Stop " + stop.text("id") + ", gap " +
                 print(amounts::gap, stop.number("gap_m"), system));
  else
    says += bold("Gap wanted " + print(amounts::gap, squeeze.number("stop_gap_m"), system));
  return says;
}

std::string double_words(const Reply& shutoff) {
  if (shutoff.text("kind") != "squeeze") return {};
  const auto two = shutoff.flag("double");
  if (!two) return "One squeeze, or two with a vent between? No limit set: decide.";
  return *two ? "Two squeezes with a vent between." : std::string();
}

std::string ground_words(const Reply& shutoff, units::System system) {
  std::vector<std::string> facts{pipe_words(shutoff)};
  if (shutoff.has("depth_m"))
    facts.push_back(print(amounts::cover, shutoff.number("depth_m"), system) + " deep");
  facts.push_back(shutoff.text("surface"));
  facts.push_back(degrees(shutoff));
  if (const auto window = shutoff.numbers("window_m"); window.size() == 2) {
    facts.push_back("may move between " + print(amounts::window_place_from, window[0], system) +
                    " and " + print(amounts::window_place_to, window[1], system) +
                    " along the main");
  }
  return joined(facts, " · ");
}

double draw_what(Canvas& canvas, const Box& at, const Reply& shutoff, units::System system) {
  double y = at.y + canvas.text({at.x, at.y}, at.w, bold(order_words(shutoff, system)), body_type);
  if (const Text gap = squeeze_words(shutoff, system); !gap.empty())
    y += canvas.text({at.x, y}, at.w, gap, body_type);
  y += canvas.text({at.x, y}, at.w, ground_words(shutoff, system), fine_type);
  const std::string verdict = shutoff.at("squeeze").text("verdict");
  if (verdict == "halt" || verdict == "undecided") {
    grade_mark(canvas, {at.x, y + 1, 11, 11}, verdict);
    const Text says = bold(grade_word(verdict) + " on its squeeze sheet");
    y += canvas.text({at.x + 15, y}, at.w - 15, says, fine_type) + 1;
  }
  if (const std::string two = double_words(shutoff); !two.empty())
    y += canvas.text({at.x, y}, at.w, bold(two), fine_type);
  return y - at.y;
}

double draw_where(Canvas& canvas, const Box& at, const Reply& shutoff, units::System system) {
  double y = at.y;
  for (const Reply& offset : shutoff.list("offsets")) {
    const std::string toward = offset.text("toward");
    const std::string from = (toward.empty() ? "from " : toward + " of ") + offset.text("from");
    const Text distance = bold(print(amounts::place, offset.number("distance_m"), system));
    y += canvas.text({at.x, y}, at.w, distance + " " + from, body_type);
  }
  if (shutoff.has("time_to_shut_s")) {
    y += canvas.text({at.x, y}, at.w,
                     "shut " + lasting(shutoff.number("time_to_shut_s")) + " after the order",
                     fine_type);
  }
  return y - at.y;
}

double draw_done(Canvas& canvas, const Box& at, const Reply& shutoff) {
  tick_box(canvas, {at.x, at.y + 2});
  canvas.text({at.x + tick_side + 5, at.y + 4}, at.w,
              bold(shutoff.text("kind") == "squeeze" ? "squeezed" : "shut"), body_type);
  write_line(canvas, {at.x, at.y + 23, at.w * 0.42, 19}, "time");
  write_line(canvas, {at.x + at.w * 0.47, at.y + 23, at.w * 0.53, 19}, "by");
  return 44;
}

}  // namespace

double draw_shutoff(Canvas& canvas, const Box& at, const Reply& shutoff, const RunJob& job) {
  const auto system = job.options.system;
  constexpr double mark = 28, done = 104, pad = 3, gutter = 8;
  const double wide = at.w - mark - done, what = wide * 0.64, where = wide - what;
  const double x = at.x + mark, y = at.y + pad;
  const double tallest =
      std::max({draw_what(canvas, {x, y, what - gutter, 0}, shutoff, system),
                draw_where(canvas, {x + what, y, where - gutter, 0}, shutoff, system),
                draw_done(canvas, {x + wide, y, done, 0}, shutoff)});
  const double height = tallest + 2 * pad;
  letter_mark(canvas, {at.x + 11.5, y + 13}, 11.5, shutoff.text("id"));
  canvas.line({at.x, at.y + height}, {at.right(), at.y + height}, {0.5});
  return height;
}

}  // namespace bellhole::sheets
