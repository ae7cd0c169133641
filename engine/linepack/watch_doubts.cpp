// What stands in the way of an answer, whatever the needle does.
#include <fmt/format.h>

#include "linepack/watch_work.hpp"
#include "linepack/words.hpp"

namespace bellhole::linepack {
namespace {

using units::Toward;

void no_draw(const Work& work, bool none) {
  if (work.question.asks == Asks::all_meters_shut) {
    work.add(found("watch.no_draw", none ? Grade::halt : Grade::undecided,
                   "what one thing left open would draw is given as nought: a thing that draws "
                   "nothing is never seen, however long the gauge is watched",
                   "give the least that must be seen: a pilot light", "draw"));
    return;
  }
  work.add(found("watch.no_draw", none ? Grade::halt : Grade::undecided,
                 none ? "nothing is drawn: a closed main then holds its pressure whether it is "
                        "fed or not, and a steady gauge proves nothing"
                      : "the low draw is nought: while nothing is drawn a steady gauge proves "
                        "nothing, however long it is watched",
                 "make a known draw (a flare, a measured blow) or find the least that is drawn",
                 "draw"));
}

void doubt_draw(const Work& work) {
  const WatchQuestion& question = work.question;
  if (!question.draw) {
    work.add(found("watch.draw", Grade::undecided,
                   "whether services on the section still draw is not said: what they draw hides "
                   "let-by",
                   "shut the services and say so (--draw 0scfh), or say what they may draw",
                   "draw"));
    return;
  }
  const Draw draw = *question.draw;
  if (!work.falls()) return;
  if (!(draw.low.si() > 0.0)) {
    no_draw(work, !(draw.high.si() > 0.0));
    return;
  }
  if (draw.low == draw.high) {
    work.add(found("watch.one_draw", Grade::undecided,
                   "one value of the draw is given: the time to watch rests on the least that may "
                   "be drawn, the time left on the most",
                   "give both ends: --draw LOW:HIGH", "draw"));
  }
}

void doubt_let_by(const Work& work) {
  const Watched& watched = work.watched;
  if (work.falls() || !watched.least || watched.least->si() > 0.0) return;
  work.add(found("watch.let_by_hidden", Grade::halt,
                 fmt::format("services may draw {}, as much as the let-by that must be seen: the "
                             "needle may stand still while gas comes in",
                             units::print(work.question.draw->high, work.system, Toward::up)),
                 "shut the services on the section before it is watched", "draw"));
}

void doubt_gauge(const Work& work) {
  const WatchQuestion& question = work.question;
  const auto print = [&](PressureDifference p) { return units::print(p, work.system); };
  std::string dial;
  if (question.gauge.range) {
    dial = fmt::format(" (dial {} to {})", units::print(question.gauge.range->first, work.system),
                       units::print(question.gauge.range->second, work.system));
  }
  if (work.blind()) {
    work.add(found(
        "watch.gauge_blind", Grade::undecided,
        fmt::format("the gauge{} reads {}, and a needle that moves by {} is needed: a fall cannot "
                    "show on it. At zero it cannot see a low-pressure feed of some inches of water",
                    dial, units::print(question.pressure, work.system), print(work.visible())),
        "fit a gauge for this pressure, of inches of water for low pressure", "gauge_step"));
    return;
  }
  const auto low = work.profile.ruling("linepack.low_pressure", {}).as<kinds::GaugePressure>();
  if (!work.falls() && (!low || work.visible() > *low - GaugePressure())) {
    work.add(found(
        "watch.gauge_blind", Grade::undecided,
        fmt::format("the gauge{} shows no rise under {}: a low-pressure main beyond the shut-offs "
                    "could fill the section to its own pressure unseen",
                    dial, print(work.visible())),
        "fit a gauge of inches of water, or make sure that nothing beyond runs at low pressure",
        "gauge_step"));
  }
}

void doubt_drift(const Work& work) {
  const Drift& drift = work.question.drift;
  const Watched& watched = work.watched;
  const bool barometer = drift.barometer || drift.barometer_rate;
  const bool temperature = drift.temperature || drift.temperature_k_per_s;
  if (!barometer)
    work.watched.assumed.emplace_back(
        "barometer_drift: none was given; the barometer counts as still");
  if (!temperature)
    work.watched.assumed.emplace_back(
        "temperature_drift: none was given; the gas counts as of one temperature");
  const double pa = absolute(work.question.pressure, work.question.closed.barometer).si();
  const auto by_gas = TemperatureDifference::from_si(work.visible().si() / pa *
                                                     work.question.closed.temperature.si());
  if (!barometer || !temperature) {
    work.add(found(
        "watch.drift", Grade::warn,
        fmt::format("{} {} not counted: {} of barometer, or {} in the gas, moves the needle by the "
                    "{} that must show",
                    !barometer && !temperature ? "barometer and temperature"
                    : !barometer               ? "the barometer"
                                               : "the gas's temperature",
                    !barometer && !temperature ? "are" : "is",
                    units::print(work.visible(), work.system),
                    units::print(by_gas, work.system, Toward::down),
                    units::print(work.visible(), work.system)),
        "say what they may change while it is watched: --barometer-drift, --temperature-drift",
        "drift"));
  }
  const bool moves = watched.least && watched.least->si() > 0.0;
  if (moves && !work.blind() && !watched.watch) {
    work.add(found("watch.drift", Grade::undecided,
                   "barometer and temperature may drift as fast as the needle would move: no time "
                   "is long enough",
                   "watch when they are steadier, or correct each reading for them", "drift"));
  }
}

void doubt_time(const Work& work) {
  const WatchQuestion& question = work.question;
  const Watched& watched = work.watched;
  if (question.asks != Asks::fed_elsewhere) return;
  if (!question.floor) {
    work.add(found("watch.floor", Grade::undecided,
                   "the least pressure that serves the customers is not given: how long the gas "
                   "lasts cannot be told",
                   "give it: --floor", "floor"));
    return;
  }
  if (watched.left && watched.left->at_once) {
    work.add(found("watch.out_at_once", Grade::halt,
                   "if nothing feeds this part its customers are out at once: there is no time to "
                   "watch a gauge in",
                   "find the feed before the main is shut, or shut the customers off first",
                   "pressure"));
    return;
  }
  if (!watched.watch) return;
  const PressureDifference over = question.pressure - *question.floor;
  if (watched.must_move > over) {
    work.add(found(
        "watch.too_coarse", Grade::undecided,
        fmt::format("the needle must move by {}, and after {} the customers are already under "
                    "their least pressure",
                    units::print(watched.must_move, work.system), units::print(over, work.system)),
        "use a finer gauge", "gauge_step"));
  } else if (watched.left && watched.left->shortest && *watched.left->shortest < *watched.watch) {
    work.add(found(
        "watch.out_before_seen", Grade::warn,
        fmt::format("at the high draw the gas is gone after {}, before the {} that a steady gauge "
                    "needs at the low draw: a needle that falls is an answer at once, one that "
                    "stands still is none until then",
                    spell(*watched.left->shortest, Toward::down),
                    spell(*watched.watch, Toward::up)),
        "read the gauge all the time, and have the shut-off ready to open again", "draw"));
  }
}

}  // namespace

void find_doubts(const Work& work) {
  doubt_draw(work);
  doubt_let_by(work);
  doubt_gauge(work);
  doubt_drift(work);
  doubt_time(work);
}

}  // namespace bellhole::linepack
