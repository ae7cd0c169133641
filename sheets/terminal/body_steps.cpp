// The steps of a plan on the terminal: who stands where, what the gauges may read, and the list.
#include <fmt/format.h>

#include <algorithm>

#include "sheets/terminal/bodies.hpp"

namespace bellhole::sheets {
namespace {

using units::System;
using units::Toward;

std::string pressure(const Json& gauge, const char* key, System system, Toward toward) {
  const auto found = gauge.find(key);
  if (found == gauge.end() || !found->is_number()) return "decide";
  return units::print(GaugePressure::from_si(found->get<double>()), system, toward);
}

std::string posts_text(const Json& plan) {
  std::string out;
  for (const Json& post : plan.at("posts"))
    out += wrapped(
        fmt::format("    {:<4}", word(post, "id")),
        fmt::format("{}, {}: {}", word(post, "place"), word(post, "role"), word(post, "why")), 8);
  return out;
}

/// Every gauge once, as it is first read: what it shows before anything is shut, and its limits.
std::string gauges_text(const Json& plan, System system) {
  std::string out;
  for (const Json& point : plan.at("gauge_points")) {
    for (const Json& step : plan.at("steps")) {
      const Json& gauges = step.at("gauges");
      const auto gauge = std::ranges::find_if(
          gauges, [&](const Json& g) { return word(g, "point") == word(point, "id"); });
      if (gauge == gauges.end()) continue;
      const bool known = gauge->at("expect_pa_gauge").is_number();
      out += fmt::format(
          "    {:<28} now {:>10}   low {:>10}   high {:>10}   read by {}\n", word(point, "at"),
          known ? pressure(*gauge, "expect_pa_gauge", system, Toward::nearest) : "-",
          pressure(*gauge, "low_pa_gauge", system, Toward::up),
          pressure(*gauge, "high_pa_gauge", system, Toward::down), word(point, "post"));
      break;
    }
  }
  return out;
}

std::string signs_text(const Json& step) {
  std::string signs;
  const auto add = [&](std::string text) { signs += (signs.empty() ? "" : ", ") + text; };
  if (step.at("point_of_no_return").get<bool>()) add("NO WAY BACK");
  if (step.at("hold_point").get<bool>()) add("HOLD");
  if (const int names = step.at("names_needed").get<int>(); names > 0)
    add(fmt::format("{} name{}", names, names == 1 ? "" : "s"));
  return signs.empty() ? "" : " [" + signs + "]";
}

std::string way_back_text(const Json& step, System system) {
  if (!step.at("undo_s").is_number() || !step.at("time_left_s").is_number()) return "";
  return fmt::format("          to undo {}, the gas lasts {}\n",
                     shown<kinds::Duration>(step, "undo", system, Toward::up),
                     shown<kinds::Duration>(step, "time_left", system, Toward::down));
}

/// How long to watch; an older plan's steps have none.
std::string watch_text(const Json& step, System system) {
  const auto watch = step.find("watch");
  if (watch == step.end() || !watch->is_object()) return "";
  if (!watch->at("least_s").is_number())
    return wrapped("          watch: ", word(*watch, "says", "how long is not known: decide"), 17);
  return wrapped(
      "          watch at least ",
      shown<kinds::Duration>(*watch, "least", system, Toward::up) + ": " + word(*watch, "says"),
      17);
}

std::string list_text(const Json& steps, System system) {
  std::string out;
  int number = 0;
  for (const Json& step : steps) {
    out +=
        wrapped(fmt::format("    {:>3}  ", ++number),
                word(step, "does") + signs_text(step) + " - " + word(step.at("post"), "role"), 9);
    const std::string kind = word(step, "kind");
    if (kind == "shut" || kind == "open") out += way_back_text(step, system);
    out += watch_text(step, system);
    for (const Json& row : step.at("tool_rows"))
      out += wrapped("          [ ] ", word(row, "says"), 14);
  }
  return out;
}

}  // namespace

std::string steps_text(const Json& plan, System system) {
  const auto steps = plan.find("steps");
  if (steps == plan.end() || steps->empty()) return {};
  const Json& order = plan.at("order");
  std::string out = fmt::format("\n  Steps of plan {}, by the order '{}'\n",
                                plan.at("rank").get<int>(), word(order, "title"));
  if (const std::string because = word(order, "because"); !because.empty())
    out += wrapped("    ", because, 4);
  out += "   Posts\n" + posts_text(plan) + "   Gauges\n" + gauges_text(plan, system);
  return out + "   Steps\n" + list_text(*steps, system);
}

}  // namespace bellhole::sheets
