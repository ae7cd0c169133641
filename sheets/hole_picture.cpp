#include <algorithm>
#include <array>
#include <cmath>

#include "sheets/amounts.hpp"
#include "sheets/squeeze_pictures.hpp"

namespace bellhole::sheets {
namespace {

constexpr std::array dashes{3.0, 2.0};
constexpr double side = 30, label_row = 11.5, tube = 14;

/// A step of the scale's ticks that reads well: 1, 2 or 5 times a power of ten.
double tick_step(double range, int most) {
  const double rough = range / most;
  const double power = std::pow(10.0, std::floor(std::log10(rough)));
  for (const double step : {1.0, 2.0, 5.0}) {
    if (step * power >= rough) return step * power;
  }
  return 10 * power;
}

/// The hole on paper: its pipe lies between top and bottom.
class Hole {
 public:
  Hole(Canvas& canvas, const Box& at, const HolePicture& picture, units::System system)
      : canvas_(canvas), at_(at), picture_(picture), system_(system) {}

  double draw() {
    draw_names();
    draw_pipe();
    for (const HoleFeature& feature : picture_.features) draw_feature(feature);
    for (const auto& [from, to] : picture_.windows)
      canvas_.box({x(from), top_ + 2, std::max(x(to) - x(from), 2.0), tube - 4}, Fill::hatch,
                  {1.2});
    if (picture_.place_m) draw_pointer(*picture_.place_m, Fill::black);
    for (const double place : picture_.two_m)
      draw_pointer(place, picture_.place_m ? Fill::white : Fill::black);
    const double scale = draw_scale(top_ + tube + (pointed() ? 11 : 4));
    return scale + canvas_.text({at_.x, scale}, at_.w, words(), body_type) - at_.y;
  }

 private:
  [[nodiscard]] double range() const { return std::max(picture_.to_m - picture_.from_m, 1e-6); }
  [[nodiscard]] double x(double metres) const {
    return at_.x + side + (at_.w - 2 * side) * (metres - picture_.from_m) / range();
  }
  [[nodiscard]] bool pointed() const { return picture_.place_m || !picture_.two_m.empty(); }

  [[nodiscard]] std::string name_of(const HoleFeature& feature) const {
    std::string says = feature.kind + " " + bare(amounts::small, feature.from_m, system_);
    if (feature.to_m > feature.from_m) says += "–" + bare(amounts::small, feature.to_m, system_);
    return says + " " + unit_of(amounts::small, system_);
  }

  /// Names over the pipe, in as many rows as they need to stand clear of each other.
  void draw_names() {
    struct Name {
      std::string says;
      double x = 0, w = 0, middle = 0;
      std::size_t row = 0;
    };
    std::vector<Name> names;
    std::vector<double> row_end;
    for (const HoleFeature& feature : picture_.features) {
      Name name{name_of(feature), 0, 0, x((feature.from_m + feature.to_m) / 2), 0};
      name.w = canvas_.width(name.says, fine_type);
      name.x = std::clamp(name.middle - name.w / 2, at_.x, std::max(at_.x, at_.right() - name.w));
      while (name.row < row_end.size() && row_end[name.row] > name.x - 5) ++name.row;
      if (name.row == row_end.size()) row_end.push_back(0);
      row_end[name.row] = name.x + name.w;
      names.push_back(std::move(name));
    }
    top_ = at_.y + label_row * static_cast<double>(row_end.size()) + 5;
    const auto y_of = [&](const Name& name) {
      return top_ - 5 - label_row * static_cast<double>(name.row + 1);
    };
    for (const Name& name : names)
      canvas_.line({name.middle, y_of(name) + label_row}, {name.middle, top_ - 2}, {0.5});
    for (const Name& name : names) {
      canvas_.box({name.x - 1, y_of(name) + 1, name.w + 2, label_row - 1}, Fill::white, {0});
      canvas_.text({name.x, y_of(name)}, name.w + 2, name.says, fine_type);
    }
  }

  /// The pipe runs on into the ground at both ends.
  void draw_pipe() {
    for (const double y : {top_, top_ + tube}) {
      canvas_.line({x(picture_.from_m), y}, {x(picture_.to_m), y}, {1.6});
      canvas_.line({at_.x + 6, y}, {x(picture_.from_m), y}, {1.6, dashes});
      canvas_.line({x(picture_.to_m), y}, {at_.right() - 6, y}, {1.6, dashes});
    }
  }

  void draw_feature(const HoleFeature& feature) {
    const double a = x(feature.from_m), b = x(feature.to_m);
    if (b - a > 3) {
      canvas_.box({a, top_ - 3, b - a, tube + 6}, Fill::white, {1.4});
      return;
    }
    for (const double d : {-1.4, 1.4})
      canvas_.line({a + d, top_ - 3}, {a + d, top_ + tube + 3}, {1.2});
  }

  void draw_pointer(double metres, Fill fill) {
    const double p = x(metres), y = top_ + tube;
    const Point arrow[] = {{p, y + 1}, {p + 5, y + 10}, {p - 5, y + 10}};
    canvas_.polygon(arrow, fill, {1});
  }

  /// The scale counts from the end that was measured from; answers where the next thing may stand.
  double draw_scale(double y) {
    const bool us = system_ == units::System::us;
    const double unit = us ? 0.0254 : 0.001;
    const double step = tick_step(range() / unit, 8);
    canvas_.line({x(picture_.from_m), y + 5}, {x(picture_.to_m), y + 5}, {0.7});
    constexpr int most_ticks = 20;
    const double first = std::ceil(picture_.from_m / unit / step) * step;
    for (int i = 0; i < most_ticks; ++i) {
      const double at = (first + i * step) * unit;
      if (at > picture_.to_m + 1e-9) break;
      canvas_.line({x(at), y + 2}, {x(at), y + 8}, {0.7});
      const std::string says = units::print_in(Length::from_si(at), us ? "in" : "mm", 0);
      canvas_.text({x(at) - 30, y + 8}, 60, says, {size::fine, Align::centre});
    }
    return y + 20;
  }

  /// A place as printed lies in its window as printed.
  [[nodiscard]] std::string place_words(double place) const {
    const bool at_end = std::ranges::any_of(
        picture_.windows, [&](const auto& window) { return place > window.second - 1e-6; });
    return at_end ? print(amounts::window_to, place, system_)
                  : print(amounts::window_from, place, system_);
  }

  [[nodiscard]] Text words() const {
    Text says;
    for (const auto& [from, to] : picture_.windows) {
      says += says.empty() ? bold("Bars' centre between ") : Text(" or ");
      says += bold(print(amounts::window_from, from, system_) + " and " +
                   print(amounts::window_to, to, system_));
    }
    if (says.empty()) return bold("No place in this hole keeps the clearance.");
    if (picture_.place_m)
      says += bold(", best at " + print(amounts::station, picture_.place_m, system_));
    if (!picture_.two_m.empty()) {
      std::vector<std::string> two;
      for (const double place : picture_.two_m) two.push_back(place_words(place));
      says += bold((picture_.place_m ? "; two with a vent at " : "; both at ") + listed(two));
    }
    return says + ".";
  }

  Canvas& canvas_;
  Box at_;
  const HolePicture& picture_;
  units::System system_;
  double top_ = 0;
};

}  // namespace

double draw_hole(Canvas& canvas, const Box& at, const HolePicture& hole, units::System system) {
  return Hole(canvas, at, hole, system).draw();
}

}  // namespace bellhole::sheets
