#include "sheets/flow.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

namespace bellhole::sheets {
namespace {

constexpr double side = 32, top_margin = 19, bottom_margin = 18, head_height = 17, foot_height = 15;
constexpr double gutter_of_cells = 7;

/// Equal length, with room for what cannot be split at the cut; the last column may run to the
/// foot.
double equal_length(double most, double share) { return std::min(most, share + 24); }

/// A heavy rule with a bold line under it; answers the height.
double draw_heading(Canvas& canvas, const Box& at, const std::string& says, double type_size) {
  canvas.line({at.x, at.y + 0.8}, {at.right(), at.y + 0.8}, {1.6});
  return 3.5 + canvas.text({at.x, at.y + 3.5}, at.w, bold(says), {type_size}) + 2;
}

}  // namespace

PaperSize size_of(Paper paper) {
  // ISO 216 A4, 210 by 297 mm; US letter, 8.5 by 11 in.
  return paper == Paper::a4 ? PaperSize{210 * points_per_mm, 297 * points_per_mm}
                            : PaperSize{8.5 * 72, 11 * 72};
}

Flow::Flow(Canvas& canvas, Frame frame) : canvas_(canvas), frame_(std::move(frame)) {
  begin_page();
}

void Flow::begin_page() {
  ++page_;
  const PaperSize paper = frame_.paper;
  const double width = paper.w - 2 * side;
  const bool titled = frame_.titled && first_of_frame_;
  first_of_frame_ = false;
  if (!titled) {
    const double right = canvas_.width(frame_.head_right, fine_type);
    canvas_.text({side, top_margin}, width - right - 8, bold(frame_.head), {size::table});
    canvas_.text({paper.w - side - right, top_margin + 1}, right + 1, frame_.head_right, fine_type);
  }
  const double top = top_margin + (titled ? 0 : head_height);
  page_area_ = {side, top, width, paper.h - top - bottom_margin - foot_height};
  spot_ = {{page_area_}, 0, page_area_, page_area_.y, page_area_.y};
}

void Flow::end_page() {
  const PaperSize paper = frame_.paper;
  const double y = paper.h - bottom_margin - 11;
  const std::string count = fmt::format("page {} of {}", page_, frame_.pages);
  const double right = canvas_.width(bold(count), fine_type);
  canvas_.line({side, y - 2}, {paper.w - side, y - 2}, {0.5});
  canvas_.text({side, y}, paper.w - 2 * side - right - 10, frame_.foot, fine_type);
  canvas_.text({paper.w - side - right, y}, right + 1, bold(count), fine_type);
  canvas_.end_page();
}

std::size_t Flow::close() {
  end_page();
  return page_;
}

void Flow::new_page() {
  end_page();
  begin_page();
}

void Flow::new_page(Frame frame) {
  end_page();
  frame_ = std::move(frame);
  first_of_frame_ = true;
  begin_page();
}

void Flow::next() {
  const double left = spot_.left - (spot_.y - spot_.top);
  spot_.left = left;
  if (spot_.at + 1 < spot_.columns.size()) {
    spot_.column = spot_.columns[++spot_.at];
    spot_.y = spot_.top = spot_.column.y;
    return;
  }
  std::vector<Box> again = spot_.columns;
  new_page();
  const double equal = equal_length(page_area_.h, left / static_cast<double>(again.size()));
  for (std::size_t i = 0; i < again.size(); ++i) {
    const bool balanced = again.size() > 1 && i + 1 < again.size();
    again[i] = {again[i].x, page_area_.y, again[i].w, balanced ? equal : page_area_.h};
  }
  spot_.columns = std::move(again);
  spot_.left = left;
  spot_.column = spot_.columns.front();
}

void Flow::keep(double points) {
  if (spot_.column.bottom() - spot_.y < points && spot_.y > spot_.top) next();
}

void Flow::block(const Draw& draw) {
  double height = 0;
  {
    const Canvas::Dry dry(canvas_);
    height = draw(room());
  }
  keep(height);
  spot_.y += draw(room());
}

void Flow::paragraph(const Text& text, Type type, double indent, const Draw& mark) {
  // A few lines stay together; a long text may be cut anywhere between two.
  const double whole = canvas_.height(spot_.column.w - indent, text, type);
  if (whole < 4.5 * 1.17 * type.size) keep(whole);
  Text rest = text;
  bool first = true;
  while (!rest.empty()) {
    const auto [head, tail] =
        canvas_.split(spot_.column.w - indent, rest, type, spot_.column.bottom() - spot_.y);
    if (head.empty() && spot_.y > spot_.top) {
      next();
      continue;
    }
    // A column too low for one line still takes the whole text rather than none: it cannot happen
    // on the papers that exist.
    const Text& now = head.empty() ? rest : head;
    if (first && mark) mark({spot_.column.x, spot_.y, indent, type.size * 1.2});
    spot_.y += canvas_.text({spot_.column.x + indent, spot_.y}, spot_.column.w - indent, now, type);
    if (head.empty()) return;
    first = false;
    rest = tail;
    if (!rest.empty()) next();
  }
}

void Flow::heading(const std::string& says, double follows, double type_size) {
  keep(20 + follows);
  if (spot_.y > spot_.top) spot_.y += 5;
  spot_.y += draw_heading(canvas_, room(), says, type_size);
}

double Flow::row_height(const std::vector<double>& widths, const Table& table,
                        const std::vector<Text>& cells) const {
  double tallest = 0;
  for (std::size_t i = 0; i < cells.size(); ++i)
    tallest = std::max(tallest, canvas_.height(widths[i] - gutter_of_cells, cells[i], table.type));
  return tallest + 2 * table.pad;
}

void Flow::table_row(const std::vector<double>& widths, const Table& table, std::vector<Text> cells,
                     double height) {
  const bool tall = height > spot_.column.bottom() - spot_.y;
  std::vector<Text> tails(cells.size());
  if (tall) {
    for (std::size_t i = 0; i < cells.size(); ++i) {
      std::tie(cells[i], tails[i]) =
          canvas_.split(widths[i] - gutter_of_cells, cells[i], table.type,
                        spot_.column.bottom() - spot_.y - 2 * table.pad);
    }
  }
  double x = spot_.column.x;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const Type type{table.type.size, table.columns[i].align};
    canvas_.text({x, spot_.y + table.pad}, widths[i] - gutter_of_cells, cells[i], type);
    x += widths[i];
  }
  spot_.y += tall ? spot_.column.bottom() - spot_.y : height;
  canvas_.line({spot_.column.x, spot_.y}, {spot_.column.right(), spot_.y}, {0.4});
  if (std::ranges::all_of(tails, &Text::empty)) return;
  next();
  table_head(widths, table);
  const double rest = row_height(widths, table, tails);
  table_row(widths, table, std::move(tails), rest);
}

