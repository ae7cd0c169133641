// The front of an emergency: minutes until the gas is stopped against customers out, as a picture,
// and what each of its plans shuts.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "sheets/amounts.hpp"
#include "sheets/parts.hpp"
#include "sheets/run_parts.hpp"

namespace bellhole::sheets {
namespace {

constexpr std::array dashes{3.0, 2.0};

double out_of(const Reply& at) { return static_cast<double>(at.texts("customers_out").size()); }

/// A step of an axis that reads well: 1, 2 or 5 times a power of ten, at most `most` of them.
double axis_step(double range, int most) {
  const double power = std::pow(10.0, std::floor(std::log10(std::max(range / most, 1e-6))));
  for (const double step : {1.0, 2.0, 5.0}) {
    if (step * power * most >= range) return step * power;
  }
  return 10 * power;
}

/// Name of a plan of the front on paper: its rank among the plans, or a letter of its own.
std::string name_of(const Reply& plan, std::size_t position) {
  const auto rank = plan.number("rank");
  return rank ? fmt::format("plan {:.0f}", *rank)
              : fmt::format("F{}", position + 1);  // not among the ranked ones
}

class Picture {
 public:
  Picture(Canvas& canvas, const Box& at, const std::vector<Reply>& plans)
      : canvas_(canvas), area_{at.x + 46, at.y + 22, at.w - 66, at.h - 56} {
    for (const Reply& plan : plans) {
      take(plan.number("time_to_stop_s"), out_of(plan));
      for (const Reply& stage : plan.list("stages"))
        take(stage.number("holds_at_s"), out_of(stage));
    }
    minutes_step_ = std::max(axis_step(minutes_, 6), 1.0);
    people_step_ = std::max(axis_step(people_, 4), 1.0);
    minutes_ = std::max(1.0, std::ceil(minutes_ / minutes_step_ + 0.3)) * minutes_step_;
    people_ = std::max(1.0, std::ceil(people_ / people_step_ + 0.2)) * people_step_;
  }

  void draw(const std::vector<Reply>& plans) {
    axes();
    for (std::size_t i = 0; i < plans.size(); ++i) {
      stages(plans[i]);
      const auto time = plans[i].number("time_to_stop_s");
      if (time) point(*time, out_of(plans[i]), name_of(plans[i], i), Fill::black);
    }
  }

 private:
  void take(std::optional<double> seconds, double people) {
    if (seconds) minutes_ = std::max(minutes_, *seconds / 60.0);
    people_ = std::max(people_, people);
  }
  [[nodiscard]] double x(double seconds) const {
    return area_.x + area_.w * seconds / 60.0 / minutes_;
  }
  [[nodiscard]] double y(double people) const {
    return area_.bottom() - area_.h * people / people_;
  }

  void axes() {
    canvas_.line({area_.x, area_.bottom()}, {area_.right(), area_.bottom()}, {1.0});
    canvas_.line({area_.x, area_.y}, {area_.x, area_.bottom()}, {1.0});
    constexpr int most = 12;
    for (int i = 0; i <= most && i * minutes_step_ <= minutes_ + 1e-9; ++i) {
      const double at = x(i * minutes_step_ * 60.0);
      canvas_.line({at, area_.bottom()}, {at, area_.bottom() + 4}, {0.8});
      canvas_.text({at - 25, area_.bottom() + 4}, 50, fmt::format("{:.0f}", i * minutes_step_),
                   {size::fine, Align::centre});
    }
    for (int i = 0; i <= most && i * people_step_ <= people_ + 1e-9; ++i) {
      const double at = y(i * people_step_);
      canvas_.line({area_.x - 4, at}, {area_.x, at}, {0.8});
      canvas_.text({area_.x - 44, at - 6}, 37, fmt::format("{:.0f}", i * people_step_),
                   {size::fine, Align::right});
    }
    canvas_.text({area_.x, area_.bottom() + 15}, area_.w,
                 "minutes from the order until the gas is stopped", {size::fine, Align::centre});
    canvas_.text({area_.x - 44, area_.y - 21}, 200, "customers out", fine_type);
  }

