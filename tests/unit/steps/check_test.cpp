// Each rule of step_check with a list that keeps it and one that does not; and that no order which
// breaks what a step asks to have behind it is ever let through.
#include "plan/step_check.hpp"

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <functional>

#include "tests/unit/steps/a_plan.hpp"

namespace bellhole::plan {
namespace {

using test::Asked;
using test::has_rule;
using test::move_behind;
using test::position;
using test::step;
using test::take_out;
using test::Town;

const Checked& planned() {
  static const Checked list = Asked(Kind::planned, true).checked();
  return list;
}
const Checked& emergency() {
  static const Checked list = Asked(Kind::emergency).checked();
  return list;
}

std::string all(const Findings& findings) {
  std::string text;
  for (const Finding& f : findings) text += f.rule + ": " + f.says + "\n";
  return text;
}

TEST(StepCheck, TheBaseOrdersBreakNothing) {
  EXPECT_EQ(all(check_steps(planned())), "");
  EXPECT_EQ(all(check_steps(emergency())), "");
  EXPECT_EQ(all(check_steps(Asked(Kind::planned, false).checked())), "");
}

TEST(StepCheck, TheBaseOrdersBreakNothingWhereNothingCanBeSqueezed) {
  Town metal = test::street();
  std::ranges::fill(metal.network.pipes.material, network::Material::steel);
  for (const Kind kind : {Kind::planned, Kind::emergency}) {
    const Asked asked(metal, test::with_gauges(), *wire::built_in_order(kind), kind);
    const Checked list = asked.checked();
    EXPECT_TRUE(std::ranges::none_of(list.shutoffs, &CheckedShutoff::squeeze));
    EXPECT_EQ(all(check_steps(list)), "");
  }
}

struct Break {
  const char* rule;
  const char* how;
  bool in_emergency;
  std::function<void(Checked&)> change;
};

Gauge& gauge_of(Checked& list, const std::string& id, const std::string& point) {
  auto& gauges = step(list, id).gauges;
  const auto found = std::ranges::find(gauges, point, &Gauge::point);
  if (found == gauges.end()) throw std::runtime_error("no gauge at " + point);
  return *found;
}

void swap_steps(Checked& list, const std::string& a, const std::string& b) {
  std::swap(step(list, a), step(list, b));
}

const std::vector<Break>& breaks() {
  static const std::vector<Break> list{
      {"steps.none", "no step at all", false, [](Checked& c) { c.steps.clear(); }},
      {"steps.same_id", "an id stands twice", false,
       [](Checked& c) { step(c, "brief").id = "soap"; }},
      {"steps.incomplete", "nobody is told", false,
       [](Checked& c) { step(c, "vent").report_to = ""; }},
      {"steps.incomplete", "nobody does it", false, [](Checked& c) { step(c, "cut").role = ""; }},
      {"steps.after", "what it needs comes later", false,
       [](Checked& c) { move_behind(c, "start", "shut-A"); }},
      {"steps.after", "what it needs is gone", false, [](Checked& c) { take_out(c, "start"); }},
      {"steps.identify", "one person only", false,
       [](Checked& c) { step(c, "identify-B").names_needed = 1; }},
      {"steps.identify", "the work was not identified", false,
       [](Checked& c) { take_out(c, "identify-work"); }},
      {"steps.readings", "no reading before the first squeeze", false,
       [](Checked& c) { take_out(c, "readings"); }},
      {"steps.readings", "none between let-by and cut", false,
       [](Checked& c) { take_out(c, "gas-free"); }},
      {"steps.gauges_first", "gauges after the first squeeze", false,
       [](Checked& c) { move_behind(c, "gauges", "shut-A"); }},
      {"steps.gauges_first", "gauges after the first squeeze", true,
       [](Checked& c) { move_behind(c, "gauges", "hold-B"); }},
      {"steps.bypass_first", "bypass after the first squeeze", false,
       [](Checked& c) { move_behind(c, "bypass-flowing", "shut-A"); }},
      {"steps.bypass_first", "no word of a bypass", false,
       [](Checked& c) {
         for (const char* id :
              {"bypass-made", "bypass-tested", "bypass-purged", "bypass-flowing", "bypass-off"})
           take_out(c, id);
       }},
      {"steps.bypass_order", "purged before it is tested", false,
       [](Checked& c) { swap_steps(c, "bypass-tested", "bypass-purged"); }},
      {"steps.bypass_last", "bypass off before the last opening", false,
       [](Checked& c) { move_behind(c, "bypass-off", "soap"); }},
      {"steps.bypass_last", "bypass never off", false,
       [](Checked& c) { take_out(c, "bypass-off"); }},
      {"steps.tool_first", "tool not looked at", false, [](Checked& c) { take_out(c, "tool-A"); }},
      {"steps.tool_first", "tool not set", false, [](Checked& c) { take_out(c, "set-A"); }},
      {"steps.ground_first", "not grounded", false, [](Checked& c) { take_out(c, "ground-B"); }},
      {"steps.each_shutoff", "one is never shut", false, [](Checked& c) { take_out(c, "shut-B"); }},
      {"steps.each_shutoff", "one is never opened", false,
       [](Checked& c) { take_out(c, "open-B"); }},
      {"steps.each_shutoff", "one that the plan does not have", false,
       [](Checked& c) { step(c, "shut-B").about = "Z"; }},
      {"steps.hold", "nobody watches between two squeezes", false,
       [](Checked& c) { move_behind(c, "hold-A", "shut-B"); }},
      {"steps.hold", "nobody watches after the last", false,
       [](Checked& c) { take_out(c, "hold-B"); }},
      {"steps.hold", "nobody watches after the last", true,
       [](Checked& c) {
         c.steps.erase(std::ranges::remove(c.steps, StepKind::hold_watch, &Step::kind).begin(),
                       c.steps.end());
       }},
      {"steps.locks_first", "hoses off before the locks carry", false,
       [](Checked& c) { swap_steps(c, "locks-A", "hoses-A"); }},
      {"steps.locks_first", "no locks", false, [](Checked& c) { take_out(c, "locks-B"); }},
      {"steps.second_squeeze", "two are wanted", false,
       [](Checked& c) { c.shutoffs.front().two = true; }},
      {"steps.vent_early", "vented while it is fed", false,
       [](Checked& c) { move_behind(c, "vent", "hold-A"); }},
      {"steps.let_by", "cut before let-by is judged", false,
       [](Checked& c) { move_behind(c, "let-by", "cut"); }},
      {"steps.let_by", "let-by never judged", true, [](Checked& c) { take_out(c, "let-by"); }},
      {"steps.let_by", "let-by judged before venting", false,
       [](Checked& c) { swap_steps(c, "vent", "let-by"); }},
      {"steps.joined", "gas before the last joint", false,
       [](Checked& c) { move_behind(c, "tie-in", "purge"); }},
      {"steps.tested", "no test", false, [](Checked& c) { take_out(c, "test"); }},
      {"steps.meters", "meters never counted", true, [](Checked& c) { take_out(c, "meters"); }},
      {"steps.meters", "meters shut after their gas", false,
       [](Checked& c) { move_behind(c, "meters", "shut-A"); }},
      {"steps.purged", "opened before the purge", false,
       [](Checked& c) { move_behind(c, "purge", "open-A"); }},
      {"steps.soaped", "opened before the soap", false, [](Checked& c) { take_out(c, "soap"); }},
      {"steps.equalised", "opened on a difference", false,
       [](Checked& c) { take_out(c, "equalise-A"); }},
      {"steps.left_early", "post left before everything is open", false,
       [](Checked& c) { move_behind(c, "down-P1", "let-by"); }},
      {"steps.relight", "customers back too soon", false,
       [](Checked& c) { move_behind(c, "relight", "purge"); }},
      {"steps.relight", "customers never back", false, [](Checked& c) { take_out(c, "relight"); }},
      {"steps.after_care", "nobody looks", false, [](Checked& c) { take_out(c, "look-A"); }},
      {"steps.after_care", "nobody marks", false, [](Checked& c) { take_out(c, "mark-B"); }},
      {"steps.after_care", "nobody puts the tool away", false,
       [](Checked& c) { take_out(c, "care-A"); }},
      {"steps.as_laid", "nobody draws", false, [](Checked& c) { take_out(c, "as-laid"); }},
      {"steps.clear_first", "shut before people leave", true,
       [](Checked& c) { move_behind(c, "clear", "shut-B"); }},
      {"steps.hold_point", "let-by is no hold point", false,
       [](Checked& c) { step(c, "let-by").hold_point = false; }},
      {"steps.two_names", "one name at the cut", false,
       [](Checked& c) { step(c, "cut").names_needed = 1; }},
      {"steps.no_return", "a cut that reads as if it could be undone", false,
       [](Checked& c) { step(c, "cut").point_of_no_return = false; }},
      {"steps.no_return", "undo takes longer than the gas lasts", false,
       [](Checked& c) {
         step(c, "shut-A").undo = Duration::from_si(600);
         step(c, "shut-A").time_left = Duration::from_si(300);
         step(c, "shut-A").point_of_no_return = false;
       }},
      {"steps.emergency_gate", "a closing waits for a signature", true,
       [](Checked& c) { step(c, "shut-A").hold_point = true; }},
      {"steps.gauge_limits", "a low limit is gone", false,
       [](Checked& c) { gauge_of(c, "hold-A", "A-live").low.reset(); }},
      {"steps.gauge_limits", "a high limit is gone", false,
       [](Checked& c) { gauge_of(c, "let-by", "B-part").high.reset(); }},
      {"steps.gauge_crossed", "low above high", false,
       [](Checked& c) { gauge_of(c, "gauges", "A-live").low = GaugePressure::from_si(1e7); }},
      {"steps.gauge_range", "a gauge that ends below its limit", false,
       [](Checked& c) { gauge_of(c, "gauges", "A-live").range = GaugePressure::from_si(1e5); }},
      {"steps.gauge_range", "no range", false,
       [](Checked& c) { gauge_of(c, "gauges", "A-live").range.reset(); }},
      {"steps.gauge_expect", "expected above its limit", false,
       [](Checked& c) { gauge_of(c, "hold-B", "A-live").expect = GaugePressure::from_si(5e5); }},
      {"steps.gauge_missing", "no gauge at the station", false,
       [](Checked& c) {
         std::erase_if(step(c, "shut-A").gauges, [](const Gauge& g) { return g.point == "R-out"; });
       }},
      {"steps.gauge_point", "a gauge at no known point", false,
       [](Checked& c) { step(c, "vent").gauges.front().point = "elsewhere"; }},
      {"steps.gauge_reader", "a gauge with nobody at it", false,
       [](Checked& c) { gauge_of(c, "hold-A", "B-live").post = "P9"; }},
      {"steps.regulator_post", "nobody at the station", false,
       [](Checked& c) {
         std::erase_if(c.steps,
                       [&](const Step& s) { return s.kind == StepKind::post && s.about == "R"; });
       }},
      {"steps.post_empty", "a post that nobody takes", false,
       [](Checked& c) { take_out(c, "post-P1"); }},
      {"steps.post_twice", "one person at two places", false,
       [](Checked& c) {
         step(c, "vent").post = "P1";
         step(c, "vent").place = "the stack";
       }},
      {"steps.post_twice", "one person takes two posts", false,
       [](Checked& c) { step(c, "post-P2").post = "P1"; }},
      {"steps.words", "a word that permits", false,
       [](Checked& c) { step(c, "cut").does = "Cut the main, it is safe."; }},
  };
  return list;
}

class StepCheckBreaks : public testing::TestWithParam<std::size_t> {};

TEST_P(StepCheckBreaks, AreNamedByTheirRule) {
  const Break& broken = breaks()[GetParam()];
  Checked list = broken.in_emergency ? emergency() : planned();
  broken.change(list);
  EXPECT_TRUE(has_rule(check_steps(list), broken.rule))
      << broken.rule << ", " << broken.how << ":\n"
      << all(check_steps(list));
}

INSTANTIATE_TEST_SUITE_P(Each, StepCheckBreaks, testing::Range(std::size_t{0}, breaks().size()));

/// The rules by kind hold without what the steps say themselves.
TEST_P(StepCheckBreaks, AreNamedWithoutTheStepsOwnWord) {
  const Break& broken = breaks()[GetParam()];
  if (std::string_view(broken.rule) == "steps.after") return;  // the step's own word
  Checked list = broken.in_emergency ? emergency() : planned();
  for (Step& s : list.steps) s.after.clear();
  broken.change(list);
  EXPECT_TRUE(has_rule(check_steps(list), broken.rule)) << broken.rule << ", " << broken.how;
}

TEST(StepCheck, EveryOrderThatBreaksAPrecedenceIsRefused) {
  const bool held = rc::check("a shuffle that breaks `after` is refused", [] {
    Checked list = *rc::gen::arbitrary<bool>() ? planned() : emergency();
    const auto moves = *rc::gen::inRange(1, 6);
    for (int i = 0; i < moves; ++i) {
      const auto from = *rc::gen::inRange<std::size_t>(0, list.steps.size());
      const auto to = *rc::gen::inRange<std::size_t>(0, list.steps.size());
      Step moved = list.steps[from];
      list.steps.erase(list.steps.begin() + static_cast<std::ptrdiff_t>(from));
      list.steps.insert(list.steps.begin() + static_cast<std::ptrdiff_t>(to), std::move(moved));
    }
    bool broken = false;
    for (std::size_t i = 0; i < list.steps.size(); ++i) {
      for (const std::string& id : list.steps[i].after) broken |= position(list, id) > i;
    }
    RC_ASSERT(has_rule(check_steps(list), "steps.after") == broken);
  });
  EXPECT_TRUE(held);
}

TEST(StepCheck, NoStepThatTheBaseOrderNeedsCanBeLeftOut) {
  // What may be left out without a word: what only tells, digs, reinforces, reads once more.
  const std::vector<std::string> free{"brief",   "hole-A",  "hole-B",  "reinforce-A", "reinforce-B",
                                      "down-P1", "down-P2", "down-P3", "down-P4",     "down-P5",
                                      "close",   "settle",  "tracer",  "meters-again"};
  for (const Step& one : planned().steps) {
    if (std::ranges::find(free, one.id) != free.end()) continue;
    Checked list = planned();
    take_out(list, one.id);
    for (Step& s : list.steps) std::erase(s.after, one.id);
    const Findings findings = check_steps(list);
    if (one.id == "start" || one.id.starts_with("hoses")) continue;  // a company may do without
    EXPECT_FALSE(findings.empty()) << one.id;
  }
}

}  // namespace
}  // namespace bellhole::plan
