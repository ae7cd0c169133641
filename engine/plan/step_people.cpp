// Who stands where: one person, one place, and nobody missing where one is needed.
#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "plan/step_rules.hpp"

namespace bellhole::plan {
namespace {

using enum StepKind;

class People {
 public:
  explicit People(StepView& view) : view_(view) {}

  void check() {
    stations();
    posts();
    walk();
  }

 private:
  /// Whether somebody takes a post at an element before a step.
  [[nodiscard]] bool manned(const std::string& element, std::size_t before) const {
    for (const Post& post : view_.list().posts) {
      if (post.element != element) continue;
      for (const std::size_t i : view_.of(StepKind::post)) {
        if (i < before && view_.steps()[i].post == post.id) return true;
      }
    }
    return false;
  }

  /// Every station that the job can upset has a person before anything is shut. One that is itself
  /// shut off by the plan has the person at that shut-off.
  void stations() {
    const auto shuts = view_.of(shut);
    const std::size_t first = shuts.empty() ? view_.steps().size() : shuts.front();
    for (const std::string& station : view_.list().stations) {
      const bool own =
          std::ranges::any_of(view_.list().shutoffs, [&](const CheckedShutoff& shutoff) {
            return !shutoff.squeeze && shutoff.element == station && manned(shutoff.letter, first);
          });
      if (own || manned(station, first)) continue;
      view_.halt("steps.regulator_post",
                 fmt::format("nobody stands at regulator {} before the first closing", station),
                 "post a person who can shut it, with a gauge on its outlet", station);
    }
  }

  /// Every post of the list is taken before the first closing.
  void posts() {
    const auto shuts = view_.of(shut);
    const std::size_t first = shuts.empty() ? view_.steps().size() : shuts.front();
    for (const Post& post : view_.list().posts) {
      const bool taken = std::ranges::any_of(view_.of(StepKind::post), [&](std::size_t i) {
        return i < first && view_.steps()[i].post == post.id;
      });
      if (!taken)
        view_.halt(
            "steps.post_empty",
            fmt::format("post {} at {} is not taken before the first closing", post.id, post.place),
            "man it, or strike it from the list with the engineer", post.id);
    }
  }

  /// Follows everybody through the list.
  void walk() {
    std::map<std::string, std::string> held;  // post -> place, as long as it is held
    for (std::size_t i = 0; i < view_.steps().size(); ++i) {
      const Step& step = view_.steps()[i];
      if (step.kind == StepKind::post) {
        take(i, held);
      } else if (step.kind == stand_down) {
        held.erase(step.post);
      } else if (const auto at = held.find(step.post);
                 !step.post.empty() && at != held.end() && at->second != step.place) {
        two_places(i, at->second);
      }
      if (step.kind == shut || step.kind == hold_watch || step.kind == open) readers(i, held);
    }
  }

  void take(std::size_t i, std::map<std::string, std::string>& held) {
    const Step& step = view_.steps()[i];
    const auto listed = std::ranges::find(view_.list().posts, step.post, &Post::id);
    if (step.post.empty() || listed == view_.list().posts.end()) {
      view_.halt("steps.post_empty", fmt::format("{} names no post of the list", view_.name(i)),
                 "name who stands there", step.id);
      return;
    }
    const auto [at, taken] = held.emplace(step.post, step.place);
    if (!taken || listed->place != step.place) two_places(i, taken ? listed->place : at->second);
  }

  void two_places(std::size_t i, const std::string& place) {
    const Step& step = view_.steps()[i];
    view_.halt("steps.post_twice",
               fmt::format("{} puts {} at {}, who stands at {}", view_.name(i), step.post,
                           step.place, place),
               "one person, one place: name another person", step.id);
  }

  /// While something moves, each gauge has a reader who stands at it; nobody reads two places.
  void readers(std::size_t i, const std::map<std::string, std::string>& held) {
    const Step& step = view_.steps()[i];
    std::string without;
    for (const Gauge& gauge : step.gauges) {
      const auto point = std::ranges::find(view_.list().points, gauge.point, &GaugePoint::id);
      const bool own = point != view_.list().points.end() && point->post == gauge.post;
      if (!own || !held.contains(gauge.post))
        without += (without.empty() ? "" : ", ") + gauge.point;
    }
    if (!without.empty())
      view_.halt("steps.gauge_reader",
                 fmt::format("{}: nobody stands at the gauges {}", view_.name(i), without),
                 "every gauge has a person at it while something is moved", step.id);
  }

  StepView& view_;
};

}  // namespace

void check_step_people(StepView& view) { People(view).check(); }

}  // namespace bellhole::plan
