// The steps of a run sheet: one block a step, to be read aloud, ticked and timed.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <nlohmann/json.hpp>

#include "sheets/amounts.hpp"
#include "sheets/parts.hpp"
#include "sheets/run_parts.hpp"

namespace bellhole::sheets {
namespace {

/// Steps printed as one block: posts that are manned, or stood down, one after the other.
struct Group {
  std::size_t first = 0;  ///< number of its first step, from 1
  std::vector<Reply> steps;
};

bool goes_together(const Reply& a, const Reply& b) {
  const std::string kind = a.text("kind");
  return kind == b.text("kind") && (kind == "post" || kind == "stand_down") &&
         a.text("if_not") == b.text("if_not") && a.text("report_to") == b.text("report_to");
}

std::vector<Group> grouped(const std::vector<Reply>& steps) {
  std::vector<Group> groups;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (!groups.empty() && goes_together(groups.back().steps.front(), steps[i]))
      groups.back().steps.push_back(steps[i]);
    else
      groups.push_back({i + 1, {steps[i]}});
  }
  return groups;
}

std::string number_of(const Group& group) {
  if (group.steps.size() == 1) return std::to_string(group.first);
  return fmt::format("{}–{}", group.first, group.first + group.steps.size() - 1);
}

std::string does_of(const Group& group) {
  if (group.steps.size() == 1) return group.steps.front().text("does");
  std::vector<std::string> posts;
  for (const Reply& step : group.steps) posts.push_back(step.at("post").text("id"));
  return group.steps.front().text("kind") == "post"
             ? "Man posts " + listed(posts) + ", as listed on the first page. Each answers."
             : "Stand down posts " + listed(posts) + ", one by one.";
}

/// Who does it, where, whom to tell, what must be true, what to do if it does not come out.
Text words_of(const Group& group) {
  const Reply& step = group.steps.front();
  const Reply post = step.at("post");
  const std::string about = step.text("about"), place = post.text("place");
  // At a shut-off its letter says where: the place stands on the first page.
  const bool by_letter = !about.empty() && place.starts_with(about + ",");
  const std::string where = by_letter             ? " at " + about
                            : place == "the work" ? " at the work"
                            : place.empty()       ? ""
                                                  : ", " + place;
  Text text;
  if (step.flag("point_of_no_return").value_or(false)) text += bold("POINT OF NO RETURN. ");
  if (step.flag("hold_point").value_or(false)) text += bold("HOLD. ");
  const std::string who = group.steps.size() > 1 ? "" : post.text("role") + where;
  text += capital(joined({who, "tell " + step.text("report_to")}, "; ")) + ". ";
  if (const std::string before = step.text("precondition"); !before.empty())
    text += bold("Before: ") + before + " ";
  return text + bold("If not: ") + step.text("if_not");
}

/// Times that a person weighs before going on; nothing where the step has none.
Text times_of(const Reply& step) {
  const auto undo = step.number("undo_s");
  if (undo.value_or(0) <= 0 && !step.has("time_left_s")) return {};
  return bold("To undo: ") + lasting(undo) + bold("; the gas lasts: ") +
         lasting_down(step.number("time_left_s")) + ".";
}

// Gauges.

struct Cells {
  std::string low, expect, high, unit;
  std::string normal;  ///< "36.9 to 38.2", from the high to the low draw; empty where it is one
  bool operator==(const Cells&) const = default;
};

/// What was printed last: a step shows the gauges that are to read differently now, and its times
/// where they changed.
struct Printed {
  std::map<std::string, Cells> gauges;
  std::string times;
};

/// One unit for the three, that of the greatest: a gauge has one scale.
Cells cells_of(const Reply& gauge, units::System system) {
  const auto low = gauge.number("low_pa_gauge"), expect = gauge.number("expect_pa_gauge"),
             high = gauge.number("high_pa_gauge");
  const double most = std::max({low.value_or(0), expect.value_or(0), high.value_or(0)});
  const std::string unit = scale_unit(most, system);
  const auto number = [&](std::optional<double> value, units::Toward toward) {
    return gauge_reading(value, unit, toward);
  };
  const auto least = gauge.number("expect_least_pa_gauge"),
             highest = gauge.number("expect_most_pa_gauge");
  std::string normal;
  if (least && highest) {
    const std::string from = number(least, units::Toward::down),
                      to = number(highest, units::Toward::up);
    if (from != to) normal = from + " to " + to;
  }
  return {low ? number(low, units::Toward::up) : "decide",
          expect ? number(expect, units::Toward::nearest) : "–",
          high ? number(high, units::Toward::down) : "decide", paper_units(unit), normal};
}

struct Changed {
  std::string at;
  Cells cells;
};

std::vector<Changed> changed(const Reply& step, Printed& printed, units::System system) {
  std::vector<Changed> list;
  for (const Reply& gauge : step.list("gauges")) {
    const Cells cells = cells_of(gauge, system);
    Cells& last = printed.gauges[gauge.text("point")];
    if (last == cells) continue;
    last = cells;
    list.push_back({gauge.text("at"), cells});
  }
  return list;
}

constexpr double cell = 35, read = 36, indent = tick_side + 6;

/// Four cells at the right of a row; the last is to write in.
double draw_row(Canvas& canvas, const Box& at, const Text& says, const std::array<Text, 4>& cells,
                bool boxed) {
  const double name = at.w - 3 * cell - read;
  const double height = std::max(canvas.height(name - 3, says, fine_type) + 2, boxed ? 15.0 : 11.0);
  canvas.text({at.x, at.y + (boxed ? 1.5 : 0)}, name - 3, says, fine_type);
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const bool last = i + 1 == cells.size();
    const Box box{at.x + name + static_cast<double>(i) * cell, at.y, last ? read : cell, height};
    if (boxed) canvas.box(box, Fill::none, {last ? 1.1 : 0.5});
    canvas.text({box.x + 1, at.y + (boxed ? 2 : 0)}, box.w - 2, cells[i],
                {size::fine, Align::centre});
  }
  return height;
}

