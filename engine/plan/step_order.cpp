// What must come before what. One table, a few rules that no table says.
#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "plan/step_rules.hpp"

namespace bellhole::plan {
namespace {

using enum StepKind;

/// How many of the earlier kind must be behind a step.
enum class Behind : std::uint8_t {
  any,   ///< at least one
  same,  ///< the one about the same shut-off
  all,   ///< all there are, and at least one
};

/// When a row holds. `opened`: the main is cut, or new pipe is joined; `squeezed`: one shut-off at
/// least is a squeeze.
enum class Holds : std::uint8_t {
  always,
  planned,
  emergency,
  opened,
  squeezed,
  customers,
  customers_planned
};

struct Row {
  std::string_view rule;
  StepKind first, then;
  Behind behind = Behind::any;
  Holds holds = Holds::always;
  bool squeezes_only = false;  ///< of the later steps, only those about a squeeze
  std::string_view because;
};

constexpr std::array rows{
    Row{"steps.clear_first", clear_area, readings, Behind::any, Holds::emergency, false,
        "people leave before anything is read"},
    Row{"steps.clear_first", clear_area, identify, Behind::any, Holds::emergency, false,
        "people leave before anything is looked at"},
    Row{"steps.clear_first", clear_area, shut, Behind::any, Holds::emergency, false,
        "people leave before anything is shut"},
    Row{"steps.readings", readings, shut, Behind::any, Holds::always, true,
        "nobody works in a hole whose air was not read"},
    Row{"steps.gauges_first", gauges_on, shut, Behind::any, Holds::planned, false,
        "without gauges nobody sees what the closing does"},
    Row{"steps.gauges_first", gauges_on, shut, Behind::any, Holds::emergency, true,
        "without gauges nobody sees what the squeeze does"},
    Row{"steps.tool_first", prepare_tool, set_tool, Behind::same, Holds::always, false,
        "a tool is looked at before it is put on the pipe"},
    Row{"steps.tool_first", set_tool, shut, Behind::same, Holds::always, true,
        "a tool that is not set cannot squeeze"},
    Row{"steps.ground_first", ground_wet, set_tool, Behind::same, Holds::always, false,
        "the pipe is grounded and wet before a tool touches it"},
    Row{"steps.ground_first", ground_wet, shut, Behind::same, Holds::always, true,
        "gas through a narrowing pipe charges its wall"},
    Row{"steps.bypass_order", bypass_made, bypass_tested, Behind::any, Holds::always, false,
        "made, tested, purged, flowing"},
    Row{"steps.bypass_order", bypass_tested, bypass_purged, Behind::any, Holds::always, false,
        "made, tested, purged, flowing"},
    Row{"steps.bypass_order", bypass_purged, bypass_flowing, Behind::any, Holds::always, false,
        "made, tested, purged, flowing"},
    Row{"steps.bypass_last", open, bypass_off, Behind::all, Holds::always, false,
        "the bypass carries the load until everything is open"},
    Row{"steps.locks_first", shut, locks_on, Behind::same, Holds::always, false,
        "locks are turned down on a closed tool"},
    Row{"steps.locks_first", locks_on, hoses_off, Behind::same, Holds::always, false,
        "a tool without its pump opens unless the locks carry the load"},
    Row{"steps.second_squeeze", shut, second_squeeze, Behind::same, Holds::always, false,
        "the second squeeze takes what the first lets by"},
    Row{"steps.vent_early", shut, vent_down, Behind::all, Holds::always, false,
        "a part that is still fed cannot be vented down"},
    Row{"steps.hold", hold_watch, vent_down, Behind::any, Holds::always, false,
        "the last closing is watched before anything is let out"},
    Row{"steps.let_by", vent_down, let_by_watch, Behind::any, Holds::always, false,
        "let-by is seen against an empty part"},
    Row{"steps.let_by", shut, let_by_watch, Behind::all, Holds::always, false,
        "let-by is judged with everything shut"},
    Row{"steps.let_by", let_by_watch, cut, Behind::any, Holds::always, false,
        "nobody cuts before let-by is judged"},
    Row{"steps.joined", cut, join, Behind::any, Holds::opened, false, "cut, join, tie in, purge"},
    Row{"steps.joined", join, tie_in, Behind::any, Holds::opened, false,
        "cut, join, tie in, purge"},
    Row{"steps.joined", tie_in, purge, Behind::any, Holds::opened, false,
        "gas does not meet an open end"},
    Row{"steps.tested", test, purge, Behind::any, Holds::opened, false,
        "new pipe is tested, or its test is on record, before gas reaches it"},
    Row{"steps.meters", meters_shut, purge, Behind::any, Holds::customers, false,
        "no gas goes back while a meter may be open"},
    Row{"steps.meters", meters_shut, shut, Behind::any, Holds::customers_planned, false,
        "in planned work meters are shut before their gas is"},
    Row{"steps.purged", purge, open, Behind::all, Holds::opened, false,
        "air is out of the part before it is opened to others"},
    Row{"steps.soaped", purge, soap, Behind::any, Holds::opened, false,
        "joints are soaped at line pressure"},
    Row{"steps.soaped", soap, open, Behind::all, Holds::opened, false,
        "every new joint is soaped before the part is opened"},
    Row{"steps.equalised", equalise, open, Behind::same, Holds::always, false,
        "nothing is opened on a difference of pressure"},
    Row{"steps.left_early", open, stand_down, Behind::all, Holds::always, false,
        "posts are held until everything is open"},
    Row{"steps.relight", open, relight, Behind::all, Holds::always, false,
        "customers come back when everything is open"},
    Row{"steps.after_care", open, reround, Behind::same, Holds::always, false,
        "a closed pipe cannot be made round"},
    Row{"steps.after_care", reround, look, Behind::same, Holds::always, false,
        "whitening and tears are seen on the round pipe"},
    Row{"steps.after_care", open, mark, Behind::same, Holds::always, false,
        "what was squeezed is marked when the tool is off"},
    Row{"steps.after_care", open, tool_care, Behind::same, Holds::always, false,
        "a tool is put away when it is off the pipe"},
    Row{"steps.as_laid", mark, as_laid, Behind::all, Holds::squeezed, false,
        "the drawing shows every squeeze"},
};

class Sequence {
 public:
  explicit Sequence(StepView& view) : view_(view) {}

