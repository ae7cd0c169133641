#include "plan/undo.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>

#include "gas/flattened.hpp"
#include "network/bore.hpp"
#include "plan/main_facts.hpp"

namespace bellhole::plan {
namespace {

using network::Index;
using network::Network;

std::size_t at(std::int32_t index) { return static_cast<std::size_t>(index); }

class Ways {
 public:
  Ways(const StageView& view, const StageState& previous)
      : view_(view),
        previous_(previous),
        network_(view.question.model.network()),
        gas_(gas::flowing(view.question.model.conditions().gas,
                          view.question.model.conditions().ground)) {}

  Result<WayBack> find() {
    if (!view_.ask.moved) return std::move(way_);
    way_.undo = undo(view_.plan.shutoffs[*view_.ask.moved]);
    if (view_.ask.opening) return std::move(way_);
    BELLHOLE_TRY(left, time_left());
    static_cast<void>(left);
    if (way_.somebody_loses) judge();
    return std::move(way_);
  }

 private:
  // Undoing.

  std::optional<Duration> undo(const Shutoff& shutoff) const {
    const Place& place = shutoff.place;
    switch (place.kind) {
      case ShutKind::squeeze:
        return view_.ask.opening ? close_again(shutoff) : open_again(shutoff);
      case ShutKind::valve:
        return turn("plan.time_turn_valve", place);
      case ShutKind::regulator_outlet:
      case ShutKind::source_outlet:
        return turn("plan.time_turn_outlet", place);
      case ShutKind::placed:
        break;
    }
    return std::nullopt;
  }

  std::optional<Duration> turn(std::string_view rule, const Place& place) const {
    const auto in =
        place.pipe == network::none ? procedure::Case{} : case_of_main(network_, place.pipe);
    return view_.question.profile.ruling(rule, in).as<kinds::Duration>();
  }

  /// Two squeezes with a vent between are moved one after the other.
  static double times(const Shutoff& shutoff) {
    return shutoff.place.squeezes == Squeezes::one ? 1.0 : 2.0;
  }

  static std::optional<Duration> close_again(const Shutoff& shutoff) {
    if (!shutoff.sheet || !shutoff.sheet->sheet || !shutoff.sheet->sheet->close)
      return std::nullopt;
    return shutoff.sheet->sheet->close->with_waits * times(shutoff);
  }

  std::optional<Duration> open_again(const Shutoff& shutoff) const {
    if (!shutoff.sheet || !shutoff.sheet->sheet) return std::nullopt;
    const squeeze::Sheet& sheet = *shutoff.sheet->sheet;
    if (!sheet.open || !sheet.walls) return std::nullopt;
    const Place& place = shutoff.place;
    const double before = std::abs(
        flow_at(network_, previous_.regions, previous_.high, place.pipe, place.station, density())
            .si());
    const auto pressure = [&](int toward) {
      return pressure_at(network_, view_.now.regions, view_.now.high, place.pipe, place.station,
                         toward);
    };
    const GaugePressure live =
        GaugePressure::from_si(std::fmax(pressure(-1).si(), pressure(1).si()));
    const Index tier = tier_of_main(network_, place.pipe);
    const GaugePressure least = tier == network::none ? GaugePressure::from_si(std::nan(""))
                                                      : network_.tiers.least[at(tier)];
    if (!std::isfinite(live.si()) || !std::isfinite(least.si())) return std::nullopt;
    const Length od = sheet.pipe.size.od;
    const auto time = time_to_enough({.od = od,
                                      .bore = od - 2.0 * sheet.walls->nominal,
                                      .wall = sheet.walls->maximum,
                                      .pace = *sheet.open,
                                      .needed = MassFlow::from_si(before),
                                      .live = absolute(live, network_.barometer),
                                      .behind = absolute(least, network_.barometer)},
                                     gas_);
    if (!time) return std::nullopt;
    return *time * times(shutoff);
  }

  [[nodiscard]] double density() const {
    return gas::base_density(view_.question.model.conditions().gas, base()).si();
  }
  [[nodiscard]] gas::Base base() const {
    return {network_.base_pressure, network_.base_temperature};
  }

  // Time left.

  /// Those who have gas until this closing, draw, and fall short or out by it.
  [[nodiscard]] std::vector<Index> losers() const {
    std::vector<std::uint8_t> state(network_.customers.size(), 0);
    for (const CustomerOut& out : view_.plan.out)
      if (out.cause == OutCause::isolated) state[at(out.customer)] = 1;
    const auto mark = [&](const std::vector<Index>& customers) {
      for (const Index c : customers) state[at(c)] = 1;
    };
    mark(previous_.high.customers_short);
    mark(previous_.high.customers_out);
    std::vector<Index> list;
    const auto add = [&](const std::vector<Index>& customers) {
      for (const Index c : customers) {
        if (state[at(c)] == 0 && view_.now.high.wanted[at(c)].si() > 0.0) list.push_back(c);
      }
    };
    add(view_.now.high.customers_short);
    add(view_.now.high.customers_out);
    std::ranges::sort(list);
    return list;
  }

  Result<bool> time_left() {
    std::map<std::int32_t, std::vector<Index>> by_region;
    for (const Index c : losers()) by_region[view_.now.regions.of_customer(c)].push_back(c);
    way_.somebody_loses = !by_region.empty();
    bool all_known = true;
    for (const auto& [region, customers] : by_region) {
      BELLHOLE_TRY(left, lasts(region, customers));
      if (!left) {
        all_known = false;
      } else if (!way_.time_left || *left < *way_.time_left) {
        way_.time_left = left;
      }
    }
    if (!all_known && !(way_.time_left && *way_.time_left == Duration()))
      way_.time_left = std::nullopt;
    return true;
  }

