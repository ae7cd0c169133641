#include "sheets/squeeze_pictures.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "sheets/amounts.hpp"

namespace bellhole::sheets {
namespace {

constexpr std::array dashes{3.0, 2.0};

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

}  // namespace bellhole::sheets
