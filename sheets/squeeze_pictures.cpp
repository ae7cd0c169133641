#include "sheets/squeeze_pictures.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "sheets/amounts.hpp"

namespace bellhole::sheets {
namespace {

constexpr std::array dashes{3.0, 2.0};

/// A step of the scale's ticks that reads well: 1, 2 or 5 times a power of ten.
double tick_step(double range, int most) {
  const double rough = range / most;
  const double power = std::pow(10.0, std::floor(std::log10(rough)));
  for (const double step : {1.0, 2.0, 5.0}) {
    if (step * power >= rough) return step * power;
  }
  return 10 * power;
}

/// One bar; what goes beyond the limit is black.
void draw_bar(Canvas& canvas, const Box& row, double compression, std::optional<double> most,
              double full) {
  const auto x = [&](double value) { return row.x + row.w * std::clamp(value / full, 0.0, 1.0); };
  const Box bar{row.x, row.y, x(compression) - row.x, row.h};
  canvas.box(bar, Fill::hatch, {1});
  constexpr double rounding =
      1e-9;  // of the compression at a gap that was made from the limit itself
  if (most && compression > *most + rounding)
    canvas.box({x(*most), row.y, bar.right() - x(*most), row.h}, Fill::black, {1});
}

}  // namespace

double draw_compression(Canvas& canvas, const Box& at, const std::vector<WallBar>& bars,
                        std::optional<double> most, const std::string& basis,
                        units::System system) {
  constexpr double row = 16, thick = 11, name_width = 92, value_width = 50;
  double full = most.value_or(0.3) * 1.25;
  for (const WallBar& bar : bars) full = std::max(full, bar.compression.value_or(0) * 1.05);
  const Box scale{at.x + name_width, at.y + 14, at.w - name_width - value_width,
                  row * static_cast<double>(bars.size())};
  double y = scale.y;
  for (const WallBar& bar : bars) {
    const Box here{scale.x, y + (row - thick) / 2, scale.w, thick};
    canvas.text({at.x, y + 3}, name_width,
                bar.name + " " + print(amounts::wall, bar.wall_m, system), fine_type);
    if (bar.compression && *bar.compression >= 0) {
      draw_bar(canvas, here, *bar.compression, most, full);
      canvas.text({scale.right() + 6, y + 1.5}, value_width,
                  bold(print(amounts::compression, bar.compression, system)), body_type);
    } else {
      canvas.text(
          {scale.x + 2, y + 3}, scale.w + value_width,
          bar.compression ? bold("the inner walls do not meet") : Text(std::string(not_known)),
          fine_type);
    }
    y += row;
  }
  canvas.line({scale.x, scale.y - 1}, {scale.x, y + 1}, {1.2});
  if (most) {
    const double x = scale.x + scale.w * *most / full;
    canvas.line({x, scale.y - 2}, {x, y + 2}, {1.8, dashes});
    const Text says = "most " + print(amounts::compression_limit, most, system) + basis;
    const double w = canvas.width(says, fine_type);
    canvas.text({std::clamp(x - w / 2, at.x, at.right() - w), at.y}, w + 2, says, fine_type);
  } else {
    canvas.text({scale.x, at.y}, at.right() - scale.x, bold("no limit set: decide"), fine_type);
  }
  return y + 2 - at.y;
}

double draw_hole(Canvas& canvas, const Box& at, const HolePicture& hole, units::System system) {
  constexpr double side = 30, label_row = 11.5, tube = 14;
  const bool us = system == units::System::us;
  const double range = std::max(hole.to_m - hole.from_m, 1e-6);
  const auto x = [&](double metres) {
    return at.x + side + (at.w - 2 * side) * (metres - hole.from_m) / range;
  };
  // Names of the features in as many rows as they need to stand clear of each other.
  std::vector<double> row_end;
  struct Name {
    std::string says;
    double x = 0, w = 0;
    std::size_t row = 0;
  };
  std::vector<Name> names;
  for (const HoleFeature& feature : hole.features) {
    std::string says = feature.kind + " " + bare(amounts::small, feature.from_m, system);
    if (feature.to_m > feature.from_m) says += "–" + bare(amounts::small, feature.to_m, system);
    Name name{says + " " + unit_of(amounts::small, system), 0, 0, 0};
    name.w = canvas.width(name.says, fine_type);
    name.x =
        std::clamp(x((feature.from_m + feature.to_m) / 2) - name.w / 2, at.x, at.right() - name.w);
    while (name.row < row_end.size() && row_end[name.row] > name.x - 5) ++name.row;
    if (name.row == row_end.size()) row_end.push_back(0);
    row_end[name.row] = name.x + name.w;
    names.push_back(std::move(name));
  }
  const double top = at.y + label_row * static_cast<double>(row_end.size()) + 5,
               bottom = top + tube;
  for (std::size_t i = 0; i < names.size(); ++i) {
    const double y = top - 5 - label_row * static_cast<double>(names[i].row + 1);
    canvas.text({names[i].x, y}, names[i].w + 2, names[i].says, fine_type);
    const double middle = x((hole.features[i].from_m + hole.features[i].to_m) / 2);
    canvas.line({middle, y + label_row}, {middle, top - 2}, {0.5});
  }
  // The pipe runs on into the ground at both ends.
  for (const double y : {top, bottom}) {
    canvas.line({x(hole.from_m), y}, {x(hole.to_m), y}, {1.6});
    canvas.line({at.x + 6, y}, {x(hole.from_m), y}, {1.6, dashes});
    canvas.line({x(hole.to_m), y}, {at.right() - 6, y}, {1.6, dashes});
  }
  for (const HoleFeature& feature : hole.features) {
    const double a = x(feature.from_m), b = x(feature.to_m);
    if (b - a > 3) {
      canvas.box({a, top - 3, b - a, tube + 6}, Fill::white, {1.4});
    } else {
      for (const double d : {-1.4, 1.4}) canvas.line({a + d, top - 3}, {a + d, bottom + 3}, {1.2});
    }
  }
  for (const auto& [from, to] : hole.windows)
    canvas.box({x(from), top + 2, std::max(x(to) - x(from), 2.0), tube - 4}, Fill::hatch, {1.2});
  double y = bottom + 4;
  if (hole.place_m) {
    const double p = x(*hole.place_m);
    const Point arrow[] = {{p, bottom + 1}, {p + 5, bottom + 10}, {p - 5, bottom + 10}};
    canvas.polygon(arrow, Fill::black, {1});
    y = bottom + 11;
  }
  // The scale, from the end that was measured from.
  const double unit = us ? 0.0254 : 0.001;
  const double step = tick_step(range / unit, 8);
  canvas.line({x(hole.from_m), y + 5}, {x(hole.to_m), y + 5}, {0.7});
  for (double t = std::ceil(hole.from_m / unit / step) * step; t <= hole.to_m / unit + 1e-6;
       t += step) {
    canvas.line({x(t * unit), y + 2}, {x(t * unit), y + 8}, {0.7});
    const std::string says = units::print_in(Length::from_si(t * unit), us ? "in" : "mm", 0);
    canvas.text({x(t * unit) - 30, y + 8}, 60, says, {size::fine, Align::centre});
  }
  y += 20;
  Text says;
  for (const auto& [from, to] : hole.windows) {
    says += (says.empty() ? bold("Bars' centre between ") : Text(" or ")) +
            bold(print(amounts::window_from, from, system) + " and " +
                 print(amounts::window_to, to, system));
  }
  if (says.empty()) says = bold("No place in this hole keeps the clearance");
  if (hole.place_m) says += bold(", best at " + print(amounts::station, hole.place_m, system));
  y += canvas.text({at.x, y}, at.w, says + ".", body_type);
  return y - at.y;
}

}  // namespace bellhole::sheets
