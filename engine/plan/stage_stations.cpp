#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plan/main_facts.hpp"
#include "plan/stage_teller.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using network::RegulatorMode;
using network::Sensing;
using network::Ternary;

/// What a state does to the stations: where they feel, what they take in, what they give to.
class Stations final : public StageTeller {
 public:
  Stations(const StageView& view, std::vector<Index>& watch) : StageTeller(view, watch) {
    tiers_of_part();
  }

  Findings tell() {
    for (std::size_t r = 0; r < regulators_.size(); ++r) {
      if (high(r).mode == RegulatorMode::shut) continue;
      sensing(r);
      inlet(r);
      lock_up(r);
      reset(r);
      relief(r);
    }
    return take();
  }

 private:
  // Where regulators feel their pressure.

  void tiers_of_part() {
    touched_.assign(network_.tiers.size(), 0);
    const auto touch = [&](Index pipe) {
      const Index tier = tier_of_main(network_, pipe);
      if (tier != network::none) touched_[at(tier)] = 1;
    };
    for (const Piece& piece : view_.plan.isolated.pieces) touch(piece.pipe);
    for (const Shutoff& shutoff : view_.plan.shutoffs) {
      if (shutoff.place.pipe != network::none) touch(shutoff.place.pipe);
    }
  }

  /// A sensing point that nobody recorded can only be on mains of the tier that the regulator
  /// feeds.
  [[nodiscard]] bool concerned(std::size_t r) const {
    const Index tier = network_.nodes.tier[at(regulators_.outlet[r])];
    return tier == network::none || touched_[at(tier)] != 0;
  }

  void sensing(std::size_t r) {
    const bool remote = regulators_.sensing[r] == Sensing::remote;
    const bool tap_known = remote && regulators_.tap_pipe[r] != network::none;
    if (high(r).mode == RegulatorMode::out) return;
    if (tap_known && high(r).sensing_parted) {
      if (!first(r).sensing_parted) parted(r);
    } else if (tap_known && high(r).mode == RegulatorMode::wide_open &&
               high(r).inlet > high(r).outlet && first(r).mode != RegulatorMode::wide_open) {
      starved(r);
    } else if (!tap_known && (remote || regulators_.sensing[r] == Sensing::unknown) &&
               anything_shut() && concerned(r)) {
      const std::string says =
          remote ? fmt::format(
                       "{} feels its pressure at a tap that the map does not show; it may "
                       "be on the part that loses its gas",
                       station(r))
                 : fmt::format(
                       "where {} feels its pressure is not recorded; a sensing line may lie "
                       "on the part that loses its gas",
                       station(r));
      say_of(
          r, "plan.sensing", Grade::undecided, says,
          fmt::format("find the sensing point before the work; until then {}", post(r, "outlet")));
    }
  }

  void parted(std::size_t r) {
    const std::string& main = network_.pipes.id[at(regulators_.tap_pipe[r])];
    const std::string feels = known(high(r).sensed)
                                  ? fmt::format("which stands at {} without it",
                                                print(high(r).sensed, units::Toward::nearest))
                                  : "which loses its gas";
    const bool opens = !known(high(r).sensed) || high(r).sensed < regulators_.set_point[r];
    auto& finding = say_of(
        r, "plan.sensing", Grade::halt,
        fmt::format("{} feels its pressure on main {}, {}: it {}", station(r), main, feels,
                    opens ? fmt::format("would open wide and over-pressure what it feeds, toward "
                                        "the {} at its inlet",
                                        print(high(r).inlet, units::Toward::up))
                          : "would stand shut and starve what it feeds"),
        fmt::format("move the sensing tap to a main that stays on with what {} feeds, or shut the "
                    "station and feed its system otherwise; {}",
                    station(r), post(r, "outlet")));
    measure(finding, "outlet pressure against set point", worst_outlet(r),
            regulators_.set_point[r]);
  }

  void starved(std::size_t r) {
    auto& finding = say_of(
        r, "plan.sensing", Grade::warn,
        fmt::format("{} feels {} on main {}, less than its set point {}, and runs wide open; its "
                    "outlet stands at {}",
                    station(r), print(high(r).sensed, units::Toward::down),
                    network_.pipes.id[at(regulators_.tap_pipe[r])],
                    print(regulators_.set_point[r], units::Toward::nearest),
                    print(high(r).outlet, units::Toward::up)),
        post(r, "outlet"));
    measure(finding, "outlet pressure against set point", high(r).outlet, regulators_.set_point[r]);
  }

  // Stations that lose what they take in, or what they give to.

  /// Its outlet has gas, and its inlet none or less than the outlet.
  static bool inlet_under_outlet(const network::RegulatorState& state) {
    return known(state.outlet) &&
           !(known(state.inlet) && state.inlet.si() >= state.outlet.si() - at_limit_pa);
  }

