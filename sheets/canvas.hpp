// Ink on paper: the one place that knows Cairo and Pango. Units are points (1/72 in), origin at the
// upper left, y downward. Black only; white is there to knock a label out of what lies under it.
//
// Every drawing call can run without ink (see Canvas::dry), so that a block is measured by the same
// code that draws it. Output depends on nothing but the calls: no clock, no locale.
#pragma once

#include <memory>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "findings/trouble.hpp"
#include "sheets/text.hpp"

namespace bellhole::sheets {

struct Point {
  double x = 0, y = 0;
};

struct Box {
  double x = 0, y = 0, w = 0, h = 0;
  [[nodiscard]] double right() const { return x + w; }
  [[nodiscard]] double bottom() const { return y + h; }
  [[nodiscard]] Box inset(double by) const { return {x + by, y + by, w - 2 * by, h - 2 * by}; }
  [[nodiscard]] bool overlaps(const Box& other) const {
    return x < other.right() && other.x < right() && y < other.bottom() && other.y < bottom();
  }
};

inline constexpr double points_per_mm = 72.0 / 25.4;

struct PaperSize {
  double w = 0, h = 0;
};

/// What a PDF says about itself. `date` is RFC 3339 from the document, or empty: then the file has
/// no date.
struct Info {
  std::string title, subject, date;
};

/// How a line is drawn. `dash` alternates on and off, empty for a full line.
struct Stroke {
  double width = 0.8;
  std::span<const double> dash = {};
  bool white = false;
};

enum class Fill { none, black, white, hatch };

class Canvas {
 public:
  /// Errors: unreadable_file when the DejaVu fonts are not installed, bug when Cairo refuses.
  static Result<std::unique_ptr<Canvas>> pdf(PaperSize paper, const Info& info);
  static Result<std::unique_ptr<Canvas>> svg(PaperSize paper);
  ~Canvas();
  Canvas(const Canvas&) = delete;
  Canvas& operator=(const Canvas&) = delete;

  void end_page();
  /// Ends the document and answers its bytes. Nothing may be drawn after it.
  Result<std::string> finish();

  // Text. `width` is where lines wrap; each answers the height in points.
  double text(Point upper_left, double width, const Text& text, Type type = {});
  [[nodiscard]] double height(double width, const Text& text, Type type = {}) const;
  /// Width of the text on one line.
  [[nodiscard]] double width(const Text& text, Type type = {}) const;
  /// The part of the text that fits the height, and the rest. The first is empty when not even a
  /// line fits.
  [[nodiscard]] std::pair<Text, Text> split(double width, const Text& text, Type type,
                                            double height) const;
  /// One line about its centre, turned clockwise by `angle` radians, on a white ground when
  /// `knock_out`.
  void label(Point centre, double angle, const Text& text, Type type, bool knock_out);

  // Lines and shapes.
  void line(Point a, Point b, Stroke stroke = {});
  void polyline(std::span<const Point> points, Stroke stroke = {});
  void polygon(std::span<const Point> points, Fill fill, Stroke stroke = {});
  void box(const Box& box, Fill fill = Fill::none, Stroke stroke = {});
  void circle(Point centre, double radius, Fill fill, Stroke stroke = {});
  /// Bounds drawing to a box until it is destroyed.
  class Clip {
   public:
    Clip(Canvas& canvas, const Box& box);
    ~Clip();
    Clip(const Clip&) = delete;
    Clip& operator=(const Clip&) = delete;

   private:
    Canvas& canvas_;
  };

  /// Takes the ink away until it is destroyed: the same code measures.
  class Dry {
   public:
    explicit Dry(Canvas& canvas) : canvas_(canvas) { ++canvas_.dry_; }
    ~Dry() { --canvas_.dry_; }
    Dry(const Dry&) = delete;
    Dry& operator=(const Dry&) = delete;

   private:
    Canvas& canvas_;
  };
  [[nodiscard]] bool dry() const { return dry_ > 0; }

 private:
  struct Ink;
  explicit Canvas(std::unique_ptr<Ink> ink);
  void trace(std::span<const Point> points, bool closed);
  void fill_and_stroke(Fill fill, const Stroke& stroke);
  std::unique_ptr<Ink> ink_;
  int dry_ = 0;
};

}  // namespace bellhole::sheets
