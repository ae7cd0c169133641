#include "sheets/squeeze_sheet.hpp"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "sheets/parts.hpp"
#include "sheets/squeeze_parts.hpp"

namespace bellhole::sheets {
namespace {

constexpr std::array densities{Density{},
                               Density{.prompt_size = 10},
                               Density{.prompt_size = 9},
                               Density{.prompt_size = 9, .fact_grid = false, .pen_row = 21},
                               Density{.prompt_size = 9,
                                       .fact_grid = false,
                                       .pen_row = 20,
                                       .pen_columns = 7,
                                       .gap = 0.5,
                                       .verdict_size = size::table},
                               Density{.prompt_size = 9,
                                       .prompt_columns = 3,
                                       .fact_grid = false,
                                       .pen_row = 20,
                                       .pen_columns = 7,
                                       .gap = 0.5,
                                       .verdict_size = size::table},
                               Density{.prompt_size = 9,
                                       .prompt_columns = 2,
                                       .fact_grid = false,
                                       .pen_row = 20,
                                       .pen_columns = 7,
                                       .gap = 0.4,
                                       .verdict_size = size::table,
                                       .by_stage = true}};

void set_body(Flow& flow, const Reply& reply, const SqueezeContext& context, const Density& density,
              units::System system) {
  Canvas& canvas = flow.canvas();
  flow.block([&](const Box& at) { return draw_squeeze_title(canvas, at, reply, context); });
  flow.block([&](const Box& at) {
    return draw_verdict(canvas, at, reply.need_text("verdict"), reply.list("findings"),
                        context.emergency, density.verdict_size);
  });
  flow.space(5 * density.gap);
  flow.block([&](const Box& at) {
    const double left = at.w * 0.46, gutter = 12;
    const double stop = draw_stop(canvas, {at.x, at.y, left, 0}, reply, system);
    const Box right{at.x + left + gutter, at.y, at.w - left - gutter, 0};
    return std::max(stop, draw_wall_compression(canvas, right, reply, system));
  });
  flow.space(3 * density.gap);
  flow.block([&](const Box& at) { return draw_squeeze_facts(canvas, at, reply, density, system); });
  flow.space(3 * density.gap);
  flow.block([&](const Box& at) { return draw_pace(canvas, at, reply, system); });
  if (reply.at("pump")) {
    flow.space(3 * density.gap);
    flow.block([&](const Box& at) { return draw_pump(canvas, at, reply, system); });
  }
  flow.space(4 * density.gap);
  flow.block([&](const Box& at) { return draw_places(canvas, at, reply, system); });
  flow.space(4 * density.gap);
  flow.block([&](const Box& at) { return draw_prompts(canvas, at, reply, density); });
  flow.space(1 * density.gap);
  flow.block([&](const Box& at) { return draw_measured(canvas, at, reply, density); });
  flow.space(3 * density.gap);
  flow.columns(2, 14, [&] {
    set_findings(flow, reply.text("verdict"), reply.list("findings"), "");
    set_run_on(flow, "Taken for granted", reply.texts("assumed"));
  });
}

}  // namespace

void set_squeeze_sheet(Flow& flow, const Frame& frame, const Reply& reply,
                       const SqueezeContext& context, units::System system) {
  const auto fits = [&](const Density& density) {
    const Canvas::Dry dry(flow.canvas());
    Flow trial(flow.canvas(), frame);
    set_body(trial, reply, context, density, system);
    return trial.page() == 1;
  };
  const auto found = std::ranges::find_if(densities, fits);
  // Where even the tightest needs a second page, the middle one leaves the first page easier to
  // read.
  set_body(flow, reply, context, found == densities.end() ? densities[1] : *found, system);
}

Result<std::string> squeeze_sheet(const wire::Json& json, const Options& options) {
  Faults faults;
  const Reply reply(json, "", faults);
  const std::string hash = wire::sha256(wire::canonical(json));
  const SqueezeContext context{"", "", "bellhole squeeze " + hash, "reply " + short_id(hash),
                               false};
  const std::string title = "Squeeze sheet: " + reply.at("pipe").text("size");
  auto bytes = set_on_paper(
      size_of(options.paper), {title, "Reply " + hash, ""}, [&](Canvas& canvas, std::size_t pages) {
        const Frame frame{
            size_of(options.paper),
            "Bellhole · squeeze sheet",
            "reply " + short_id(hash),
            reply.text("engine") + " · the pipe found, the qualified people and the gauge decide",
            pages,
            true};
        Flow flow(canvas, frame);
        set_squeeze_sheet(flow, frame, reply, context, options.system);
        return flow.close();
      });
  if (faults.first()) return std::unexpected(*faults.first());
  return bytes;
}

}  // namespace bellhole::sheets