  void check() {
    if (view_.steps().empty()) {
      view_.halt("steps.none", "the list has no steps", "write the order of the work", "steps");
      return;
    }
    each_shutoff();
    identified();
    for (const Row& row : rows) precedence(row);
    bypass_first();
    holds_between();
    readings_before_cut();
    needed();
    after();
  }

 private:
  [[nodiscard]] bool applies(Holds holds) const {
    switch (holds) {
      case Holds::always:
        return true;
      case Holds::planned:
        return view_.planned();
      case Holds::emergency:
        return !view_.planned();
      case Holds::opened:
        return view_.has(cut) || view_.has(join) || view_.has(tie_in);
      case Holds::squeezed:
        return std::ranges::any_of(view_.list().shutoffs, &CheckedShutoff::squeeze);
      case Holds::customers:
        return view_.list().customers_out > 0;
      case Holds::customers_planned:
        return view_.list().customers_out > 0 && view_.planned();
    }
    return false;
  }

  void precedence(const Row& row) {
    if (!applies(row.holds)) return;
    for (const std::size_t then : view_.of(row.then)) {
      const Step& step = view_.steps()[then];
      if (row.squeezes_only && !view_.squeeze(step.about)) continue;
      const auto firsts =
          row.behind == Behind::same ? view_.of(row.first, step.about) : view_.of(row.first);
      const auto behind = [&](std::size_t first) { return first < then; };
      const bool kept = row.behind == Behind::all
                            ? !firsts.empty() && std::ranges::all_of(firsts, behind)
                            : std::ranges::any_of(firsts, behind);
      if (kept) continue;
      const std::string first =
          firsts.empty() ? fmt::format("no step of kind {} is listed", to_string(row.first))
                         : fmt::format("{} comes later", view_.name(firsts.back()));
      view_.halt(row.rule,
                 fmt::format("{} ({}) needs {} before it, and {}: {}", view_.name(then),
                             to_string(row.then), to_string(row.first), first, row.because),
                 "put the steps in order again; the engineer signs the new list", step.id);
    }
  }