  Result<std::optional<Duration>> lasts(std::int32_t region, const std::vector<Index>& customers) {
    double floor = 0.0, from = std::numeric_limits<double>::infinity(), draw = 0.0;
    for (const Index c : customers) {
      const double least = view_.now.high.customer_least[at(c)].si();
      if (std::isnan(least)) return std::optional<Duration>();
      floor = std::max(floor, least);
      from = std::min(from, previous_.high.customer_pressure[at(c)].si());
    }
    // Everybody on the region draws on its gas; what still comes in does not.
    for (std::size_t c = 0; c < network_.customers.size(); ++c) {
      if (view_.now.regions.of_customer(static_cast<Index>(c)) != region) continue;
      draw += view_.now.high.wanted[c].si() - view_.now.high.delivered[c].si();
    }
    const double volume = volume_of(region);
    if (!(volume > 0.0) || !(draw > 0.0)) return std::optional<Duration>();
    procedure::Case in;
    const Index tier = tier_of_main(network_, network_.customers.pipe[at(customers.front())]);
    if (tier != network::none) in[procedure::Listed::tier] = network_.tiers.id[at(tier)];
    BELLHOLE_TRY(
        drained,
        linepack::drain({.closed = {.volume = Volume::from_si(volume),
                                    .temperature = view_.question.model.conditions().ground,
                                    .barometer = network_.barometer,
                                    .base = base(),
                                    .k_per_pa = gas_.k_per_pa},
                         .from = GaugePressure::from_si(from),
                         .floor = GaugePressure::from_si(floor),
                         .draw = {StdFlow(), StdFlow::from_si(draw)},
                         .low_pressure = view_.question.profile.ruling("linepack.low_pressure", in)
                                             .as<kinds::GaugePressure>()}));
    way_.at_once = way_.at_once || drained.at_once;
    return drained.shortest;
  }

  [[nodiscard]] double volume_of(std::int32_t region) const {
    const auto bores = network::bores_of(network_.pipes, network_.nodes.size());
    double volume = 0.0;
    for (const RegionPiece& piece : view_.now.regions.pieces()) {
      if (piece.region != region) continue;
      volume += linepack::volume_of(bores[at(piece.piece.pipe)].value,
                                    piece.piece.end - piece.piece.begin)
                    .si();
    }
    return volume;
  }

  // Point of no return.

  void judge() {
    const auto& system = view_.question.system;
    const std::string letter = view_.plan.shutoffs[*view_.ask.moved].letter;
    const bool known = way_.undo && way_.time_left;
    way_.no_return = known && *way_.undo > *way_.time_left;
    if (known && !way_.no_return) return;
    const std::string undo =
        way_.undo ? units::print(*way_.undo, system, units::Toward::up) : std::string("not known");
    const std::string left = way_.at_once ? std::string("out at once")
                             : way_.time_left
                                 ? units::print(*way_.time_left, system, units::Toward::down)
                                 : std::string("not known");
    Finding finding{
        .rule = "plan.no_return",
        .grade = known ? Grade::warn : Grade::undecided,
        .says = fmt::format("With {}: opening {} again until enough flows takes {}; the gas of "
                            "those who lose their feed by it lasts {}{}",
                            state_words(view_.plan, view_.ask), letter, undo, left,
                            known ? ": a point of no return" : ""),
        .quantity = "time to undo against time left",
        .unit_si = "s",
        .source = "opening pace of the profile, gas held by what stays joined",
        .evidence = Evidence::derived,
        .action = known
                      ? fmt::format("two people accept this by name {}",
                                    before_words(view_.plan, view_.ask))
                      : "find out what is missing, or take it as a point of no return: two people "
                        "accept it by name",
        .about = "shut-off " + letter};
    if (way_.undo) finding.value_si = way_.undo->si();
    if (way_.time_left) finding.limit_si = way_.time_left->si();
    way_.findings.push_back(std::move(finding));
  }

  const StageView& view_;
  const StageState& previous_;
  const Network& network_;
  gas::Flowing gas_;
  WayBack way_;
};

}  // namespace

Duration when_at(const squeeze::Timetable& pace, Length gap) {
  for (const squeeze::Stretch& stretch : pace.stretches) {
    if (gap <= stretch.from) return stretch.starts;
    if (gap <= stretch.to) return stretch.starts + (gap - stretch.from) / pace.speed;
  }
  return pace.with_waits;
}

std::optional<Length> gap_for(const Opening& opening, const gas::Flowing& gas) {
  const Length met = 2.0 * opening.wall;
  if (opening.needed <= MassFlow()) return met;
  if (opening.live <= opening.behind) return std::nullopt;
  const auto passes = [&](Length gap) {
    const double share = gas::flattened(opening.bore, opening.wall, gap).share;
    const double k = gas::squeeze_loss(share).most;
    return k <= 0.0 ||
           gas::passes(gas, opening.bore, k, opening.live, opening.behind) >= opening.needed;
  };
  Length shut = met, open = opening.od;
  constexpr int halvings = 50;  // to the last bits of a metre
  for (int i = 0; i < halvings; ++i) {
    const Length middle = (shut + open) * 0.5;
    (passes(middle) ? open : shut) = middle;
  }
  return open;
}

std::optional<Duration> time_to_enough(const Opening& opening, const gas::Flowing& gas) {
  const auto gap = gap_for(opening, gas);
  if (!gap) return std::nullopt;
  return when_at(opening.pace, *gap);
}

Result<WayBack> way_back(const StageView& view, const StageState& previous) {
  return Ways(view, previous).find();
}

}  // namespace bellhole::plan
