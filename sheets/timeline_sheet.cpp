#include "sheets/timeline_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "sheets/amounts.hpp"
#include "sheets/parts.hpp"
#include "sheets/timeline_chart.hpp"

namespace bellhole::sheets {
namespace {

std::string band_words(const Reply& band) {
  if (!band) return std::string(not_known);
  return lasting(band.number("expected_s")) + " (from " + lasting(band.number("shortest_s")) +
         " to " + lasting(band.number("longest_s")) + ")";
}

std::string hours_words(const Reply& hours, const char* end = "expected") {
  const auto value = hours.number(end);
  return value ? fmt::format("{:.0f}", std::ceil(*value)) : std::string(not_known);
}

std::string count_words(std::optional<double> count) {
  return count ? fmt::format("{:.0f}", *count) : std::string(not_known);
}

double draw_title(Canvas& canvas, const Box& at, const Reply& reply) {
  double y = at.y;
  y += canvas.text({at.x, y}, at.w, bold("Timeline of the job"), {size::title});
  y += canvas.text({at.x, y}, at.w, capital(reply.need_text("says")) + ".", {size::subtitle});
  return y - at.y;
}

/// Where a step up to the last closing has no time set, all that is known is that it takes longer.
std::string stopped_words(const Reply& of) {
  if (of.at("stopped") && !of.flag("stopped_known").value_or(true))
    return "longer than " + lasting(of.at("stopped").number("expected_s"));
  return band_words(of.at("stopped"));
}

double draw_numbers(Canvas& canvas, const Box& at, const Reply& reply) {
  const Reply hours = reply.at("customer_hours");
  return draw_facts(
      canvas, at,
      {{"Gas stopped", bold(stopped_words(reply))},
       {"Everybody back", bold(band_words(reply.at("restored")))},
       {"Job", band_words(reply.at("lasts"))},
       {"Customers out", count_words(reply.number("customers"))},
       {"Customer-hours", hours_words(hours) + ", up to " + hours_words(hours, "longest")},
       {"Crews, technicians",
        count_words(reply.number("crews")) + ", " + count_words(reply.number("technicians"))}},
      110);
}

std::string who(const Reply& step) {
  const auto crew = step.number("crew");
  return crew ? fmt::format("crew {:.0f}", *crew) : step.text("role");
}

/// Step numbers are those of the chart.
void set_steps(Flow& flow, const Reply& reply) {
  flow.heading("Every step: when it begins and ends after the order", 60);
  Table table;
  table.columns = {{"", 0.35, Align::right},
                   {"", 0.45},
                   {"Step", 3.2},
                   {"Who", 1.1},
                   {"Begins", 0.9, Align::right},
                   {"Ends", 0.9, Align::right},
                   {"At latest", 0.9, Align::right}};
  table.type = fine_type;
  std::size_t number = 0;
  for (const Reply& step : reply.need_list("steps")) {
    const bool critical = step.flag("critical").value_or(false);
    const std::string signs =
        std::string(critical ? "■" : "") + (step.flag("hold_point").value_or(false) ? "◇" : "");
    const std::string does = step.text("does").empty() ? step.need_text("id") : step.text("does");
    const bool known = step.flag("known").value_or(true);
    table.rows.push_back({fmt::format("{}", ++number), signs,
                          known ? Text(does) : does + bold(" No time set."), who(step),
                          lasting(step.at("begins").number("expected_s")),
                          lasting(step.at("ends").number("expected_s")),
                          lasting(step.at("ends").number("longest_s"))});
  }
  flow.table(table);
  flow.paragraph("■ the job is as long as it is because of these; ◇ hold point.", fine_type);
}

void set_outages(Flow& flow, const Reply& reply) {
  const auto outages = reply.list("outages");
  if (outages.empty()) return;
  flow.heading("Who is out, from when to when", 60);
  Table table;
  table.columns = {{"Customer", 1.1},
                   {"Street", 1.6},
                   {"Out at", 1, Align::right},
                   {"Back at", 1, Align::right},
                   {"Out, at longest", 1.2, Align::right}};
  table.type = fine_type;
  for (const Reply& outage : outages) {
    Text id = bold(outage.need_text("id"));
    if (outage.flag("must_not_lose").value_or(false)) id += bold(" MUST NOT LOSE GAS");
    table.rows.push_back({id, outage.text("street"), lasting(outage.number("lost_s")),
                          lasting(outage.number("back_s")),
                          lasting(outage.at("lasts").number("longest_s"))});
  }
  flow.table(table);
}

void set_plans(Flow& flow, const Reply& reply) {
  const auto plans = reply.list("plans");
  if (plans.size() < 2) return;
  flow.heading("All plans of the reply, by the times of their steps", 60);
  Table table;
  table.columns = {{"Plan", 0.6},
                   {"By real times", 1},
                   {"Gas stopped", 1, Align::right},
                   {"Job", 1, Align::right},
                   {"Customers", 0.9, Align::right},
                   {"Customer-hours", 1.2, Align::right}};
  table.type = fine_type;
  for (const Reply& plan : plans)
    table.rows.push_back(
        {bold(count_words(plan.number("rank"))), count_words(plan.number("real_rank")),
         (plan.flag("stopped_known").value_or(true) ? "" : "over ") +
             lasting(plan.at("stopped").number("expected_s")),
         lasting(plan.at("lasts").number("expected_s")), count_words(plan.number("customers")),
         hours_words(plan.at("customer_hours"))});
  flow.table(table);
}

std::size_t compose(Canvas& canvas, std::size_t pages, const Reply& reply, const Options& options) {
  const std::string id = short_id(reply.at("plan").text("plan_id"));
  const Frame frame{size_of(options.paper),
                    "Bellhole · timeline · plan " + id,
                    "plan " + count_words(reply.at("plan").number("rank")),
                    reply.text("engine"),
                    pages,
                    true};
  Flow flow(canvas, frame);
  flow.block([&](const Box& at) { return draw_title(canvas, at, reply); });
  flow.space(4);
  flow.block([&](const Box& at) {
    return draw_verdict(canvas, at, reply.need_text("verdict"), reply.list("findings"),
                        reply.text("kind") == "emergency");
  });
  flow.space(6);
  flow.block([&](const Box& at) { return draw_numbers(canvas, at, reply); });
  flow.space(6);
  flow.block([&](const Box& at) { return draw_timeline(canvas, at, reply); });
  std::vector<std::string> savings;
  for (const Reply& saving : reply.list("savings")) savings.push_back(saving.need_text("says"));
  set_lines(flow, "What would save time", savings);
  set_plans(flow, reply);
  set_steps(flow, reply);
  set_outages(flow, reply);
  set_findings(flow, reply.text("verdict"), reply.list("findings"),
               "Further findings, and who decides");
  set_lines(flow, "Taken for granted", reply.texts("assumed"));
  return flow.close();
}

}  // namespace

Result<std::string> timeline_sheet(const wire::Json& json, const Options& options) {
  Faults faults;
  const Reply reply(json, "", faults);
  const Info info{"Timeline", "Plan " + reply.at("plan").text("plan_id"), ""};
  auto bytes = set_on_paper(size_of(options.paper), info, [&](Canvas& canvas, std::size_t pages) {
    return compose(canvas, pages, reply, options);
  });
  if (faults.first()) return std::unexpected(*faults.first());
  return bytes;
}

Result<std::string> timeline_svg(const wire::Json& json) {
  Faults faults;
  const Reply reply(json, "", faults);
  constexpr double width = 800, margin = 8;
  double height = 0;
  {
    BELLHOLE_TRY(measure, Canvas::svg({width, width}));
    const Canvas::Dry dry(*measure);
    height = draw_timeline(*measure, {margin, margin, width - 2 * margin, 0}, reply);
  }
  BELLHOLE_TRY(canvas, Canvas::svg({width, height + 2 * margin}));
  draw_timeline(*canvas, {margin, margin, width - 2 * margin, 0}, reply);
  if (faults.first()) return std::unexpected(*faults.first());
  return canvas->finish();
}

}  // namespace bellhole::sheets