void Flow::table_head(const std::vector<double>& widths, const Table& table) {
  if (std::ranges::all_of(table.columns, [](const auto& column) { return column.head.empty(); }))
    return;
  std::vector<Text> heads;
  for (const TableColumn& column : table.columns) heads.push_back(bold(column.head));
  const Table fine{table.columns, {}, fine_type, 1.5};
  const double height = row_height(widths, fine, heads);
  double x = spot_.column.x;
  for (std::size_t i = 0; i < heads.size(); ++i) {
    const Type type{size::fine, table.columns[i].align};
    const double tall = canvas_.height(widths[i] - gutter_of_cells, heads[i], type);
    canvas_.text({x, spot_.y + height - 1.5 - tall}, widths[i] - gutter_of_cells, heads[i], type);
    x += widths[i];
  }
  spot_.y += height;
  canvas_.line({spot_.column.x, spot_.y}, {spot_.column.right(), spot_.y}, {0.9});
}

void Flow::table(const Table& table) {
  const double shares =
      std::transform_reduce(table.columns.begin(), table.columns.end(), 0.0, std::plus<>(),
                            [](const TableColumn& column) { return column.share; });
  std::vector<double> widths;
  for (const TableColumn& column : table.columns)
    widths.push_back(spot_.column.w * column.share / shares);
  bool first = true;
  for (const auto& row : table.rows) {
    const double height = row_height(widths, table, row);
    const bool whole = height <= page_area_.h - 30;
    if (whole && spot_.column.bottom() - spot_.y < height + (first ? 20 : 0) &&
        spot_.y > spot_.top) {
      next();
      first = true;
    }
    if (first) table_head(widths, table);
    first = false;
    table_row(widths, table, row, height);
  }
}

void Flow::columns(std::size_t n, double gutter, const std::function<void()>& fill) {
  const double share = 1.0 / static_cast<double>(n);
  const double width = (spot_.column.w - gutter * static_cast<double>(n - 1)) * share;
  const double length = length_of(width, fill);
  if (length <= 0) return;
  // A strip at the foot that is too low for its share, and for a few lines, is left white.
  constexpr double few_lines = 40;
  if (room().h < std::min(length * share + 1, few_lines)) next();
  const Box area = room();
  const double equal = equal_length(area.h, length * share);
  spot_ = {};
  spot_.left = length;
  for (std::size_t i = 0; i < n; ++i) {
    const double x = area.x + static_cast<double>(i) * (width + gutter);
    spot_.columns.push_back({x, area.y, width, i + 1 == n ? area.h : equal});
  }
  spot_.column = spot_.columns.front();
  spot_.y = spot_.top = area.y;
  fill();
  double deepest = spot_.y;
  if (spot_.at > 0) deepest = std::max(deepest, spot_.columns.front().bottom());
  const Box whole{area.x, page_area_.y, area.w, page_area_.h};
  spot_ = {{whole}, 0, whole, deepest, whole.y};
}

double Flow::length_of(double width, const std::function<void()>& fill) {
  const Canvas::Dry dry(canvas_);
  const Spot before = spot_;
  constexpr double endless = 1e9;
  const Box column{before.column.x, 0, width, endless};
  spot_ = {{column}, 0, column, 0, 0};
  fill();
  const double length = spot_.y;
  spot_ = before;
  return length;
}

}  // namespace bellhole::sheets
