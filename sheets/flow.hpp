// Setting a document on pages: blocks run down columns and on to further pages, under a running
// head and over a foot with page x of y. Nothing is ever drawn over the foot: what does not fit is
// split or moved.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "sheets/canvas.hpp"
#include "sheets/options.hpp"

namespace bellhole::sheets {

PaperSize size_of(Paper paper);

/// What stands on every page. `pages` is the total, known from a first setting without ink.
struct Frame {
  PaperSize paper;
  std::string head;        ///< left, bold: "Squeeze sheet · IPS 8 DR 11"
  std::string head_right;  ///< right: job or plan
  std::string foot;        ///< left: ids and engine
  std::size_t pages = 0;
  bool titled = false;  ///< its first page begins with a title of its own instead of the head
};

struct TableColumn {
  std::string head;
  double share = 1;  ///< of the width, relative to the others
  Align align = Align::left;
};

struct Table {
  std::vector<TableColumn> columns;
  std::vector<std::vector<Text>> rows;
  Type type = table_type;
  double pad = 2.0;  ///< above and below each row's text
};

/// Draws something in a box whose x, y, w are given; answers the height it took.
using Draw = std::function<double(const Box&)>;

class Flow {
 public:
  Flow(Canvas& canvas, Frame frame);

  /// Ends the last page; answers the number of pages.
  std::size_t close();

  Canvas& canvas() { return canvas_; }
  /// The rest of this column or page.
  [[nodiscard]] Box room() const {
    return {spot_.column.x, spot_.y, spot_.column.w, spot_.column.bottom() - spot_.y};
  }
  [[nodiscard]] std::size_t page() const { return page_; }
  /// Goes on under a new head on a new page.
  void new_page(Frame frame);
  void new_page();

  void space(double points) { spot_.y += points; }
  /// Goes to the next column or page unless this much is left.
  void keep(double points);
  /// A block that is never split. One taller than a whole page is a bug of the sheet that made it.
  void block(const Draw& draw);
  /// Text that may be split between lines. `mark`, where given, is drawn at the left in a column
  /// `indent` wide, beside the first line.
  void paragraph(const Text& text, Type type = {}, double indent = 0, const Draw& mark = {});
  /// A rule over a bold line; kept with at least `follows` points of what comes after.
  void heading(const std::string& says, double follows = 40, double type_size = size::heading);
  /// Rows with a repeated head; a row is split only when it is taller than a page.
  void table(const Table& table);
  /// Sets what `fill` does in `n` columns of equal length, on the last page too.
  void columns(std::size_t n, double gutter, const std::function<void()>& fill);

 private:
  void begin_page();
  void end_page();
  void next();
  /// How long a column of this width `fill` would make; without ink, nothing is moved.
  double length_of(double width, const std::function<void()>& fill);
  void table_row(const std::vector<double>& widths, const Table& table, std::vector<Text> cells,
                 double height);
  [[nodiscard]] double row_height(const std::vector<double>& widths, const Table& table,
                                  const std::vector<Text>& cells) const;
  void table_head(const std::vector<double>& widths, const Table& table);

  Canvas& canvas_;
  Frame frame_;
  std::size_t page_ = 0;
  bool first_of_frame_ = true;
  Box page_area_;  ///< between head and foot

  /// Where the next thing goes: in columns[at], at height y; top is where that column began.
  struct Spot {
    std::vector<Box> columns;
    std::size_t at = 0;
    Box column;
    double y = 0, top = 0;
    double left = 0;  ///< of columns: length not yet set when this one began
  } spot_;
};

}  // namespace bellhole::sheets
