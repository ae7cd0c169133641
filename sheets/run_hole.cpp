// The holes of a run sheet, drawn to scale along the main: joint, squeezes, vent, spare place.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "sheets/amounts.hpp"
#include "sheets/parts.hpp"
#include "sheets/run_parts.hpp"

namespace bellhole::sheets {
namespace {

constexpr std::array dashes{3.0, 2.0};
constexpr double margin = 20, above = 20, below = 13;

/// One way of digging at one shut-off.
class Dig {
 public:
  Dig(Canvas& canvas, const Box& at, const Reply& side, const Reply& option, double scale,
      units::System system)
      : canvas_(canvas),
        at_(at),
        side_(side),
        option_(option),
        scale_(scale),
        system_(system),
        length_(length_of(option)),
        tube_(std::max(side.number("od_m").value_or(0) * scale, 6.0)),
        top_(at.y + above) {}

  /// Length drawn: what is dug, or what shows every clearance where the tool is not known.
  static double length_of(const Reply& option) {
    return option.number("length_m").value_or(option.number("seen_length_m").value_or(0));
  }

  double draw() {
    draw_ground();
    for (const Reply& place : option_.list("places")) draw_place(place);
    return draw_distances() - at_.y;
  }

 private:
  [[nodiscard]] double x(double metres) const { return at_.x + margin + metres * scale_; }

  void draw_ground() {
    const bool joint = side_.has("joint_station_m");
    for (const double y : {top_, top_ + tube_}) {
      canvas_.line({x(0), y}, {x(length_), y}, {1.6});
      canvas_.line({at_.x + 4, y}, {x(0), y}, {1.6, dashes});
      canvas_.line({x(length_), y}, {x(length_) + margin - 6, y}, {1.6, dashes});
    }
    for (const double end : {0.0, length_})
      canvas_.line({x(end), top_ - 9}, {x(end), top_ + tube_ + 9}, {1.0});
    if (joint) {
      for (const double d : {-1.6, 1.6})
        canvas_.line({x(0) + d, top_ - 4}, {x(0) + d, top_ + tube_ + 4}, {1.6});
    }
    canvas_.text({x(0) + 4, at_.y}, 60, joint ? "new joint" : "work side", fine_type);
  }

  void draw_place(const Reply& place) {
    const double at = x(place.number("at_m").value_or(0));
    const std::string kind = place.text("kind");
    if (kind == "vent") {
      const Point stack[] = {{at, top_}, {at, top_ - 10}};
      canvas_.polyline(stack, {2.2});
      canvas_.circle({at, top_ - 11}, 2.2, Fill::white, {1.2});
      return;
    }
    const double half = side_.number("half_width_m").value_or(0) * scale_;
    const bool spare = kind == "spare";
    if (half > 1)
      canvas_.box({at - half, top_ - 5, 2 * half, tube_ + 10}, Fill::none,
                  spare ? Stroke{0.7, dashes} : Stroke{0.9});
    const double bar = 3;
    canvas_.box({at - bar / 2, top_ - 5, bar, tube_ + 10}, spare ? Fill::white : Fill::black,
                {0.8});
  }

  /// Distances from the beginning of the hole, under what they belong to, in rows that stay clear
  /// of each other; answers where the next thing may stand.
  double draw_distances() {
    struct Label {
      double x = 0;
      std::string says;
    };
    std::vector<Label> labels;
    for (const Reply& place : option_.list("places")) {
      const auto metres = place.number("at_m");
      if (!metres) continue;
      labels.push_back(
          {x(*metres), place.text("kind") + " " + print(amounts::small, *metres, system_)});
    }
    labels.push_back({x(length_), "end " + print(amounts::small_up, length_, system_)});
    std::ranges::sort(labels, {}, &Label::x);
    std::vector<double> ends;
    double deepest = 0;
    const double y = top_ + tube_ + below - 3;
    for (const Label& label : labels) {
      const double width = canvas_.width(label.says, fine_type);
      const double left =
          std::clamp(label.x - width / 2, at_.x, std::max(at_.x, at_.right() - width));
      std::size_t row = 0;
      while (row < ends.size() && ends[row] > left - 5) ++row;
      if (row == ends.size()) ends.push_back(0);
      ends[row] = left + width;
      const double line = y + 11.0 * static_cast<double>(row);
      canvas_.line({label.x, top_ + tube_ + 6}, {label.x, line + 1}, {0.4});
      canvas_.box({left - 1, line + 1, width + 2, 10.5}, Fill::white, {0});
      canvas_.text({left, line}, width + 2, label.says, fine_type);
      deepest = std::max(deepest, line + 12);
    }
    return deepest;
  }