  void inlet(std::size_t r) {
    if (!inlet_under_outlet(high(r)) || inlet_under_outlet(first(r))) return;
    const Ternary blocks = regulators_.blocks_reverse[r];
    const std::string action = fmt::format(
        "shut its outlet by hand before its inlet goes, or do not take its inlet side "
        "for dead and do not lean on this feed; {}",
        post(r, "inlet and one on its outlet"));
    if (high(r).mode == RegulatorMode::reverse) {
      auto& finding = say_of(
          r, "plan.regulator_inlet", blocks == Ternary::no ? Grade::warn : Grade::undecided,
          fmt::format(
              "{} loses its inlet and feeds backwards, from its outlet at {} to its inlet{}",
              station(r), print(high(r).outlet, units::Toward::nearest),
              blocks == Ternary::no ? "" : "; whether anything there stops that is not recorded"),
          action);
      measure(finding, "reverse flow", MassFlow::from_si(-high(r).flow.si()),
              MassFlow::from_si(std::nan("")));
    } else if (blocks == Ternary::yes) {
      say_of(r, "plan.regulator_inlet", Grade::warn,
             fmt::format("{} loses its inlet while its outlet stays on; a check or slam-shut is "
                         "recorded, and nothing else keeps gas from flowing back",
                         station(r)),
             action);
    } else {
      say_of(r, "plan.regulator_inlet", Grade::undecided,
             fmt::format("{} loses its inlet while its outlet stays on; it stands shut, and feeds "
                         "backwards as soon as its outlet sags",
                         station(r)),
             action);
    }
  }

  void lock_up(std::size_t r) {
    if (!anything_shut() || !known(high(r).inlet) || high(r).sensing_parted) return;
    const auto region = view_.now.regions.of_node(regulators_.outlet[r]);
    if (drawn_from(view_.now, region)) return;
    if (!drawn_from(view_.first, view_.first.regions.of_node(regulators_.outlet[r]))) return;
    const Index tier = network_.nodes.tier[at(regulators_.outlet[r])];
    const GaugePressure maop = tier == network::none ? GaugePressure::from_si(std::nan(""))
                                                     : network_.tiers.maop[at(tier)];
    const std::string creep =
        fmt::format("what creeps past it can raise that toward the {} at its inlet",
                    print(high(r).inlet, units::Toward::up));
    const std::string action = fmt::format(
        "shut its outlet by hand before this state, or vent what it feeds; {}", post(r, "outlet"));
    if (std::isnan(regulators_.lock_up[r])) {
      say_of(r, "plan.lock_up", Grade::undecided,
             fmt::format("nobody draws from what {} feeds: it locks up, how high is not recorded, "
                         "and {}",
                         station(r), creep),
             action);
      return;
    }
    const auto locked =
        GaugePressure::from_si(regulators_.set_point[r].si() * (1.0 + regulators_.lock_up[r]));
    const GaugePressure relief = regulators_.relief[r];
    const bool over = above(locked, maop) || above(locked, relief);
    const GaugePressure limit = GaugePressure::from_si(std::fmin(maop.si(), relief.si()));
    std::string beside = "no MAOP is recorded: decide";
    if (known(limit))
      beside = fmt::format("{} its {} {}", over ? "above" : "under",
                           known(relief) && limit == relief ? "relief's" : "MAOP of",
                           print(limit, units::Toward::down));
    auto& finding =
        say_of(r, "plan.lock_up",
               over           ? Grade::halt
               : known(limit) ? Grade::warn
                              : Grade::undecided,
               fmt::format("nobody draws from what {} feeds: it locks up at {}, {}, and {}",
                           station(r), print(locked, units::Toward::up), beside, creep),
               action);
    measure(finding, "lock-up pressure", locked, limit);
  }

  void reset(std::size_t r) {
    if (regulators_.needs_reset[r] == Ternary::no || first(r).mode == RegulatorMode::out) return;
    const bool lost = (known(first(r).inlet) && !known(high(r).inlet)) ||
                      (known(first(r).outlet) && !known(high(r).outlet));
    const bool upset = high(r).sensing_parted && !first(r).sensing_parted;
    if (!lost && !upset) return;
    const bool sure = regulators_.needs_reset[r] == Ternary::yes;
    say_of(
        r, "plan.reset", sure ? Grade::warn : Grade::undecided,
        sure ? fmt::format("a device at {} trips and stays shut until a hand resets it", station(r))
             : fmt::format("whether a device at {} trips and needs a hand is not recorded",
                           station(r)),
        fmt::format("post a person at {} who may reset it, before gas comes back; until then "
                    "nobody may count on this feed",
                    station(r)));
  }

  void relief(std::size_t r) {
    const GaugePressure outlet = worst_outlet(r);
    if (!above(outlet, regulators_.relief[r])) return;
    auto& finding =
        say_of(r, "plan.over_relief", Grade::halt,
               fmt::format("the outlet of {} stands at {}, above the {} at which its relief opens",
                           station(r), print(outlet, units::Toward::up),
                           print(regulators_.relief[r], units::Toward::down)),
               fmt::format("do not let it come to this; {}", post(r, "outlet")));
    measure(finding, "outlet pressure", outlet, regulators_.relief[r]);
  }

  std::vector<std::uint8_t> touched_;  ///< one per tier, 1: the plan touches it
};

}  // namespace

Findings station_findings(const StageView& view, std::vector<Index>& watch) {
  return Stations(view, watch).tell();
}

}  // namespace bellhole::plan
