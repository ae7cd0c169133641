#include "sheets/form_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

#include "sheets/amounts.hpp"
#include "sheets/marks.hpp"
#include "sheets/parts.hpp"

namespace bellhole::sheets {
namespace {

double draw_title(Canvas& canvas, const Box& at, const FormTitle& title) {
  constexpr double code = 58;
  const double width = at.w - code - 10;
  const Text says = bold(title.says);
  double y = at.y - 3;
  const bool roomy = canvas.width(says, {size::title}) <= width;
  y += canvas.text({at.x, y}, width, says, {roomy ? size::title : size::subtitle});
  y += canvas.text({at.x, y}, width, "Procedure: " + title.procedure, fine_type);
  y = std::max(y + 3, at.y + 32);
  y += canvas.text({at.x, y}, width,
                   "Where ________________________  date ____________  job ____________  reply " +
                       short_id(title.hash),
                   fine_type);
  const Box corner{at.right() - code + 4, at.y - 9, code, code};
  qr(canvas, corner, "bellhole " + title.question + " " + title.hash);
  return std::max(y + 4, corner.bottom() - 2) - at.y;
}

}  // namespace

std::string keep_off_words(double metres, units::System system) {
  return units::print(Length::from_si(metres), system, units::Toward::up);
}

std::string form_pipe_words(const Reply& pipe) {
  std::string words = pipe.need_text("size");
  if (const auto ratio = pipe.number("ratio"))
    words += fmt::format("  {} {}", words.starts_with("dn") ? "SDR" : "DR", *ratio);
  const std::string material = pipe.text("material");
  return words + "  " + (material.empty() ? "material not known" : material);
}

double draw_pen_grid(Canvas& canvas, const Box& at, const std::vector<std::string>& labels,
                     std::size_t columns, double row) {
  constexpr double gutter = 7;
  const double n = static_cast<double>(columns), width = (at.w - gutter * (n - 1)) / n;
  for (std::size_t i = 0; i < labels.size(); ++i) {
    const double x = at.x + static_cast<double>(i % columns) * (width + gutter);
    write_line(canvas, {x, at.y + row * static_cast<double>(i / columns), width, row - 2},
               labels[i]);
  }
  return row * static_cast<double>((labels.size() + columns - 1) / columns);
}

double draw_form(Canvas& canvas, const Box& at, const Form& form) {
  constexpr double head_row = 13, row = 19;
  const double all = std::accumulate(form.shares.begin(), form.shares.end(), 0.0);
  const auto cells = [&](double y, double height, const std::vector<std::string>& texts,
                         bool heavy) {
    double x = at.x;
    for (std::size_t i = 0; i < form.shares.size(); ++i) {
      const double width = at.w * form.shares[i] / all;
      canvas.box({x, y, width, height}, Fill::none, {heavy ? 1.0 : 0.5});
      if (i < texts.size())
        canvas.text({x + 3, y + (height - 11) / 2}, width - 5,
                    heavy ? bold(texts[i]) : Text(texts[i]), fine_type);
      x += width;
    }
  };
  double y = at.y;
  cells(y, head_row, form.heads, true);
  y += head_row;
  for (const auto& texts : form.rows) {
    cells(y, row, texts, false);
    y += row;
  }
  for (std::size_t i = 0; i < form.empty_rows; ++i, y += row) cells(y, row, {}, false);
  return y - at.y;
}

void set_cautions(Flow& flow, const Reply& reply) {
  flow.columns(2, 14, [&] {
    for (const std::string& caution : reply.texts("cautions"))
      flow.block([&](const Box& at) {
        return draw_tick(flow.canvas(), at, paper_units(caution), {size::fine});
      });
  });
}

Result<std::string> form_sheet(const Reply& reply, const Options& options, const FormTitle& title,
                               const std::string& head, const std::function<void(Flow&)>& body) {
  const std::string id = "reply " + short_id(title.hash);
  return set_on_paper(
      size_of(options.paper), {title.says, "Reply " + title.hash, ""},
      [&](Canvas& canvas, std::size_t pages) {
        const Frame frame{
            size_of(options.paper),
            "Bellhole · " + head,
            id,
            reply.text("engine") + " · the procedure, the qualified people and the gauge decide",
            pages,
            true};
        Flow flow(canvas, frame);
        flow.block([&](const Box& at) { return draw_title(canvas, at, title); });
        flow.block([&](const Box& at) {
          return draw_verdict(canvas, at, reply.need_text("verdict"), reply.list("findings"),
                              false);
        });
        flow.space(5);
        body(flow);
        flow.space(4);
        flow.columns(2, 14, [&] {
          set_findings(flow, reply.text("verdict"), reply.list("findings"), "");
          set_run_on(flow, "Taken for granted", reply.texts("assumed"));
        });
        return flow.close();
      });
}

}  // namespace bellhole::sheets