  void point(double seconds, double people, const std::string& name, Fill fill) {
    canvas_.circle({x(seconds), y(people)}, 3.2, fill, {1.2});
    const double width = canvas_.width(bold(name), fine_type);
    const double left = std::min(x(seconds) + 6, area_.right() + 18 - width);
    canvas_.text({left, y(people) - 12}, width + 2, bold(name), fine_type);
  }

  /// From the plan to what the same crews make of it while it holds.
  void stages(const Reply& plan) {
    const auto list = plan.list("stages");
    for (std::size_t i = 1; i < list.size(); ++i) {
      const auto from = list[i - 1].number("holds_at_s"), to = list[i].number("holds_at_s");
      if (!from || !to) continue;
      const Point corner[] = {{x(*from), y(out_of(list[i - 1]))},
                              {x(*to), y(out_of(list[i - 1]))},
                              {x(*to), y(out_of(list[i]))}};
      canvas_.polyline(corner, {0.9, dashes});
      canvas_.circle(corner[2], 2.6, Fill::white, {1.1});
    }
  }

  Canvas& canvas_;
  Box area_;
  double minutes_ = 1, people_ = 1, minutes_step_ = 1, people_step_ = 1;
};

Text words_of(const Reply& plan, std::size_t position) {
  std::vector<std::string> acts;
  for (const Reply& shutoff : plan.list("shutoffs")) acts.push_back(shutoff.text("says"));
  const auto must = plan.texts("must_not_lose_out").size();
  Text says = bold(capital(name_of(plan, position)) + ": gas stopped after " +
                   lasting(plan.number("time_to_stop_s")) + ", " +
                   counted(plan.texts("customers_out").size(), "customer", "customers") + " out");
  if (must > 0) says += bold(fmt::format(", {} of them must not lose gas", must));
  says += ". " + capital(joined(acts, "; ")) + ".";
  const auto stages = plan.list("stages");
  for (std::size_t i = 1; i < stages.size(); ++i) {
    says +=
        bold(" Then, after " + lasting(stages[i].number("holds_at_s")) + ", " +
             counted(stages[i].texts("customers_out").size(), "customer", "customers") + " out: ") +
        joined(stages[i].texts("shut"), "; ");
    if (const auto opened = stages[i].texts("opened"); !opened.empty())
      says += "; open again " + joined(opened, ", ");
    says += ".";
  }
  return says;
}

}  // namespace

void set_front_of_plans(Flow& flow, const RunJob& job) {
  const auto plans = job.reply.list("front");
  if (plans.empty()) return;
  constexpr double height = 158;
  flow.heading("Sooner, or fewer out: the person in charge chooses", height + 30, size::table);
  flow.block([&](const Box& at) {
    Picture(flow.canvas(), {at.x, at.y, at.w * 0.62, height}, plans).draw(plans);
    const Box beside{at.x + at.w * 0.64, at.y + 6, at.w * 0.36, 0};
    const double words = flow.canvas().text(
        {beside.x, beside.y}, beside.w,
        "A dot is a plan: none stops the gas as soon with fewer out. A dashed line is the same "
        "crews "
        "going on to tighter shut-offs while the first hold; at the ring these hold and the first "
        "are opened again.",
        fine_type);
    return std::max(height, words + 6);
  });
  for (std::size_t i = 0; i < plans.size(); ++i) {
    flow.paragraph(words_of(plans[i], i), fine_type);
    flow.space(2);
  }
  const Reply proof = job.reply.at("front_proof");
  if (proof && !proof.flag("complete").value_or(true))
    flow.paragraph(bold("The search stopped at its limit: a plan may be missing here."), fine_type);
}

}  // namespace bellhole::sheets
