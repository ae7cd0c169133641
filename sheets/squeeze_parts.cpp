#include "sheets/squeeze_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <nlohmann/json.hpp>
#include <span>

#include "sheets/amounts.hpp"
#include "sheets/parts.hpp"
#include "sheets/squeeze_pictures.hpp"

namespace bellhole::sheets {
namespace {

/// "IPS 8  DR 11": size and ratio in figures, never rounded.
std::string size_words(const Reply& pipe) {
  std::string words = pipe.need_text("size");
  if (const auto ratio = pipe.number("ratio"))
    words += fmt::format("  {} {}", words.starts_with("dn") ? "SDR" : "DR", *ratio);
  return words;
}

std::string made_words(const Reply& pipe) {
  const Reply made = pipe.at("made");
  if (!made) return std::string(not_known);
  const std::string from = made.text("from"), to = made.text("to");
  // A whole year reads as the year.
  if (from.size() == 10 && from.ends_with("-01-01") && to == from.substr(0, 4) + "-12-31")
    return from.substr(0, 4);
  return from == to ? from : from + " to " + to;
}

std::string label_words(const Reply& stop) {
  std::vector<std::string> words = stop.texts("sizes");
  for (const double ratio : stop.numbers("ratios")) words.push_back(fmt::format("DR {}", ratio));
  return words.empty() ? "its label names no pipe" : "cut for " + listed(words);
}

/// The answer about one stop, from the list of all that were looked at.
std::optional<Reply> looked_at(const Reply& reply, const std::string& id) {
  for (const Reply& stop : reply.list("stops")) {
    if (stop.text("id") == id) return stop;
  }
  return std::nullopt;
}

std::vector<Fact> facts_of(const Reply& reply, units::System system) {
  const Reply pipe = reply.at("pipe"), design = pipe.at("design");
  const std::string arrangement = reply.text("arrangement");
  const auto hold = reply.number("hold_most_s");
  return {
      {"line pressure", bold(print(amounts::pressure, pipe.number("pressure_pa_gauge"), system))},
      {"MAOP", print(amounts::most_allowed, pipe.number("maop_pa_gauge"), system)},
      {"rated for", print(amounts::most_allowed, design.number("pressure_pa_gauge"), system)},
      {"pipe temp.", bold(print(amounts::temperature, pipe.number("temperature_k"), system))},
      {"OD", print(amounts::diameter, pipe.number("od_m"), system)},
      {"made", made_words(pipe)},
      {"squeezes", arrangement == "one"   ? Text("one")
                   : arrangement == "two" ? bold("two, vent between")
                                          : bold("one or two: decide")},
      {"hold at most", hold ? lasting(hold) : "no limit set: decide"},
      {"clear by", bold(print(amounts::clearance, reply.number("clearance_m"), system))}};
}

/// Those of the profile, then what the tool's own maker asks.
std::vector<Text> prompts_of(const Reply& reply, bool by_stage) {
  std::vector<Text> prompts;
  for (const Reply& prompt : reply.list("prompts")) prompts.emplace_back(prompt.text("says"));
  const Reply instructions = reply.at("tool").at("instructions");
  for (const char* stage :
       {"before", "lowering", "during", "holding", "opening", "after", "storing"}) {
    std::string name = stage;
    name[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(name[0])));
    std::string run_on;
    for (const std::string& says : instructions.texts(stage)) {
      if (!by_stage) prompts.push_back(bold(name + ": ") + says);
      run_on += (run_on.empty() ? "" : " · ") + says;
    }
    if (by_stage && !run_on.empty()) prompts.push_back(bold(name + ": ") + run_on);
  }
  return prompts;
}

}  // namespace

double draw_squeeze_title(Canvas& canvas, const Box& at, const Reply& reply,
                          const SqueezeContext& context) {
  constexpr double code = 58;
  const Reply pipe = reply.need("pipe");
  double x = at.x;
  if (!context.letter.empty()) {
    letter_mark(canvas, {at.x + 14, at.y + 14}, 14, context.letter);
    x += 36;
  }
  const double width = at.right() - code - 10 - x;
  const std::string material = pipe.text("material");
  double y = at.y - 3;
  const Text title = bold("Squeeze sheet  " + size_words(pipe) + "  " +
                          (material.empty() ? "material not known" : material));
  const bool roomy = canvas.width(title, {size::title}) <= width;
  y += canvas.text({x, y}, width, title, {roomy ? size::title : size::subtitle});
  if (!context.place.empty()) y += canvas.text({x, y}, width, bold(context.place), {size::heading});
  const Reply profile = reply.at("profile");
  if (profile) y += canvas.text({x, y}, width, "Procedure: " + profile.text("title"), fine_type);
  y = std::max(y + 3, at.y + 32);
  y += canvas.text(
      {x, y}, width,
      "Where ________________________  date ____________  job ____________  " + context.id,
      fine_type);
  const Box corner{at.right() - code + 4, at.y - 9, code, code};
  qr(canvas, corner, context.code);
  return std::max(y + 4, corner.bottom() - 2) - at.y;
}

