// What a rehearsal says to the people who must act.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plan/rehearse_parts.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using units::Toward;

const char* const source = "rehearsal of the plan in time; docs/theory/time.md";

class Saying {
 public:
  Saying(const RehearseQuestion& question, const Rehearsal& made)
      : question_(question),
        script_(question.script),
        network_(question.model.network()),
        made_(made) {}

  Findings go() {
    say_short();
    for (const Wrong& wrong : made_.wrong)
      if (wrong.kind != WrongKind::customer_short) say_wrong(wrong);
    for (const WayBackOnClock& way : made_.ways) say_way(way);
    say_out();
    say_times();
    if (made_.regulators_give > 1e-4) say_hunting();
    return std::move(all_);
  }

 private:
  Finding& say(const char* rule, Grade grade, std::string says, std::string action,
               std::string about = {}) {
    all_.push_back({.rule = rule,
                    .grade = grade,
                    .says = std::move(says),
                    .source = source,
                    .evidence = Evidence::derived,
                    .action = std::move(action),
                    .about = std::move(about)});
    return all_.back();
  }
  std::string clock(Duration moment) const { return clock_words(moment, question_.begins.hour); }
  std::string step_words(const std::optional<std::size_t>& step) const {
    return step ? fmt::format("step {}, {}", *step + 1, script_.steps[*step].id)
                : std::string("before the first step");
  }
  std::string customer(Index index) const {
    const auto c = static_cast<std::size_t>(index);
    return network_.customers.id[c] +
           (network_.customers.street[c].empty() ? "" : ", " + network_.customers.street[c]);
  }
  std::string joined_steps(const std::vector<std::size_t>& steps) const {
    std::vector<std::string> ids;
    for (const std::size_t i : steps) ids.push_back(script_.steps[i].id);
    return fmt::format("{}", fmt::join(ids, ", "));
  }

  void say_short() {
    const auto is_short = [](const Wrong& wrong) {
      return wrong.kind == WrongKind::customer_short;
    };
    const auto first = std::ranges::find_if(made_.wrong, is_short);
    if (first == made_.wrong.end()) return;
    const auto count = std::ranges::count_if(made_.wrong, is_short);
    Finding& finding = say(
        "rehearse.short", Grade::halt,
        fmt::format("{} customers who are to stay on fall short; the first, {}, {} at {} ({})",
                    count, customer(first->customer),
                    first->at_once ? "is out at once" : "falls short", clock(first->at),
                    step_words(first->step)),
        first->at_once ? "do not start a countdown: feed them another way, or shut their meters "
                         "first"
                       : "change the plan, the hour or the day: whoever is short for a moment "
                         "is out",
        "customer " + network_.customers.id[static_cast<std::size_t>(first->customer)]);
    finding.quantity = "lowest pressure at the main";
    finding.value_si = first->pressure.si();
    if (std::isfinite(first->limit.si())) finding.limit_si = first->limit.si();
    finding.unit_si = "Pa (gauge)";
  }

  void say_wrong(const Wrong& wrong) {
    const bool tier = wrong.kind == WrongKind::over_maop;
    const bool low = wrong.kind == WrongKind::gauge_low;
    const std::string place =
        tier ? "node " + network_.nodes.id[static_cast<std::size_t>(wrong.node)]
             : "gauge at " + script_.points[*wrong.point].at;
    Finding& finding = say(
        tier ? "rehearse.over_maop" : "rehearse.gauge", tier ? Grade::halt : Grade::warn,
        fmt::format(
            "{}: {} the limit of {} from {} on ({}), {} to {}", place, low ? "under" : "over",
            units::print(wrong.limit, question_.system, low ? Toward::up : Toward::down),
            clock(wrong.at), step_words(wrong.step), low ? "down" : "up",
            units::print(wrong.pressure, question_.system, low ? Toward::down : Toward::up)),
        "find out why before the start; that step's sheet says what to do if it happens", place);
    finding.quantity = low ? "lowest reading" : "highest pressure";
    finding.value_si = wrong.pressure.si();
    finding.limit_si = wrong.limit.si();
    finding.unit_si = "Pa (gauge)";
  }

  void say_way(const WayBackOnClock& way) {
    if (!way.short_at) return;
    const std::string& letter = script_.shutoffs[way.shutoff].letter;
    const std::string who = customer(way.customer);
    if (!way.undo) {
      say("rehearse.no_return", Grade::undecided,
          fmt::format("after {} is shut, {} falls short at {} if nobody goes on; how long opening "
                      "takes is not known",
                      letter, who, clock(*way.short_at)),
          "decide how long it takes to open it again before it is shut", "shut-off " + letter);
      return;
    }
    const std::string undo = units::print(*way.undo, question_.system, Toward::up);
    Finding& finding =
        way.no_return
            ? say("rehearse.no_return", Grade::warn,
                  fmt::format("point of no return: once {} is shut ({}), {} falls short at {}, and "
                              "opening it again takes {}",
                              letter, clock(way.shut), who, clock(*way.short_at), undo),
                  "two people accept it by name before it is shut", "shut-off " + letter)
            : say("rehearse.no_return", Grade::info,
                  fmt::format("with {} shut and nobody going on, {} falls short at {}: opening it "
                              "again takes {} and begins at {} at the latest",
                              letter, who, clock(*way.short_at), undo, clock(*way.latest)),
                  "write that time on the sheet; go back before it, not at it",
                  "shut-off " + letter);
    finding.quantity = "latest moment to begin undoing, from the first step";
    finding.value_si = way.latest->si();
    finding.limit_si = way.shut.si();
    finding.unit_si = "s";
  }

  void say_out() {
    if (script_.out.empty()) return;
    say("rehearse.out", Grade::info,
        made_.first_out
            ? fmt::format("{} customers lose gas by the plan; of those who still draw {} fall "
                          "short, the first at {}",
                          script_.out.size(), made_.out_as_planned, clock(*made_.first_out))
            : fmt::format("{} customers lose gas by the plan; none of them draws any more when it "
                          "goes",
                          script_.out.size()),
        "count their meters before the start and before gas goes back");
  }

  void say_times() {
    const Clock& clock = made_.clock;
    if (!clock.without_time.empty())
      say("rehearse.time", Grade::undecided,
          fmt::format("no time set for {}: decide. They count as nothing, so the main is shut for "
                      "longer, and further into the day, than this clock says",
                      joined_steps(clock.without_time)),
          "set steps.time in the procedure, or give the times with the question");
    if (!clock.not_ready.empty())
      say("rehearse.time", Grade::undecided,
          fmt::format("no time set until {} can begin (finding, digging, setting the tool): decide",
                      joined_steps(clock.not_ready)),
          "set the plan.time rows in the procedure");
  }

  void say_hunting() {
    say("rehearse.hunting", Grade::warn,
        fmt::format("stations act on each other: they were let give {:.2g} of the absolute "
                    "pressure, and pressures about them are that uncertain",
                    made_.regulators_give),
        "watch those stations' gauges");
  }

  const RehearseQuestion& question_;
  const Script& script_;
  const network::Network& network_;
  const Rehearsal& made_;
  Findings all_;
};

}  // namespace

Findings rehearsal_findings(const RehearseQuestion& question, const Rehearsal& made) {
  return Saying(question, made).go();
}

}  // namespace bellhole::plan
