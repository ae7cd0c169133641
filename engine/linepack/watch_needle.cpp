// What the readings say to the question.
#include <fmt/format.h>

#include <cmath>

#include "linepack/watch_work.hpp"
#include "linepack/words.hpp"

namespace bellhole::linepack {
namespace {

using units::Toward;

Finding needle(Grade grade, std::string says, std::string action) {
  return found("watch.needle", grade, std::move(says), std::move(action), "readings");
}

std::string flow_of(const Work& work) {
  const auto& flow = work.watched.judged->flow;
  if (!flow) return "an amount that the first and last reading do not tell";
  return units::print(StdFlow::from_si(std::abs(flow->si())), work.system);
}

std::string over(const Work& work, PressureDifference moved) {
  return fmt::format("{} in {}", units::print(moved, work.system),
                     spell(work.watched.judged->watched, Toward::nearest));
}

void too_soon(const Work& work) {
  const Watched& watched = work.watched;
  const Judged& judged = *watched.judged;
  std::string says;
  if (judged.count < 2) {
    says = "one reading shows no needle standing still or moving";
  } else if (!watched.watch) {
    says = fmt::format(
        "the needle stood still for {}, and here no time is long enough for that to "
        "mean anything",
        spell(judged.watched, Toward::down));
  } else {
    says = fmt::format("watched for {} of at least {}: a needle that stands still says nothing yet",
                       spell(judged.watched, Toward::down), spell(*watched.watch, Toward::up));
  }
  work.add(needle(Grade::undecided, says, "go on watching; conclude nothing"));
}

void held_still(const Work& work) {
  const Watched& watched = work.watched;
  const std::string time = spell(watched.judged->watched, Toward::down);
  switch (work.question.asks) {
    case Asks::fed_elsewhere:
      work.add(needle(
          Grade::info,
          fmt::format("the needle stood still for {}; a part that nothing feeds would have fallen "
                      "by {} or more: gas comes in from somewhere",
                      time, units::print(watched.must_move, work.system, Toward::down)),
          "find where it comes from, and whether that carries the load: look past your own "
          "shut-off "
          "first"));
      return;
    case Asks::shut_off_tight:
      work.add(needle(Grade::info,
                      fmt::format("the needle stood still for {}: no more than {} passes the "
                                  "shut-offs as they stand now",
                                  time, units::print(*watched.least, work.system, Toward::up)),
                      "go on watching while the cut is open: a squeeze can let by later"));
      return;
    case Asks::all_meters_shut:
      work.add(needle(Grade::info,
                      fmt::format("the needle stood still for {}: nothing draws {} or more", time,
                                  units::print(*watched.least, work.system, Toward::up)),
                      "compare the list of meters shut with the list of meters affected"));
      return;
  }
}

void fallen(const Work& work) {
  const Judged& judged = *work.watched.judged;
  const std::string moved = over(work, judged.fell);
  if (work.question.asks == Asks::fed_elsewhere) {
    std::string left;
    if (judged.left && judged.left->shortest)
      left = fmt::format("; at the high draw {} are left from the last reading",
                         spell(*judged.left->shortest, Toward::down));
    work.add(needle(Grade::halt,
                    fmt::format("the needle fell by {}: this part lives off the gas that it holds, "
                                "{} more than comes in{}",
                                moved, flow_of(work), left),
                    "open the shut-off again, or shut the customers off before the gas is gone"));
  } else if (work.question.asks == Asks::shut_off_tight) {
    work.add(needle(Grade::undecided,
                    fmt::format("the needle fell by {}, where it can only stand or rise: something "
                                "draws or leaks out of the section, and that hides let-by",
                                moved),
                    "find the service or the leak, then watch again"));
  } else {
    work.add(needle(Grade::halt,
                    fmt::format("the needle fell by {}: {} leaves the sector, through a meter left "
                                "open or a leak",
                                moved, flow_of(work)),
                    "no gas goes back: walk the meters again and look for the leak"));
  }
}

void risen(const Work& work) {
  const std::string moved = over(work, work.watched.judged->rose);
  if (work.question.asks == Asks::shut_off_tight) {
    work.add(
        needle(Grade::halt,
               fmt::format("the needle rose by {}: {} passes the shut-offs", moved, flow_of(work)),
               "do not cut: find which shut-off lets by"));
  } else if (work.question.asks == Asks::fed_elsewhere) {
    work.add(needle(Grade::undecided,
                    fmt::format("the needle rose by {}, where a part that nothing feeds can only "
                                "fall: more comes in than is drawn, or the gas was warmed, or a "
                                "reading is wrong",
                                moved),
                    "find where it comes from: past your own shut-off, a tie, a service fed from "
                    "behind"));
  } else {
    work.add(needle(Grade::undecided,
                    fmt::format("the needle rose by {}, where a sector with everything shut can "
                                "only stand or fall: a shut-off lets by into it, and that hides a "
                                "meter left open",
                                moved),
                    "make the supply tight, then watch again"));
  }
}

}  // namespace

void find_needle(const Work& work) {
  if (!work.watched.judged) return;
  switch (work.watched.judged->needle) {
    case Needle::too_soon:
      return too_soon(work);
    case Needle::held:
      return held_still(work);
    case Needle::fell:
      return fallen(work);
    case Needle::rose:
      return risen(work);
    case Needle::moved:
      work.add(needle(
          Grade::undecided,
          fmt::format("the needle moved by {}, less than the {} that must show: it "
                      "neither stood still nor moved for certain",
                      units::print(std::max(work.watched.judged->fell, work.watched.judged->rose),
                                   work.system),
                      units::print(work.visible(), work.system)),
          "go on watching; conclude nothing"));
      return;
    case Needle::both_ways:
      work.add(needle(Grade::undecided,
                      fmt::format("the needle fell by {} and rose by {}: something was opened, "
                                  "shut or drawn while it was watched",
                                  units::print(work.watched.judged->fell, work.system),
                                  units::print(work.watched.judged->rose, work.system)),
                      "find out what, and begin the watch again"));
      return;
  }
}

}  // namespace bellhole::linepack