double draw_stop(Canvas& canvas, const Box& at, const Reply& reply, units::System system) {
  constexpr double pad = 7;
  const double x = at.x + pad, width = at.w - 2 * pad;
  const Reply stop = reply.at("stop");
  const auto wanted = reply.number("stop_gap_m");
  const bool none_fits = !stop && !reply.list("stops").empty();
  double y = at.y + pad - 3;
  const auto gap = stop ? stop.number("gap_m") : wanted;
  y += canvas.text({x, y}, width,
                   bold(stop        ? "Fit this stop"
                        : none_fits ? "None of the stops fits. Gap wanted"
                                    : "Gap wanted"),
                   {size::heading});
  if (!gap) {
    y += canvas.text({x, y}, width, bold("no gap can be told"), {20});
  } else {
    std::string words = print(amounts::gap, gap, system);
    y += canvas.text({x, y}, width, bold(stop ? stop.text("id") + "  " + words : words),
                     {stop ? 22 : size::big});
    const auto other = system == units::System::us ? units::System::metric : units::System::us;
    Text fine = "gap between the bars; " + print(amounts::gap, gap, other);
    if (stop) {
      if (const auto label = looked_at(reply, stop.text("id"))) fine += "; " + label_words(*label);
      fine += "; gap wanted " + print(amounts::gap, wanted, system);
    } else if (!none_fits) {
      fine += "; no stops were given: measure the one you fit";
    }
    y += canvas.text({x, y}, width, fine, fine_type);
  }
  if (none_fits) {
    std::string ids;
    for (const Reply& one : reply.list("stops"))
      ids += (ids.empty() ? "" : ", ") + one.text("id") + " " +
             print(amounts::gap, one.number("gap_m"), system);
    y += canvas.text({x, y}, width, "Looked at: " + ids, fine_type);
  }
  const double height = y - at.y + pad - 2;
  canvas.box({at.x, at.y, at.w, height}, Fill::none, {2});
  return height;
}

double draw_wall_compression(Canvas& canvas, const Box& at, const Reply& reply,
                             units::System system) {
  const Reply pipe = reply.at("pipe"), does = reply.at("wall_compression"),
              on = reply.at("stop_gap_on");
  const std::vector<WallBar> bars{
      {"thinnest", pipe.number("wall_min_m"), does.number("at_min_wall")},
      {"mean", pipe.number("wall_nominal_m"), does.number("at_nominal_wall")},
      {"thickest", pipe.number("wall_max_m"), does.number("at_max_wall")}};
  std::string basis = on.text("basis");
  if (basis == "measured_else_minimum")
    basis = pipe.flag("wall_measured").value_or(false) ? "measured" : "minimum";
  Text head = bold("Wall compression");
  if (does)
    head += " at the " + (does.text("of").starts_with("stop ") ? "stop's gap" : does.text("of"));
  double y = at.y + canvas.text({at.x, at.y}, at.w, head, fine_type);
  y += draw_compression(canvas, {at.x, y, at.w, 0}, bars, on.number("compression"),
                        basis.empty() ? "" : " on the " + basis + " wall", system);
  return y - at.y;
}

double draw_squeeze_facts(Canvas& canvas, const Box& at, const Reply& reply, const Density& density,
                          units::System system) {
  const std::vector<Fact> facts = facts_of(reply, system);
  const Reply tool = reply.at("tool");
  const Text which =
      "tool " + bold(tool ? joined({tool.text("id"), tool.text("title")}, ", ") : "not given");
  if (!density.fact_grid) {
    Text all;
    for (const Fact& fact : facts) all += fact.name + " " + fact.value + "; ";
    return canvas.text({at.x, at.y}, at.w,
                       all + "tool " + bold(tool ? tool.text("id") : "not given"), {size::table});
  }
  constexpr std::array shares{0.32, 0.28, 0.40};
  const std::size_t rows = (facts.size() + shares.size() - 1) / shares.size();
  double deepest = 0, x = at.x;
  for (std::size_t column = 0; column < shares.size(); ++column) {
    const auto begin =
        facts.begin() + static_cast<std::ptrdiff_t>(std::min(column * rows, facts.size()));
    const auto end =
        facts.begin() + static_cast<std::ptrdiff_t>(std::min((column + 1) * rows, facts.size()));
    deepest = std::max(
        deepest, draw_facts(canvas, {x, at.y, at.w * shares[column] - 8, 0}, {begin, end}, 66));
    x += at.w * shares[column];
  }
  return deepest + canvas.text({at.x, at.y + deepest}, at.w, which, {size::table});
}

