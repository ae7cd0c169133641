// The answer as a sentence: the question, the time to watch, and what may not be concluded.
#include <fmt/format.h>

#include "linepack/watch_work.hpp"
#include "linepack/words.hpp"

namespace bellhole::linepack {
namespace {

using units::Toward;

void not_concluded(const Work& work) {
  auto& list = work.watched.not_concluded;
  switch (work.question.asks) {
    case Asks::fed_elsewhere:
      list.emplace_back("that the other feed carries this load, or the load of a colder hour");
      list.emplace_back(
          "that there is another feed at all: gas that passes your own shut-off, a bypass or a "
          "service fed from behind holds the needle too");
      list.emplace_back("anything from a needle that stood still for less than the time to watch");
      return;
    case Asks::shut_off_tight:
      list.emplace_back("that no gas passes: only that less passes than must be seen");
      list.emplace_back("that it stays so: a squeeze can let by hours later");
      list.emplace_back(
          "anything while services on the section draw or the vent stands open: both hide let-by");
      list.emplace_back("which of the shut-offs is the tight one");
      return;
    case Asks::all_meters_shut:
      list.emplace_back(
          "that every meter is shut: an open meter behind which nothing burns draws nothing");
      list.emplace_back(
          "anything while the supply lets by into the sector: that hides a meter left open");
      list.emplace_back("that the house lines are tight: each is tested before it gets gas");
      return;
  }
}

std::string what_happens(const Work& work) {
  const Watched& watched = work.watched;
  const std::string move = units::print(watched.must_move, work.system);
  const std::string flow = units::print(*watched.least, work.system);
  switch (work.question.asks) {
    case Asks::fed_elsewhere:
      return fmt::format("a part that nothing feeds falls by {} in that time at a draw of {}", move,
                         flow);
    case Asks::shut_off_tight:
      return fmt::format("a let-by that leaves {} in the section lifts it by {} in that time", flow,
                         move);
    case Asks::all_meters_shut:
      return fmt::format("one thing left open that draws {} lowers it by {} in that time", flow,
                         move);
  }
  return {};
}

/// Without a feed there is no time in which a gauge could be watched.
bool out_at_once(const Work& work) {
  const auto& left = work.watched.left;
  return work.question.asks == Asks::fed_elsewhere && left && left->at_once;
}

std::string time_left(const Work& work) {
  const Watched& watched = work.watched;
  const bool answered = watched.judged && watched.judged->needle != Needle::too_soon;
  if (answered || out_at_once(work)) return {};
  if (work.question.asks != Asks::fed_elsewhere || !watched.left || !watched.left->shortest)
    return {};
  return fmt::format(
      " If nothing feeds it, the gas that it holds lasts {} at a draw of {}, down to "
      "{}.",
      spell(*watched.left->shortest, Toward::down),
      units::print(work.question.draw->high, work.system),
      units::print(*work.question.floor, work.system));
}

}  // namespace

void say(const Work& work) {
  Watched& watched = work.watched;
  not_concluded(work);
  const std::string asked(words(work.question.asks));
  std::string answer;
  if (watched.judged) {
    for (const Finding& finding : watched.findings) {
      if (finding.rule == "watch.needle") answer = finding.says + ".";
    }
    answer[0] = static_cast<char>(answer[0] - 'a' + 'A');
  } else if (out_at_once(work)) {
    answer = "There is no time to watch: if nothing feeds it, its customers are out at once.";
  } else if (watched.watch) {
    answer = fmt::format(
        "Watch the gauge for at least {}: {}. A needle that stands still for less says nothing.",
        spell(*watched.watch, Toward::up), what_happens(work));
  } else {
    answer = "No time of watching answers it as things stand: a steady gauge says nothing.";
  }
  std::string never;
  for (const std::string& item : watched.not_concluded) never += (never.empty() ? "" : "; ") + item;
  watched.says = fmt::format("The question: {} {}{} Not to be concluded: {}.", asked, answer,
                             time_left(work), never);
}

}  // namespace bellhole::linepack