  void each_shutoff() {
    for (const CheckedShutoff& shutoff : view_.list().shutoffs) {
      for (const StepKind kind : {shut, open}) {
        const auto count = view_.of(kind, shutoff.letter).size();
        if (count == 1) continue;
        view_.halt("steps.each_shutoff",
                   fmt::format("shut-off {} has {} steps of kind {}, and wants one", shutoff.letter,
                               count, to_string(kind)),
                   "list it once", shutoff.letter);
      }
      const auto shuts = view_.of(shut, shutoff.letter), opens = view_.of(open, shutoff.letter);
      if (!shuts.empty() && !opens.empty() && opens.front() < shuts.back()) {
        view_.halt("steps.each_shutoff",
                   fmt::format("shut-off {} is opened before it is shut", shutoff.letter),
                   "put the steps in order again", shutoff.letter);
      }
    }
    for (const StepKind kind : {shut, open}) {
      for (const std::size_t i : view_.of(kind)) {
        if (view_.shutoff(view_.steps()[i].about) == nullptr)
          view_.halt(
              "steps.each_shutoff",
              fmt::format("{} is about {}, which is no shut-off of the plan", view_.name(i),
                          view_.steps()[i].about.empty() ? "nothing" : view_.steps()[i].about),
              "name the shut-off by its letter", view_.steps()[i].id);
      }
    }
  }

  /// Two people say which pipe it is, before each shut-off is touched and before the main is cut.
  void identified() {
    const auto by_two = [&](std::string_view about, std::size_t before) {
      return std::ranges::any_of(view_.of(identify, about), [&](std::size_t i) {
        return i < before && view_.steps()[i].names_needed >= 2;
      });
    };
    const auto ask = [&](std::size_t step, std::string_view about, std::string what) {
      if (by_two(about, step)) return;
      view_.halt("steps.identify",
                 fmt::format("{}: two people have not said before that this is {}",
                             view_.name(step), what),
                 "two people read the pipe itself and sign", view_.steps()[step].id);
    };
    for (const std::size_t i : view_.of(shut))
      ask(i, view_.steps()[i].about, "shut-off " + view_.steps()[i].about);
    for (const std::size_t i : view_.of(cut)) ask(i, "", "the main to cut");
  }

  void bypass_first() {
    const auto shuts = view_.of(shut);
    if (shuts.empty()) return;
    for (const StepKind kind : {bypass_made, bypass_tested, bypass_purged, bypass_flowing}) {
      for (const std::size_t i : view_.of(kind)) {
        if (i < shuts.front() || !view_.planned()) continue;
        view_.halt("steps.bypass_first",
                   fmt::format("{} ({}) comes after the first closing, {}", view_.name(i),
                               to_string(kind), view_.name(shuts.front())),
                   "the bypass flows before anything is shut", view_.steps()[i].id);
      }
    }
    const bool some = view_.has(bypass_made) || view_.has(bypass_tested) ||
                      view_.has(bypass_purged) || view_.has(bypass_flowing);
    if (some && !view_.has(bypass_flowing))
      view_.halt("steps.bypass_first", "a bypass is begun and no step sees it flow",
                 "list bypass_flowing before the first closing", "bypass");
    if (view_.has(bypass_flowing) && !view_.has(bypass_off))
      view_.halt("steps.bypass_last", "a bypass flows and no step takes it off",
                 "list bypass_off after the last opening", "bypass");
    if (view_.planned() && !some) {
      const auto agreed = view_.of(bypass_none);
      if (agreed.empty() || agreed.front() > shuts.front())
        view_.halt("steps.bypass_first",
                   "neither a bypass nor the agreement to make none is listed before the first "
                   "closing",
                   "list the bypass, or who agreed that none is made", "bypass");
    }
  }

