// The network through time against line pack by hand.
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <vector>

#include "gas/flattened.hpp"
#include "network/transient.hpp"
#include "tests/outside/ledger.hpp"
#include "tests/support/town.hpp"

namespace bellhole {
namespace {

using support::foot, support::inch, support::psi, support::cubic_foot_per_hour;

constexpr double cubic_foot = foot * foot * foot;

/// Until the customer in the middle of 1,000 ft of 3.682 in bore at 45 psig is under `least`, once
/// it is shut off, behind 1 ft of lead, at once.
std::optional<Duration> until_short(double least_pa, double draw,
                                    const std::vector<network::Leak>& leaks) {
  support::Town town;
  const auto tier = town.tier("T", 66 * psi, least_pa);
  const auto gate = town.node("gate", tier), a = town.node("A", tier), b = town.node("B", tier);
  town.pipe("lead", gate, a, foot, 3.682 * inch);
  const auto main = town.pipe("main", a, b, 1000 * foot, 3.682 * inch);
  town.source("gate", gate, 45 * psi);
  town.customer("C", main, 500 * foot, draw);
  const network::Conditions conditions{.gas = *gas::from_gravity(0.6),
                                       .ground = Temperature::from_si(288.70555)};
  const auto model = network::Model::prepare(town.net, conditions);
  network::Course course{.begins = {.air = Temperature::from_si(291.15)},
                         .lasts = Duration::from_si(900)};
  course.drawing = network::Drawing::constant;
  course.movers.push_back({.place = {0, town.net.pipes.length[0]},
                           .travel = {{Duration{}, 1.0}, {Duration::from_si(0.01), 0.0}}});
  course.leaks = leaks;
  Unwatched unwatched;
  const auto made = model->follow(course, unwatched);
  return made ? made->customers[0].first_short : std::nullopt;
}

/// At 2,000 cubic feet an hour down to 10 psig, s.
double drained() {
  const auto seconds = until_short(10 * psi, 2000 * cubic_foot_per_hour, {});
  return seconds ? seconds->si() : std::numeric_limits<double>::quiet_NaN();
}

/// Through a hole of 10 mm, coefficient 0.85, down to 20 psig, s.
double blown_down() {
  const network::Opening hole{Area::from_si(std::numbers::pi / 4.0 * 0.01 * 0.01), 0.85, 1.30};
  const auto seconds = until_short(20 * psi, 1e-3 * cubic_foot_per_hour,
                                   {{.place = {1, Length::from_si(500 * foot)}, .opening = hole}});
  return seconds ? seconds->si() : std::numeric_limits<double>::quiet_NaN();
}

LEDGER(time) {
  const std::string by_hand =
      "p V M/(Z R T) of 73.943 cubic feet at 45 and at 10 psig, 14.73 psia and 60 degF: 301.93 "
      "less "
      "124.26 standard cubic feet";
  ledger.check(
      {.quantity = "gas that a dead end of 1,000 ft, bore 3.682 in, gives from 45 to 10 psig",
       .expected = 177.67,
       .tolerance = 1.0,
       .unit = "scf",
       .source = by_hand,
       .evidence = Evidence::derived,
       .independent = true},
      [] { return drained() * 2000.0 / 3600.0; });
  ledger.check({.quantity = "how long that lasts at 2,000 cubic feet an hour",
                .expected = 5.33,
                .tolerance = 0.03,
                .unit = "min",
                .source = by_hand,
                .evidence = Evidence::derived,
                .independent = true},
               [] { return drained() / 60.0; });
  ledger.check(
      {.quantity = "how long the same main blows through a hole of 10 mm, Cd 0.85, from 45 "
                   "to 20 psig, with nothing feeding it",
       .expected = 68.6,
       .tolerance = 1.4,
       .unit = "s",
       .source = "choked blow-down of a vessel at one temperature, a mass balance by hand: "
                 "V / (Cd A 0.6673 sqrt(R T)) ln(59.73 / 34.73), ideal gas of gravity 0.6, "
                 "k 1.3",
       .evidence = Evidence::derived,
       .independent = true},
      [] { return blown_down(); });
  ledger.check({.quantity = "inside volume of 1,000 ft of main of 3.682 in bore",
                .expected = 73.943,
                .tolerance = 0.001,
                .unit = "ft3",
                .source = "pi/4 d^2 L",
                .evidence = Evidence::derived,
                .independent = true},
               [] {
                 const auto open =
                     gas::flattened(Length::from_si(3.682 * inch), Length::from_si(0.4 * inch),
                                    Length::from_si(4.482 * inch));
                 return open.area.si() * 1000 * foot / cubic_foot;
               });
  ledger.check({.quantity = "share of the bore open at half the travel of a squeeze",
                .expected = 0.75,
                .tolerance = 1e-9,
                .unit = "1",
                .source = "two half circles and two flats of the same circumference, by hand; no "
                          "measurement is known",
                .evidence = Evidence::derived,
                .independent = true},
               [] { return gas::open_share(0.5); });
}

}  // namespace
}  // namespace bellhole
