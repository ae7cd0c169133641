#include "sheets/rehearse_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "sheets/amounts.hpp"
#include "sheets/parts.hpp"
#include "sheets/rehearse_picture.hpp"

namespace bellhole::sheets {
namespace {

std::string title_of(const Reply& reply) {
  const Reply plan = reply.at("plan");
  return fmt::format("Rehearsal: plan {}, {}, from {}", short_id(plan.text("id")),
                     plan.text("kind"), reply.need("clock").text("starts"));
}

void set_head(Flow& flow, const Reply& reply) {
  flow.paragraph(bold(title_of(reply)), {size::title});
  flow.space(3);
  flow.block([&](const Box& at) {
    return draw_verdict(flow.canvas(), at, reply.need_text("verdict"), reply.list("findings"),
                        reply.at("plan").text("kind") == "emergency");
  });
  flow.space(4);
  flow.paragraph(bold(capital(reply.need_text("says")) + "."), body_type);
  if (const Reply start = reply.at("start_if"))
    flow.paragraph(bold(capital(paper_units(start.text("says"))) + "."), body_type);
}

/// Until when each closing can be undone.
void set_ways(Flow& flow, const Reply& reply) {
  const auto ways = reply.list("ways_back");
  if (ways.empty()) return;
  flow.heading("Going back, on the clock", 40);
  Table table{{{"after", 1},
               {"shut at", 1},
               {"to undo", 1.2},
               {"who falls short, and when", 2.6},
               {"begin to undo by", 1.6}},
              {}};
  for (const Reply& way : ways) {
    const bool shorts = way.number("short_s").has_value();
    const std::string who =
        shorts ? way.text("customer") + ", " + way.text("short_clock")
               : "nobody in " + lasting(way.number("looked_s")) + " if nobody goes on";
    const bool no_return = way.flag("no_return").value_or(false);
    table.rows.push_back(
        {way.text("shutoff"), way.text("shut_clock"),
         way.number("undo_s") ? lasting(way.number("undo_s")) : "not known: decide", who,
         no_return                     ? bold("POINT OF NO RETURN")
         : way.number("latest_undo_s") ? bold(way.text("latest_undo_clock"))
         : shorts                      ? Text("decide")
                                       : Text("–")});
  }
  flow.table(table);
}

std::string wrong_words(const Reply& wrong, units::System system) {
  const std::string kind = wrong.text("kind");
  const bool low = kind == "customer_short" || kind == "gauge_low";
  const std::string what = kind == "customer_short" ? "customer " + wrong.text("customer")
                           : kind == "over_maop"    ? "node " + wrong.text("node")
                                                    : "gauge " + wrong.text("gauge");
  const auto& amount = low ? amounts::lowest : amounts::highest;
  const auto& limit = low ? amounts::least_allowed : amounts::most_allowed;
  return fmt::format(
      "{} {} {}, limit {}, at the {} draw{}", what, low ? "down to" : "up to",
      print(amount, wrong.number("pressure_pa_gauge"), system),
      wrong.number("limit_pa_gauge") ? print(limit, wrong.number("limit_pa_gauge"), system)
                                     : std::string("not set: decide"),
      wrong.text("draw"), wrong.flag("at_once").value_or(false) ? "; out at once" : "");
}

void set_wrong(Flow& flow, const Reply& reply, units::System system) {
  const auto all = reply.list("wrong");
  if (all.empty()) return;
  constexpr std::size_t most = 24;
  flow.heading("Goes wrong", 40);
  Table table{{{"at", 0.8}, {"in step", 1.4}, {"what", 5}}, {}};
  for (std::size_t i = 0; i < std::min(all.size(), most); ++i)
    table.rows.push_back(
        {bold(all[i].text("at_clock")), all[i].text("step"), wrong_words(all[i], system)});
  flow.table(table);
  if (all.size() > most)
    flow.paragraph(fmt::format("And {} more, in the reply.", all.size() - most), fine_type);
}

void set_lost(Flow& flow, const Reply& reply, units::System system) {
  const Reply escape = reply.at("escape");
  if (!escape) return;
  flow.heading("Gas that leaves", 40);
  Table table{{{"shut so far", 1.4},
               {"until", 1},
               {"kg/s at the most", 1.2, Align::right},
               {"kg/s at the least", 1.2, Align::right},
               {"fed", 1}},
              {}};
  for (const Reply& stage : escape.list("stages"))
    table.rows.push_back({stage.text("after"),
                          stage.number("ends_s") ? lasting(stage.number("ends_s")) : "–",
                          fmt::format("{:.3f}", stage.number("kg_per_s").value_or(0)),
                          fmt::format("{:.3f}", stage.number("kg_per_s_low").value_or(0)),
                          stage.flag("fed").value_or(true) ? "yes" : "no"});
  flow.table(table);
  const Reply lost = escape.at("lost");
  if (lost)
    flow.paragraph("By the last closing " +
                       print(amounts::line_pack, lost.number("gas_std_m3"), system) +
                       " at the most. " + escape.text("caution"),
                   fine_type);
}

void set_panels(Flow& flow, const Reply& reply, units::System system) {
  const auto gauges = reply.list("gauges");
  if (gauges.empty()) return;
  const ClockAxis axis = clock_axis(reply);
  flow.heading("Each gauge through time", 110);
  flow.paragraph(
      "Line: expected draw. Hatched: from the high draw to the low draw; a needle in it is normal. "
      "Dashed: limits of the steps. Black wedge: beyond a limit. No curve: the part is vented.",
      fine_type);
  flow.space(2);
  for (std::size_t i = 0; i < gauges.size(); ++i) {
    flow.block([&](const Box& at) {
      double y = at.y;
      if (i == 0) y += draw_clock_marks(flow.canvas(), {at.x, y, at.w, 0}, axis);
      y += draw_gauge_panel(flow.canvas(), {at.x, y, at.w, 0}, gauges[i], reply, axis, system);
      y += draw_clock_scale(flow.canvas(), {at.x, y - 5, at.w, 0}, axis);
      return y - at.y;
    });
  }
}

/// The band of each gauge that a step reads, in figures.
std::string expected_words(const Reply& step, units::System system) {
  std::vector<std::string> words;
  for (const Reply& gauge : step.list("gauges")) {
    if (!gauge.number("expect_pa_gauge")) continue;
    words.push_back(
        fmt::format("{} {} ({} to {})", gauge.text("point"),
                    print(amounts::pressure, gauge.number("expect_pa_gauge"), system),
                    print(amounts::lowest, gauge.number("expect_least_pa_gauge"), system),
                    print(amounts::highest, gauge.number("expect_most_pa_gauge"), system)));
  }
  return joined(words, "; ");
}

void set_clock(Flow& flow, const Reply& reply, units::System system) {
  flow.heading("The steps on the clock, and what to expect at the gauge", 60);
  Table table{{{"from", 0.8}, {"to", 0.8}, {"step", 3.2}, {"expect at the gauge", 3.4}},
              {},
              fine_type,
              1.0};
  for (const Reply& step : reply.list("steps")) {
    Text does = step.text("does");
    if (step.flag("point_of_no_return").value_or(false)) does += bold(" NO WAY BACK.");
    if (step.flag("hold_point").value_or(false)) does += bold(" HOLD.");
    if (!step.flag("time_known").value_or(true)) does += " (no time set)";
    const bool moves = step.text("kind") == "shut" || step.text("kind") == "open" ||
                       step.text("kind") == "hold_watch";
    table.rows.push_back({step.text("begins_clock"), step.text("ends_clock"), does,
                          moves ? expected_words(step, system) : std::string()});
  }
  flow.table(table);
}

}  // namespace

Result<std::string> rehearse_sheet(const nlohmann::json& json, const Options& options) {
  Faults faults;
  const Reply reply(json, "", faults);
  const std::string plan = reply.at("plan").text("id"), title = title_of(reply);
  auto bytes = set_on_paper(
      size_of(options.paper), {title, "Plan " + plan, ""}, [&](Canvas& canvas, std::size_t pages) {
        const Frame frame{size_of(options.paper),
                          "Bellhole · rehearsal · plan " + short_id(plan),
                          reply.need("clock").text("starts"),
                          reply.text("engine") + " · computed, not measured: the gauge decides",
                          pages,
                          true};
        Flow flow(canvas, frame);
        set_head(flow, reply);
        set_ways(flow, reply);
        set_wrong(flow, reply, options.system);
        set_lost(flow, reply, options.system);
        set_panels(flow, reply, options.system);
        set_clock(flow, reply, options.system);
        flow.columns(2, 14, [&] {
          set_findings(flow, reply.text("verdict"), reply.list("findings"),
                       "Further findings, and who decides");
          set_lines(flow, "Taken for granted", reply.texts("assumed"));
        });
        return flow.close();
      });
  if (faults.first()) return std::unexpected(*faults.first());
  return bytes;
}

Result<std::string> rehearse_svg(const nlohmann::json& json, const Options& options) {
  Faults faults;
  const Reply reply(json, "", faults);
  const auto gauges = reply.list("gauges");
  const ClockAxis axis = clock_axis(reply);
  if (faults.first()) return std::unexpected(*faults.first());
  constexpr double width = 560, margin = 10;
  const auto draw = [&](Canvas& canvas) {
    Box at{margin, margin, width - 2 * margin, 0};
    at.y += canvas.text({at.x, at.y}, at.w, bold(title_of(reply)), body_type) + 4;
    at.y += draw_clock_marks(canvas, at, axis);
    for (const Reply& gauge : gauges)
      at.y += draw_gauge_panel(canvas, at, gauge, reply, axis, options.system);
    return at.y + draw_clock_scale(canvas, at, axis) + margin;
  };
  BELLHOLE_TRY(ruler, Canvas::svg({width, 1000}));
  double height = 0;
  {
    const Canvas::Dry dry(*ruler);
    height = draw(*ruler);
  }
  BELLHOLE_TRY(canvas, Canvas::svg({width, height}));
  draw(*canvas);
  if (faults.first()) return std::unexpected(*faults.first());
  return canvas->finish();
}

}  // namespace bellhole::sheets