  /// Planned work holds and watches after each closing; an emergency after the last.
  void holds_between() {
    const auto shuts = view_.of(shut);
    for (std::size_t i = 0; i < shuts.size(); ++i) {
      const bool last = i + 1 == shuts.size();
      if (!view_.planned() && !last) continue;
      const Step& closing = view_.steps()[shuts[i]];
      const auto held = view_.of(hold_watch, closing.about);
      const std::size_t end = last ? view_.steps().size() : shuts[i + 1];
      if (std::ranges::any_of(held, [&](std::size_t h) { return h > shuts[i] && h < end; }))
        continue;
      view_.halt("steps.hold",
                 fmt::format("after {} nobody holds and watches before {}", view_.name(shuts[i]),
                             last ? std::string("the work goes on") : view_.name(shuts[i + 1])),
                 "between two closings the gauges are watched", closing.id);
    }
  }

  void readings_before_cut() {
    for (const std::size_t i : view_.of(cut)) {
      const auto let_by = view_.of(let_by_watch);
      const bool read = std::ranges::any_of(view_.of(readings), [&](std::size_t r) {
        return r < i && !let_by.empty() && r > let_by.front();
      });
      if (!read)
        view_.halt("steps.readings",
                   fmt::format("{}: the air in the hole was not read between let-by and the cut",
                               view_.name(i)),
                   "read gas in the hole once the part is vented, before anyone cuts",
                   view_.steps()[i].id);
    }
  }

  void needed() {
    const auto need = [&](std::string_view rule, StepKind kind, const CheckedShutoff& shutoff) {
      if (!view_.of(kind, shutoff.letter).empty()) return;
      view_.halt(rule,
                 fmt::format("squeeze {} has no step of kind {}", shutoff.letter, to_string(kind)),
                 "list it", shutoff.letter);
    };
    for (const CheckedShutoff& shutoff : view_.list().shutoffs) {
      if (!shutoff.squeeze) continue;
      need("steps.locks_first", locks_on, shutoff);
      if (shutoff.two) need("steps.second_squeeze", second_squeeze, shutoff);
      for (const StepKind kind : {reround, look, mark, tool_care})
        need("steps.after_care", kind, shutoff);
    }
    for (const std::size_t vent : view_.of(vent_down)) {
      for (const StepKind kind : {locks_on, second_squeeze}) {
        for (const std::size_t i : view_.of(kind)) {
          if (i > vent)
            view_.halt(kind == locks_on ? "steps.locks_first" : "steps.second_squeeze",
                       fmt::format("{} comes after {}", view_.name(i), view_.name(vent)),
                       "all squeezes are locked before the part is let down", view_.steps()[i].id);
        }
      }
    }
    if (!view_.has(as_laid))
      view_.halt("steps.as_laid", "nobody draws what was laid, squeezed and tapped",
                 "list as_laid at the end", "steps");
    if (view_.list().customers_out > 0 && !view_.has(relight))
      view_.halt("steps.relight",
                 fmt::format("{} customers lose gas and no step puts them back",
                             view_.list().customers_out),
                 "list relight at the end", "customers");
  }

  /// What a step itself says that it needs.
  void after() {
    const auto& steps = view_.steps();
    for (std::size_t i = 0; i < steps.size(); ++i) {
      for (const std::string& id : steps[i].after) {
        const auto found = std::ranges::find(steps, id, &Step::id);
        const auto position = static_cast<std::size_t>(found - steps.begin());
        if (position < i) continue;
        view_.halt("steps.after",
                   fmt::format("{} needs {} before it, which {}", view_.name(i), id,
                               found == steps.end() ? "is not listed" : "comes later"),
                   "put the steps in order again, or list what is missing", steps[i].id);
      }
    }
  }

  StepView& view_;
};

}  // namespace

void check_step_order(StepView& view) { Sequence(view).check(); }

}  // namespace bellhole::plan
