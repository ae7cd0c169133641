#include "sheets/run_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "sheets/amounts.hpp"
#include "sheets/map.hpp"
#include "sheets/parts.hpp"
#include "sheets/run_parts.hpp"
#include "sheets/squeeze_parts.hpp"

namespace bellhole::sheets {
namespace {

constexpr double least_map = 120, most_map = 400, gap = 6, post_row = 24;

/// Findings of the reply, of this plan and of its shut-offs, each once.
std::vector<Reply> findings_of(const RunJob& job) {
  std::vector<Reply> all;
  const auto add = [&](const std::vector<Reply>& findings) {
    for (const Reply& finding : findings) {
      const bool known = std::ranges::any_of(
          all, [&](const Reply& other) { return other.json() == finding.json(); });
      if (!known) all.push_back(finding);
    }
  };
  add(job.reply.list("findings"));
  add(job.plan.list("findings"));
  for (const Reply& shutoff : job.plan.list("shutoffs")) add(shutoff.list("findings"));
  return all;
}

/// Height of a block, without ink.
double measured(Flow& flow, const Draw& draw) {
  const Canvas::Dry dry(flow.canvas());
  return draw(flow.room());
}

void set_shutoffs(Flow& flow, const RunJob& job) {
  const auto all_shut = job.plan.number("time_to_stop_s");
  flow.heading(
      all_shut ? "Shut-offs, in this order: gas stopped " + lasting(all_shut) + " after the order"
               : std::string("Shut-offs, in this order"),
      50);
  for (const Reply& shutoff : job.plan.list("shutoffs"))
    flow.block([&](const Box& at) { return draw_shutoff(flow.canvas(), at, shutoff, job); });
}

/// The map takes what title, limits and shut-offs leave of the page, within reason.
void set_map(Flow& flow, const RunJob& job, std::size_t position) {
  Canvas& canvas = flow.canvas();
  double below = 24 + 2 * gap;
  for (const Reply& shutoff : job.plan.list("shutoffs"))
    below += measured(flow, [&](const Box& at) { return draw_shutoff(canvas, at, shutoff, job); });
  const double posts = static_cast<double>(job.plan.list("posts").size()) * post_row;
  const double legend = measured(flow, [&](const Box& at) {
    return draw_legend(canvas, at, {at.x, at.y, at.w, least_map}, job.reply, position);
  });
  double height = flow.room().h - below - legend - (posts > 0 ? posts + 24 : 0);
  height = std::clamp(height, least_map, most_map);
  flow.block([&](const Box& at) {
    MapOptions options{at.w, height, position, job.options.system};
    const Box map{at.x, at.y, at.w, height};
    draw_map(canvas, map, job.reply, options);
    return height + 1 +
           draw_legend(canvas, {at.x, at.y + height + 1, at.w, 0}, map, job.reply, position);
  });
}

void set_front(Flow& flow, const RunJob& job, std::size_t position) {
  Canvas& canvas = flow.canvas();
  flow.block([&](const Box& at) { return draw_title(canvas, at, job); });
  flow.space(3);
  flow.block([&](const Box& at) {
    return draw_verdict(canvas, at, job.reply.need_text("verdict"), findings_of(job),
                        emergency(job));
  });
  flow.space(gap);
  if (job.plan) {
    flow.block([&](const Box& at) { return draw_limits(canvas, at, job); });
    flow.space(gap);
  }
  set_map(flow, job, position);
  if (!job.plan) return;
  set_shutoffs(flow, job);
  flow.space(3);
  set_posts(flow, job);
}

/// What must be there before the first step: equipment looked for, kit, holes.
void set_ready(Flow& flow, const RunJob& job) {
  flow.block([&](const Box& at) { return draw_equipment(flow.canvas(), at, job); });
  flow.space(3);
  set_kit(flow, job);
  set_holes(flow, job);
}

void set_back(Flow& flow, const RunJob& job) {
  if (job.plan) {
    set_if_it_fails(flow, job);
    set_customers(flow, job);
  }
  set_findings(flow, job.reply.text("verdict"), findings_of(job),
               "Further findings, and who decides");
  set_plans(flow, job);
  flow.space(3);
  set_reasons(flow, job);
  flow.space(5);
  flow.columns(2, 16, [&] {
    set_lines(flow, "Taken for granted", job.reply.texts("assumed"));
    set_not_checked(flow, job);
  });
  flow.space(2);
  set_passed_over(flow, job);
  set_inputs(flow, job);
}

/// A squeeze sheet for each squeeze, each on a page of its own: that page goes to that hole.
void set_squeezes(Flow& flow, const Frame& frame, const RunJob& job) {
  const std::string id = job.reply.text("plan_id");
  for (const Reply& shutoff : job.plan.list("shutoffs")) {
    const Reply squeeze = shutoff.at("squeeze");
    if (!squeeze) continue;
    const std::string letter = shutoff.text("id");
    Frame own = frame;
    own.titled = true;
    own.head = "Bellhole · squeeze sheet " + letter + " · plan " + short_id(id);
    flow.new_page(own);
    const SqueezeContext context{letter, order_words(shutoff, job.options.system),
                                 "bellhole plan " + id + " " + letter, "plan " + short_id(id),
                                 emergency(job)};
    set_squeeze_sheet(flow, own, squeeze, context, job.options.system);
  }
}

}  // namespace

Result<std::string> run_sheet(const wire::Json& plan_reply, const Options& options,
                              std::size_t position) {
  Faults faults;
  const Reply reply(plan_reply, "", faults);
  const auto plans = reply.need_list("plans");
  if (faults.first()) return std::unexpected(*faults.first());
  if (!plans.empty() && position >= plans.size()) {
    return trouble(Code::contradiction, "plans",
                   fmt::format("plan {} of {}", position + 1, plans.size()),
                   "print a plan that is in the reply");
  }
  const Reply plan = plans.empty() ? reply.at("no plan") : plans[position];
  const RunJob job{reply, plan, options};
  const std::string id = short_id(reply.text("plan_id")), where = work_words(job);
  const Info info{"Run sheet: " + where, "Plan " + reply.text("plan_id"),
                  reply.at("conditions").text("asked_at")};
  const std::string check = "to check: ask again, the plan's id must be the same";
  auto bytes = set_on_paper(size_of(options.paper), info, [&](Canvas& canvas, std::size_t pages) {
    const Frame frame{
        size_of(options.paper),
        "Bellhole · run sheet · plan " + id,
        where,
        joined({reply.text("engine"), reply.at("conditions").text("asked_at"), check}, " · "),
        pages,
        true};
    Flow flow(canvas, frame);
    set_front(flow, job, position);
    if (job.plan) {
      if (!job.plan.list("steps").empty()) {
        if (flow.page() == 1) flow.new_page();
        set_steps_card(flow, job);
      }
      flow.space(gap);
      set_front_of_plans(flow, job);
      set_ready(flow, job);
      set_steps(flow, job);
      set_putback(flow, job);
    }
    set_back(flow, job);
    set_squeezes(flow, frame, job);
    return flow.close();
  });
  if (faults.first()) return std::unexpected(*faults.first());
  return bytes;
}

}  // namespace bellhole::sheets