/// "gauges, psig"; without a unit where the gauges have several.
std::string gauges_head(const std::vector<Changed>& gauges, bool all) {
  const bool alike = std::ranges::all_of(
      gauges, [&](const Changed& gauge) { return gauge.cells.unit == gauges.front().cells.unit; });
  return (all ? "expect at the gauge" : "expect; others as before") +
         (alike ? ", " + gauges.front().cells.unit : "");
}

double draw_gauges_head(Canvas& canvas, const Box& at, const std::vector<Changed>& gauges,
                        bool all) {
  return draw_row(canvas, at, gauges_head(gauges, all), {"low", "expect", "high", "read"}, false);
}

double draw_gauge(Canvas& canvas, const Box& at, const Changed& gauge, bool with_unit) {
  const std::string normal = gauge.cells.normal.empty() ? "" : "; normal: " + gauge.cells.normal;
  return draw_row(canvas, at, gauge.at + (with_unit ? ", " + gauge.cells.unit : "") + normal,
                  {gauge.cells.low, bold(gauge.cells.expect), gauge.cells.high, ""}, true);
}

double draw_head(Canvas& canvas, const Box& at, const Group& group, const Text& times) {
  constexpr double time = 44;
  const Reply& step = group.steps.front();
  const double x = at.x + tick_side + 6, width = at.right() - x;
  double y = at.y + 2;
  tick_box(canvas, {at.x, y});
  write_line(canvas, {at.right() - time, y - 1, time, 19}, "time");
  const Text head = bold(number_of(group) + "  " + does_of(group));
  y += std::max(canvas.text({x, y}, width - time - 5, head, table_type), 19.0);
  y += canvas.text({x, y}, width, words_of(group), fine_type);
  for (const std::string& line : step.texts("numbers"))
    y += canvas.text({x, y}, width, bold(paper_units(line)), fine_type);
  if (!times.empty()) y += canvas.text({x, y}, width, times, fine_type);
  for (const Reply& row : step.list("tool_rows"))
    y += canvas.text({x, y}, width, "– tool " + row.text("tool") + ": " + row.text("says"),
                     fine_type);
  return y + 1 - at.y;
}

/// Lines to sign on, and the rule under the step: heavy where nobody goes on without an answer.
double draw_end(Canvas& canvas, const Box& at, const Reply& step) {
  constexpr int most = 4;
  const int names =
      static_cast<int>(std::clamp(step.number("names_needed").value_or(0), 0.0, double{most}));
  double y = at.y;
  if (names > 0) {
    constexpr double gutter = 8, row = 16;
    const double width = (at.w - indent - gutter * (names - 1)) / names;
    const double label = canvas.width("name", fine_type) + 4;
    for (int i = 0; i < names; ++i) {
      const double x = at.x + indent + i * (width + gutter);
      canvas.text({x, y + row - 11}, label, "name", fine_type);
      canvas.line({x + label, y + row}, {x + width, y + row}, {0.7});
    }
    y += row;
  }
  const bool heavy =
      step.flag("hold_point").value_or(false) || step.flag("point_of_no_return").value_or(false);
  canvas.line({at.x, y + 3}, {at.right(), y + 3}, {heavy ? 1.8 : 0.4});
  return y + 4 - at.y;
}

/// How long the gauge is watched before its needle means anything, and what it may mean then: the
/// sentence names the question and what may not be concluded.
Text watch_words(const Reply& watch, units::System system) {
  const auto least = watch.number("least_s");
  const std::string verdict = watch.text("says");
  Text says = bold(least             ? "WATCH at least " + lasting(least) + ". "
                   : verdict.empty() ? "WATCH, how long is not known: decide. "
                                     : std::string("WATCH. "));
  says += verdict.empty() ? capital(watch.text("asks_in_words")) : capital(paper_units(verdict));
  const auto draw = watch.numbers("draw_std_m3_per_s");
  if (draw.size() == 2 && draw[1] > 0)
    says += " The part draws " + bare(amounts::draw_low, draw[0], system) + " to " +
            print(amounts::draw_high, draw[1], system) + "; the low draw sets the watch.";
  if (const auto left = watch.number("time_left_s"))
    says += bold(" Unfed, at the high draw, its gas lasts " + lasting_down(left) + ".");
  return says;
}

