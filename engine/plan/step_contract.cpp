// What each step must hold for itself: words, gauges with limits, names.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <set>

#include "plan/step_rules.hpp"

namespace bellhole::plan {
namespace {

using enum StepKind;

/// Pressures within this of each other are the same: it stands for rounding, not for a limit.
constexpr double same_pressure_pa = 1.0;

/// Words that sound like permission. None of them is ever an instruction.
constexpr std::array permitting{std::string_view("ok"), std::string_view("okay"),
                                std::string_view("safe"), std::string_view("proved"),
                                std::string_view("proven")};

std::vector<std::string> words_of(std::string_view text) {
  std::vector<std::string> words(1);
  for (const char c : text) {
    if (std::isalpha(static_cast<unsigned char>(c)) != 0)
      words.back() += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    else if (!words.back().empty())
      words.emplace_back();
  }
  return words;
}

class Contract {
 public:
  explicit Contract(StepView& view) : view_(view) {}

  void check() {
    std::set<std::string> ids;
    for (std::size_t i = 0; i < view_.steps().size(); ++i) {
      const Step& step = view_.steps()[i];
      if (!ids.insert(step.id).second)
        view_.halt("steps.same_id", fmt::format("the id {} stands twice", step.id),
                   "give each step its own id", step.id);
      complete(i);
      words(i);
      names(i);
      gauges_there(i);
      for (const Gauge& gauge : step.gauges) gauge_holds(i, gauge);
    }
  }

 private:
  void complete(std::size_t i) {
    const Step& step = view_.steps()[i];
    std::string missing;
    for (const auto& [text, what] :
         {std::pair(&step.does, "what is done"), std::pair(&step.if_not, "what if it is not so"),
          std::pair(&step.report_to, "who is told"), std::pair(&step.role, "who does it"),
          std::pair(&step.place, "where")}) {
      if (text->empty()) missing += (missing.empty() ? "" : ", ") + std::string(what);
    }
    if (!missing.empty())
      view_.halt("steps.incomplete", fmt::format("{} does not say: {}", view_.name(i), missing),
                 "a step without these is no step", step.id);
  }

  void words(std::size_t i) {
    const Step& step = view_.steps()[i];
    for (const std::string& word : words_of(step.does + " " + step.if_not)) {
      if (std::ranges::find(permitting, word) == permitting.end()) continue;
      view_.say("steps.words", Grade::warn,
                fmt::format("{} says \"{}\", which sounds like permission", view_.name(i), word),
                "say what is seen or read instead", step.id);
    }
  }

  void names(std::size_t i) {
    const Step& step = view_.steps()[i];
    const auto answered = [&](StepKind kind, int least) {
      if (step.kind != kind || (step.hold_point && step.names_needed >= least)) return;
      view_.halt("steps.hold_point",
                 fmt::format("{} ({}) is no hold point with {} name{} to it", view_.name(i),
                             to_string(kind), least, least == 1 ? "" : "s"),
                 "nobody goes on before a person answers for it", step.id);
    };
    if (view_.planned()) answered(gauges_on, 1);
    answered(let_by_watch, 1);
    answered(cut, 2);
    answered(purge, 1);
    answered(soap, 1);
    if (step.point_of_no_return && step.names_needed < 2)
      view_.halt("steps.two_names",
                 fmt::format("{} is a point of no return and asks for {} name{}", view_.name(i),
                             step.names_needed, step.names_needed == 1 ? "" : "s"),
                 "two people accept it before it is done", step.id);
    if (step.kind == cut && !step.point_of_no_return)
      view_.halt("steps.no_return",
                 fmt::format("{} cuts the main and reads as if it could be undone", view_.name(i)),
                 "name it a point of no return, with two names", step.id);
    if (step.undo && step.time_left && *step.undo > *step.time_left && !step.point_of_no_return)
      view_.halt(
          "steps.no_return",
          fmt::format("{}: to undo it takes longer than the gas lasts, and it is not named a "
                      "point of no return",
                      view_.name(i)),
          "name it a point of no return, with two names", step.id);
    if (!view_.planned() && step.kind == shut && step.hold_point)
      view_.halt("steps.emergency_gate",
                 fmt::format("{} closes in an emergency and waits for a signature", view_.name(i)),
                 "closing in an emergency is never held up; who decided signs afterwards", step.id);
  }

  const GaugePoint* point(std::string_view id) const {
    for (const GaugePoint& point : view_.list().points)
      if (point.id == id) return &point;
    return nullptr;
  }

