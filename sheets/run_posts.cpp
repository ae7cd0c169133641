// Posts of a run sheet: who stands where, why, and since when; and what is laid ready.
#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "sheets/amounts.hpp"
#include "sheets/parts.hpp"
#include "sheets/run_parts.hpp"

namespace bellhole::sheets {
namespace {

double draw_post(Canvas& canvas, const Box& at, const Reply& post) {
  constexpr double id = 26, done = 212, pad = 2;
  const double width = at.w - id - done - 8;
  canvas.text({at.x, at.y + pad + 2}, id, bold(post.text("id")), body_type);
  const Text says =
      bold(capital(post.text("role"))) + ", " + post.text("place") + ": " + post.text("why") + ".";
  const double text = canvas.text({at.x + id, at.y + pad}, width, says, fine_type);
  double x = at.right() - done;
  write_line(canvas, {x, at.y + pad - 1, 72, 20}, "name");
  for (const char* when : {"manned", "down"}) {
    x += when[0] == 'm' ? 78 : 68;
    tick_box(canvas, {x, at.y + pad + 1});
    write_line(canvas, {x + tick_side + 4, at.y + pad - 1, 42, 20}, when);
  }
  const double height = std::max(text + 2 * pad, 23.0);
  canvas.line({at.x, at.y + height}, {at.right(), at.y + height}, {0.4});
  return height;
}

std::string count_words(const Reply& row, const char* key, const char* words) {
  const auto n = row.number(key);
  return n ? fmt::format("{:.0f} {}", *n, words) : fmt::format("{}: not counted", words);
}

Text kit_words(const Reply& row) {
  const double needed = row.number("needed").value_or(0),
               least = row.number("needed_least").value_or(0);
  const std::string many = least == needed ? fmt::format("{:.0f}", needed)
                                           : fmt::format("{:.0f} or {:.0f}", least, needed);
  const std::string of = row.text("tool");
  const std::string item = row.text("item") == "stop" ? "set of stops" : row.text("item");
  return bold(fmt::format("{} × {} {}", many, item, row.text("id"))) +
         (of.empty() ? "" : " of tool " + of) + " (" + count_words(row, "owned", "owned") + ", " +
         count_words(row, "on_truck", "on the truck") + ")";
}

}  // namespace

void set_posts(Flow& flow, const RunJob& job) {
  const auto posts = job.plan.list("posts");
  if (posts.empty()) return;
  flow.heading("Posts: manned before the start, given up last", 50);
  for (const Reply& post : posts)
    flow.block([&](const Box& at) { return draw_post(flow.canvas(), at, post); });
}

void set_kit(Flow& flow, const RunJob& job) {
  const Reply hole = job.plan.at("hole");
  const auto rows = hole.list("kit");
  const auto needed = hole.number("tools_needed");
  if (rows.empty() && needed.value_or(0) == 0) return;
  flow.heading("Lay ready", 40, size::table);
  if (rows.empty()) {
    flow.paragraph(fmt::format("{:.0f} squeeze tools, closed at the same time. No tools were given "
                               "to the plan: stops and pumps are not counted.",
                               *needed),
                   table_type);
    return;
  }
  flow.columns(2, 12, [&] {
    for (const Reply& row : rows)
      flow.block([&](const Box& at) {
        return draw_tick(flow.canvas(), at, kit_words(row), fine_type) - 1;
      });
  });
}

}  // namespace bellhole::sheets