double draw_places(Canvas& canvas, const Box& at, const Reply& reply, units::System system) {
  const auto exposed = reply.numbers("exposed_m");
  if (exposed.size() != 2) {
    const Reply hole = reply.at("hole");
    if (!hole) return 0;
    const auto length = [&](const char* key) {
      return print(amounts::clearance, hole.number(key), system);
    };
    return canvas.text({at.x, at.y}, at.w,
                       bold("Expose: ") + "one squeeze " + bold(length("one_m")) +
                           ", with a spare place " + length("one_and_spare_m") +
                           "; two with a vent " + bold(length("two_m")) + ", with a spare " +
                           length("two_and_spare_m"),
                       table_type);
  }
  HolePicture picture{exposed[0], exposed[1], {}, {}, reply.number("place_m"), {}};
  const auto places = reply.numbers("places_m");
  const std::string arrangement = reply.text("arrangement");
  if (arrangement != "one" && places.size() >= 2) picture.two_m = {places[0], places[1]};
  if (arrangement == "two" && !picture.two_m.empty()) picture.place_m.reset();
  for (const Reply& feature : reply.list("features")) {
    const auto where = feature.numbers("at_m");
    if (where.size() == 2) picture.features.push_back({feature.text("kind"), where[0], where[1]});
  }
  picture.windows = reply.pairs("windows_m");
  return draw_hole(canvas, at, picture, system);
}

double draw_prompts(Canvas& canvas, const Box& at, const Reply& reply, const Density& density) {
  const auto prompts = prompts_of(reply, density.by_stage);
  const auto columns = static_cast<std::size_t>(density.prompt_columns);
  constexpr double gutter = 8;
  const double width =
      (at.w - gutter * static_cast<double>(columns - 1)) / static_cast<double>(columns);
  const auto tick = [&](double x, double y, const Text& says) {
    return draw_tick(canvas, {x, y, width, 0}, says, {density.prompt_size}) - 0.5;
  };
  double total = 0;
  {
    const Canvas::Dry dry(canvas);
    for (const Text& says : prompts) total += tick(at.x, at.y, says);
  }
  // Columns of about the same depth, filled from the left.
  double deepest = 0, y = at.y;
  std::size_t column = 0;
  for (const Text& says : prompts) {
    double x = at.x + static_cast<double>(column) * (width + gutter);
    double height = 0;
    {
      const Canvas::Dry dry(canvas);
      height = tick(x, y, says);
    }
    const bool full = y + height / 2 > at.y + total / static_cast<double>(columns);
    if (full && y > at.y && column + 1 < columns) {
      x = at.x + static_cast<double>(++column) * (width + gutter);
      y = at.y;
    }
    y += tick(x, y, says);
    deepest = std::max(deepest, y);
  }
  return deepest - at.y;
}

double draw_measured(Canvas& canvas, const Box& at, const Reply& reply, const Density& density) {
  const bool pump = reply.at("tool").text("drive") != "screw";
  const std::vector<std::string> names{"OD 1",
                                       "OD 2",
                                       "wall",
                                       "pipe temp.",
                                       "gauge, side 1",
                                       "gauge, side 2",
                                       "close began",
                                       "on the stops",
                                       "gap, end 1",
                                       "gap, end 2",
                                       pump ? "pump at touch" : "turns",
                                       pump ? "pump on stops" : "turns back",
                                       "let-by",
                                       "gas in hole",
                                       "gas downwind",
                                       "open began",
                                       "fully open",
                                       "place marked"};
  const std::vector<std::string> signatures{"squeezed by", "watched by", "released by"};
  constexpr double gutter = 7;
  const double row = density.pen_row;
  double y = at.y;
  const auto set = [&](std::span<const std::string> labels, std::size_t columns) {
    const double n = static_cast<double>(columns), width = (at.w - gutter * (n - 1)) / n;
    for (std::size_t i = 0; i < labels.size(); ++i) {
      const double x = at.x + static_cast<double>(i % columns) * (width + gutter);
      write_line(canvas, {x, y + row * static_cast<double>(i / columns), width, row - 2},
                 labels[i]);
    }
    y += row * static_cast<double>((labels.size() + columns - 1) / columns);
  };
  const bool wide =
      names.size() % density.pen_columns == 0;  // then signatures have a row of their own
  std::vector<std::string> labels = names;
  if (!wide) labels.insert(labels.end(), signatures.begin(), signatures.end());
  set(labels, density.pen_columns);
  if (wide) set(signatures, signatures.size());
  return y - at.y;
}

}  // namespace bellhole::sheets