double draw_watch(Canvas& canvas, const Box& at, const Reply& watch, units::System system) {
  constexpr double pad = 3, row = 19;
  double y = at.y + pad;
  y += canvas.text({at.x + pad, y}, at.w - 2 * pad, watch_words(watch, system), fine_type);
  const double third = (at.w - 2 * pad) / 3;
  double x = at.x + pad;
  for (const char* what : {"from", "to", "held: name"}) {
    write_line(canvas, {x, y, third - 6, row}, what);
    x += third;
  }
  y += row + pad;
  canvas.box({at.x, at.y, at.w, y - at.y}, Fill::none, {1.2});
  return y + 2 - at.y;
}

Box inside(const Box& at) { return {at.x + indent, at.y, at.w - indent, 0}; }

/// A step is one block, unless its gauges are many: then they may run on in the next column.
void set_step(Flow& flow, const Group& group, Printed& printed, units::System system) {
  constexpr std::size_t many = 6;
  const Reply& step = group.steps.front();
  const auto gauges = changed(step, printed, system);
  const bool all = gauges.size() == step.list("gauges").size();
  const bool units = !gauges.empty() && !gauges_head(gauges, all).contains(',');
  Text times = times_of(step);
  if (times.plain() == printed.times)
    times = {};
  else
    printed.times = times.plain();
  Canvas& canvas = flow.canvas();
  const auto rows = [&](Box at, std::size_t from, std::size_t to) {
    const double top = at.y;
    if (from == 0 && !gauges.empty()) at.y += draw_gauges_head(canvas, inside(at), gauges, all);
    for (std::size_t i = from; i < to; ++i)
      at.y += draw_gauge(canvas, inside(at), gauges[i], units);
    if (gauges.empty() && !step.list("gauges").empty())
      at.y += canvas.text({at.x + indent, at.y}, at.w - indent, "Gauges: as before.", fine_type);
    if (to == gauges.size()) {
      if (const Reply watch = step.at("watch"))
        at.y += draw_watch(canvas, inside(at), watch, system);
      at.y += draw_end(canvas, at, step);
    }
    return at.y - top;
  };
  const std::size_t first = gauges.size() <= many ? gauges.size() : 2;
  flow.block([&](const Box& at) {
    const double head = draw_head(canvas, at, group, times);
    return head + rows({at.x, at.y + head, at.w, 0}, 0, first);
  });
  // The last two stay together, with the lines to sign.
  for (std::size_t i = first; i < gauges.size();) {
    const std::size_t next = i + 2 >= gauges.size() ? gauges.size() : i + 1;
    flow.block([&](const Box& at) { return rows(at, i, next); });
    i = next;
  }
}

}  // namespace

void set_steps_card(Flow& flow, const RunJob& job) {
  const auto steps = job.plan.list("steps");
  if (steps.empty()) return;
  Canvas& canvas = flow.canvas();
  flow.heading("The job on one side: read aloud, do, tick", 80);
  flow.paragraph(
      "Limits, posts and places stand overleaf; what each step asks before it, and what to do if "
      "it "
      "does not come out, further on under the same number. HOLD: nobody goes on before a person "
      "answers for it, there, by name.",
      fine_type);
  flow.space(2);
  flow.columns(2, 12, [&] {
    for (const Group& group : grouped(steps)) {
      const Reply& step = group.steps.front();
      Text says = bold(number_of(group)) + "  " + does_of(group);
      if (step.flag("point_of_no_return").value_or(false)) says += bold(" NO WAY BACK.");
      if (step.flag("hold_point").value_or(false)) says += bold(" HOLD.");
      flow.block([&](const Box& at) {
        return draw_tick(canvas, {at.x, at.y, at.w, 0}, says, fine_type) - 2.5;
      });
    }
  });
}

void set_steps(Flow& flow, const RunJob& job) {
  const auto steps = job.plan.list("steps");
  if (steps.empty()) return;
  const Reply order = job.plan.at("order");
  flow.heading("Steps: read one aloud, do it, tick it, write the time", 260);
  std::string about;
  for (const char* key : {"title", "because"}) {
    const std::string says = order.text(key);
    if (!says.empty()) about += says + (says.ends_with('.') ? " " : ". ");
  }
  flow.paragraph(about +
                     "Gauges and times are shown where they differ from before; “–” is not "
                     "known, “decide” is no limit set. A heavy line: nobody goes on before a "
                     "person answers for it.",
                 fine_type);
  flow.space(3);
  flow.columns(2, 14, [&] {
    Printed printed;
    for (const Group& group : grouped(steps)) set_step(flow, group, printed, job.options.system);
  });
}

}  // namespace bellhole::sheets
