#include <array>

#include "sheets/amounts.hpp"
#include "sheets/squeeze_parts.hpp"

namespace bellhole::sheets {
namespace {

struct Moment {
  const char *key, *name;
};
constexpr std::array moments{
    Moment{"at_half_pa_gauge", "half way"},
    Moment{"at_walls_meeting_pa_gauge", "walls meet"},
    Moment{"at_stops_pa_gauge", "ON THE STOPS"},
    Moment{"after_wait_pa_gauge", "after the wait"},
};

/// The pump's gauge counts in hundreds of psi and whole bars.
constexpr Amount<kinds::GaugePressure> oil{"psig", 0, "bar(g)", 0};

std::string sentence(const Reply& pump, units::System system) {
  const std::string reaches = pump.text("reaches_stops");
  if (reaches.empty()) return {};
  std::string text = reaches == "yes" ? "The stops come before the pump's limit"
                     : reaches == "no"
                         ? "The pump's limit comes before the stops"
                         : "Whether the stops come before the pump's limit is not sure";
  if (const auto down_to = pump.number("reaches_down_to_k"))
    text += "; they do in a pipe above " + print(amounts::start_above, down_to, system);
  return text + ".";
}

}  // namespace

double draw_pump(Canvas& canvas, const Box& at, const Reply& reply, units::System system) {
  const Reply pump = reply.at("pump");
  if (!pump) return 0;
  double y = at.y;
  y += canvas.text({at.x, y}, at.w,
                   bold("Expect at the pump's gauge") + ", " + unit_of(oil, system) +
                       " (a prediction, no limit; the gauge decides)",
                   body_type);
  const double cell = at.w / static_cast<double>(moments.size());
  double height = 0;
  for (std::size_t i = 0; i < moments.size(); ++i) {
    const Reply band = pump.at(moments[i].key);
    const double x = at.x + cell * static_cast<double>(i);
    double h = canvas.text({x, y + 1}, cell, moments[i].name, {size::fine, Align::centre});
    h += canvas.text({x, y + h}, cell, bold(bare(oil, band.number("expected"), system)),
                     {size::body, Align::centre});
    h += canvas.text(
        {x, y + h}, cell,
        bare(oil, band.number("low"), system) + " to " + bare(oil, band.number("high"), system),
        {size::table, Align::centre});
    height = std::max(height, h);
  }
  canvas.box({at.x, y, at.w, height + 2}, Fill::none, {0.6});
  y += height + 3;
  if (const std::string says = sentence(pump, system); !says.empty())
    y += canvas.text({at.x, y}, at.w, says, fine_type);
  return y - at.y;
}

}  // namespace bellhole::sheets
