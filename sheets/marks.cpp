#include "sheets/marks.hpp"

#include <qrencode.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <memory>
#include <numbers>
#include <vector>

namespace bellhole::sheets {
namespace {

std::vector<Point> regular(Point centre, double radius, int corners, double turn) {
  std::vector<Point> points;
  for (int i = 0; i < corners; ++i) {
    const double angle = turn + 2 * std::numbers::pi * i / corners;
    points.push_back({centre.x + radius * std::cos(angle), centre.y + radius * std::sin(angle)});
  }
  return points;
}

}  // namespace

void grade_mark(Canvas& canvas, const Box& box, std::string_view grade) {
  const double radius = std::min(box.w, box.h) / 2;
  const Point centre{box.x + box.w / 2, box.y + box.h / 2};
  const Stroke edge{std::max(1.0, radius / 7)};
  const Type type{radius * 1.25, Align::centre};
  if (grade == "halt") {
    canvas.polygon(regular(centre, radius, 8, std::numbers::pi / 8), Fill::black, edge);
    canvas.label(centre, 0, bold("!"), {type.size, type.align, true}, false);
  } else if (grade == "undecided") {
    canvas.polygon(regular(centre, radius, 4, 0), Fill::white, edge);
    canvas.label(centre, 0, bold("?"), {radius * 1.1, Align::centre}, false);
  } else if (grade == "warn") {
    const Point low{centre.x, centre.y + radius * 0.22};
    canvas.polygon(regular(low, radius * 1.05, 3, -std::numbers::pi / 2), Fill::white, edge);
    canvas.label({low.x, low.y + radius * 0.06}, 0, bold("!"), {radius, Align::centre}, false);
  } else if (grade == "info") {
    canvas.circle(centre, radius * 0.92, Fill::white, edge);
    canvas.label(centre, 0, bold("i"), {radius * 1.1, Align::centre}, false);
  } else {
    canvas.circle(centre, radius * 0.92, Fill::white, edge);
  }
}

std::string grade_word(std::string_view grade) {
  static constexpr std::array<std::pair<std::string_view, std::string_view>, 5> words{
      {{"halt", "HALT"},
       {"undecided", "UNDECIDED"},
       {"warn", "WARNING"},
       {"info", "NOTE"},
       {"nothing_found", "NOTHING FOUND AGAINST IT"}}};
  for (const auto& [name, word] : words) {
    if (name == grade) return std::string(word);
  }
  return "UNDECIDED";
}

void tick_box(Canvas& canvas, Point upper_left) {
  canvas.box({upper_left.x, upper_left.y, tick_side, tick_side}, Fill::none, {1.1});
}

double write_line(Canvas& canvas, const Box& box, const Text& label) {
  canvas.text({box.x, box.y}, box.w, label, fine_type);
  canvas.line({box.x, box.bottom()}, {box.right(), box.bottom()}, {0.7});
  return box.h;
}

void letter_mark(Canvas& canvas, Point centre, double radius, const std::string& letter) {
  canvas.circle(centre, radius, Fill::black, {1.2, {}, true});
  const double fit = letter.size() > 1 ? 1.0 : 1.35;
  canvas.label(centre, 0, bold(letter), {radius * fit, Align::centre, true}, false);
}

bool qr(Canvas& canvas, const Box& box, const std::string& says) {
  struct Free {
    void operator()(QRcode* code) const { QRcode_free(code); }
  };
  // Capitals and digits take fewer modules, so the code stays coarse enough for a photocopy.
  std::string capitals = says;
  for (char& c : capitals) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  const std::unique_ptr<QRcode, Free> code(
      QRcode_encodeString(capitals.c_str(), 0, QR_ECLEVEL_M, QR_MODE_8, 1));
  if (!code) return false;
  constexpr int quiet = 4;  // modules of white that a reader needs around the code
  const double side = std::min(box.w, box.h);
  const double module = side / (code->width + 2 * quiet);
  canvas.box({box.x, box.y, side, side}, Fill::white, {0});
  for (int row = 0; row < code->width; ++row) {
    for (int column = 0; column < code->width;) {
      int run = 0;  // dark modules side by side are one bar: no hairlines between them
      while (column + run < code->width && (code->data[row * code->width + column + run] & 1) != 0)
        ++run;
      if (run > 0) {
        canvas.box({box.x + (column + quiet) * module, box.y + (row + quiet) * module, run * module,
                    module * 1.02},
                   Fill::black, {0});
      }
      column += std::max(run, 1);
    }
  }
  return true;
}

}  // namespace bellhole::sheets