  /// Points that a step of this kind must have a gauge at.
  bool wants(const Step& step, const GaugePoint& point) const {
    const bool own = point.shutoff && *point.shutoff < view_.list().shutoffs.size() &&
                     view_.list().shutoffs[*point.shutoff].letter == step.about;
    const bool station =
        point.kind == PointKind::regulator_inlet || point.kind == PointKind::regulator_outlet;
    switch (step.kind) {
      case gauges_on:
        return true;
      case shut:
      case open:
        return own || station || point.kind == PointKind::low_point;
      case equalise:
        return own;
      case hold_watch:
        return true;
      case vent_down:
      case let_by_watch:
      case cut:
        return point.kind == PointKind::part_side || station;
      default:
        return false;
    }
  }

  void gauges_there(std::size_t i) {
    const Step& step = view_.steps()[i];
    std::string missing;
    for (const GaugePoint& point : view_.list().points) {
      if (wants(step, point) &&
          std::ranges::find(step.gauges, point.id, &Gauge::point) == step.gauges.end())
        missing += (missing.empty() ? "" : ", ") + point.id;
    }
    if (!missing.empty())
      view_.halt(
          "steps.gauge_missing",
          fmt::format("{} ({}) has no gauge at: {}", view_.name(i), to_string(step.kind), missing),
          "every point that this step can move is read", step.id);
  }

  void gauge_holds(std::size_t i, const Gauge& gauge) {
    const Step& step = view_.steps()[i];
    if (point(gauge.point) == nullptr)
      view_.halt("steps.gauge_point",
                 fmt::format("{} reads a gauge at {}, which is no point of the list", view_.name(i),
                             gauge.point),
                 "name a point of gauge_points", step.id);
    const auto once = [&](std::string_view rule) {
      return said_.emplace(std::string(rule), gauge.point).second;
    };
    if ((!gauge.low || !gauge.high) && once("steps.gauge_limits"))
      view_.halt("steps.gauge_limits",
                 fmt::format("{}: the gauge at {} has no {} limit: decide", view_.name(i), gauge.at,
                             !gauge.low && !gauge.high ? "low and no high"
                             : !gauge.low              ? "low"
                                                       : "high"),
                 "nobody can be told when to shout without a limit", step.id);
    if (!gauge.range && once("steps.gauge_range"))
      view_.say("steps.gauge_range", Grade::undecided,
                fmt::format("{}: the range of the gauge at {} is not set: decide", view_.name(i),
                            gauge.at),
                "choose a gauge that shows its limits well", step.id);
    if (gauge.range && gauge.high && gauge.range->si() + same_pressure_pa < gauge.high->si() &&
        once("steps.gauge_range, too small"))
      view_.halt(
          "steps.gauge_range",
          fmt::format("{}: the gauge at {} ends below its own high limit", view_.name(i), gauge.at),
          "fit a gauge that can read its limit", step.id);
    if (gauge.low && gauge.high && gauge.low->si() > gauge.high->si() &&
        once("steps.gauge_crossed"))
      view_.halt("steps.gauge_crossed",
                 fmt::format("{}: the gauge at {} has its low limit above its high limit",
                             view_.name(i), gauge.at),
                 "correct the limits", step.id);
    expected(i, gauge);
  }

  void expected(std::size_t i, const Gauge& gauge) {
    if (!gauge.expect) return;
    const bool under = gauge.low && gauge.expect->si() < gauge.low->si() - same_pressure_pa;
    const bool over = gauge.high && gauge.expect->si() > gauge.high->si() + same_pressure_pa;
    if (!under && !over) return;
    // It mostly stays there for many steps: said where it begins.
    if (!said_.emplace(under ? "expected below" : "expected above", gauge.point).second) return;
    Finding& finding = view_.say(
        "steps.gauge_expect", Grade::halt,
        fmt::format("from {} on the gauge at {} is expected {} its {} limit", view_.name(i),
                    gauge.at, under ? "below" : "above", under ? "low" : "high"),
        "do not start; change the plan, the order or the day, or let the engineer set another "
        "limit",
        view_.steps()[i].id);
    finding.value_si = gauge.expect->si();
    finding.limit_si = under ? gauge.low->si() : gauge.high->si();
    finding.unit_si = std::string(kinds::GaugePressure::symbol);
  }

  StepView& view_;
  std::set<std::pair<std::string, std::string>> said_;
};

}  // namespace

void check_step_contract(StepView& view) { Contract(view).check(); }

}  // namespace bellhole::plan