  Canvas& canvas_;
  Box at_;
  const Reply& side_;
  const Reply& option_;
  double scale_;
  units::System system_;
  double length_, tube_, top_;
};

Text words_of(const Reply& side, const Reply& option, bool both, units::System system) {
  const double squeezes = option.number("squeezes").value_or(1);
  const bool spare = option.flag("spare").value_or(false);
  Text says = bold(side.text("shutoff") +
                   (both           ? (squeezes > 1 ? ", if two squeezes: " : ", if one squeeze: ")
                    : squeezes > 1 ? ", two squeezes with a vent: "
                                   : ", one squeeze: "));
  const std::string length = print(amounts::small_up, option.number("length_m"), system);
  says += bold("dig " + (option.has("length_m") ? length : "– tool not known: decide"));
  says += side.has("joint_station_m") ? " from the new joint" : " long";
  const auto part = [&](const char* key, const char* words) {
    says += side.has(key) ? ", " + print(amounts::clearance, side.number(key), system) + " " + words
                          : Text();
  };
  part("width_m", "wide");
  part("depth_m", "deep");
  says += "; " + print(amounts::small_up, option.number("seen_length_m"), system) +
          " shows the clearance of every place";
  if (!option.flag("fits").value_or(true))
    says += bold("; the free length on the map does not hold it");
  else if (!spare)
    says += bold("; no spare place");
  if (side.has("tool")) says += "; tool " + side.text("tool");
  return says + ".";
}

}  // namespace

void set_holes(Flow& flow, const RunJob& job) {
  const Reply hole = job.plan.at("hole");
  const auto sides = hole.list("sides");
  if (sides.empty()) return;
  flow.heading("Holes, to scale: distances along the main, from the work outward", 90, size::table);
  double longest = 0, widest = 0;
  for (const Reply& side : sides) {
    widest = std::max(widest, side.number("od_m").value_or(0));
    for (const Reply& option : side.list("options"))
      longest = std::max(longest, Dig::length_of(option));
  }
  constexpr double tallest = 24;
  const auto draw = [&](const Box& at, const Reply& side, const Reply& option, bool both) {
    Canvas& canvas = flow.canvas();
    const double scale =
        std::min((at.w - 2 * margin) / std::max(longest, 0.1), tallest / std::max(widest, 0.01));
    const double words = canvas.text({at.x, at.y}, at.w,
                                     words_of(side, option, both, job.options.system), fine_type);
    const Box rest{at.x, at.y + words + 2, at.w, 0};
    return words + 5 + Dig(canvas, rest, side, option, scale, job.options.system).draw();
  };
  std::size_t drawings = 0;
  for (const Reply& side : sides) drawings += side.list("options").size();
  flow.columns(drawings > 1 ? 2 : 1, 14, [&] {
    for (const Reply& side : sides) {
      const auto options = side.list("options");
      for (const Reply& option : options)
        flow.block([&](const Box& at) { return draw(at, side, option, options.size() > 1); });
    }
  });
  std::vector<std::string> lines;
  for (const Reply& one : hole.list("excavations")) {
    const auto letters = one.texts("shutoffs");
    if (letters.size() > 1)
      lines.push_back("one hole for " + listed(letters) + ", " +
                      print(amounts::stretch, one.number("length_m"), job.options.system) + " on " +
                      one.text("pipe"));
  }
  set_run_on(flow, "Together", lines);
}

}  // namespace bellhole::sheets
