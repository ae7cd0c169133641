// Squeeze algebra, paces, windows and bar radii against published figures and figures worked by
// hand.
#include "pipe/walls.hpp"
#include "squeeze/gap.hpp"
#include "squeeze/pace.hpp"
#include "squeeze/stops.hpp"
#include "squeeze/windows.hpp"
#include "tests/outside/ledger.hpp"
#include "units/parse.hpp"

namespace bellhole {
namespace {

Length in(double value) { return Length::from_si(value * 0.0254); }
double to_in(Length length) { return length.si() / 0.0254; }
double to_mm(Length length) { return length.si() * 1e3; }

pipe::Walls walls(const char* size, double ratio) {
  return *pipe::walls_by_ratio(*pipe::read_size(size, "size"), ratio, "dr");
}
Length gap(const char* size, double ratio, double compression) {
  return squeeze::gap_for(Fraction::from_si(compression), walls(size, ratio).minimum);
}

squeeze::Timetable opening(const char* size, double ratio) {
  const Length od = pipe::read_size(size, "size")->od;
  return squeeze::timetable({.from = gap(size, ratio, 0.30),
                             .to = od,
                             .speed = Speed::from_si(0.5 * 0.0254 / 60),
                             .step = in(0.5),
                             .pause = Duration::from_si(60),
                             .mark_every = in(0.5),
                             .per_count = {}});
}

constexpr const char* practice =
    "common practice: 30 % of twice the minimum wall, 2 in/min closing, 0.5 in/min opening in "
    "half-inch steps with a minute between";
constexpr const char* f1563 =
    "ASTM F1563-01, 5.4: release at 0.5 in/min, worked by hand from OD and gap";

}  // namespace

LEDGER(squeeze) {
  using enum Evidence;
  ledger.check({.quantity = "bar travel, IPS 8 DR 11, 30 % on minimum wall",
                .expected = 7.527,
                .tolerance = 5e-4,
                .unit = "in",
                .source = practice,
                .evidence = common_practice},
               [] { return to_in(opening("IPS 8", 11).travel); });
  ledger.check({.quantity = "shortest closing, IPS 8 DR 11",
                .expected = 225.8,
                .tolerance = 0.05,
                .unit = "s",
                .source = practice,
                .evidence = common_practice},
               [] {
                 const Length od = pipe::read_size("IPS 8", "size")->od;
                 return squeeze::timetable({.from = od,
                                            .to = gap("IPS 8", 11, 0.30),
                                            .speed = Speed::from_si(2 * 0.0254 / 60),
                                            .step = {},
                                            .pause = {},
                                            .mark_every = in(0.5),
                                            .per_count = {}})
                     .moving.si();
               });
  ledger.check({.quantity = "shortest opening, moving, IPS 8 DR 11",
                .expected = 903.3,
                .tolerance = 0.05,
                .unit = "s",
                .source = practice,
                .evidence = common_practice},
               [] { return opening("IPS 8", 11).moving.si(); });
  ledger.check({.quantity = "opening steps, IPS 8 DR 11",
                .expected = 16,
                .tolerance = 1e-9,
                .unit = "1",
                .source = practice,
                .evidence = common_practice},
               [] { return static_cast<double>(opening("IPS 8", 11).stretches.size()); });
  ledger.check({.quantity = "shortest opening with 15 waits, IPS 8 DR 11",
                .expected = 1803.3,
                .tolerance = 0.05,
                .unit = "s",
                .source = practice,
                .evidence = common_practice},
               [] { return opening("IPS 8", 11).with_waits.si(); });
  const auto opens = [&](const char* size, double minutes) {
    ledger.check({.quantity = std::string("shortest opening, moving, ") + size + " DR 11",
                  .expected = minutes,
                  .tolerance = 0.06,
                  .unit = "min",
                  .source = f1563,
                  .evidence = derived},
                 [=] { return opening(size, 11).moving.si() / 60; });
  };
  opens("IPS 2", 4.1);
  opens("IPS 4", 7.9);
  opens("IPS 6", 11.6);
  opens("IPS 8", 15.1);

  ledger.check(
      {.quantity = "gap, dn 125, measured wall 11.4 mm, 80 % of twice the wall",
       .expected = 18.24,
       .tolerance = 1e-6,
       .unit = "mm",
       .source = "UK operative assessment sheet DN 17B: gap of 80 % of twice the wall",
       .evidence = seen},
      [] { return to_mm(squeeze::gap_for(Fraction::from_si(0.20), Length::from_si(0.0114))); });
  ledger.check(
      {.quantity = "compression of a +12 % wall by a stop cut for 30 % on the minimum",
       .expected = 37.5,
       .tolerance = 0.05,
       .unit = "%",
       .source = "1 - 0.70 / 1.12, worked by hand",
       .evidence = derived},
      [] {
        return 100 * squeeze::compressions(gap("IPS 8", 11, 0.30), walls("IPS 8", 11)).at_max.si();
      });
  ledger.check({.quantity = "compression points for 0.010 in of gap, CTS 1/2, wall 0.090 in",
                .expected = 5.6,
                .tolerance = 0.05,
                .unit = "%",
                .source = "0.010 / (2 x 0.090), worked by hand",
                .evidence = derived},
               [] {
                 return 100 * (squeeze::compression(in(0.116), in(0.090)).si() -
                               squeeze::compression(in(0.126), in(0.090)).si());
               });
  const auto window = [](std::size_t end) {
    const squeeze::Hole hole{
        {in(0), in(84)},
        {{"joint", in(8), in(8)}, {"squeeze", in(33), in(33)}, {"fitting", in(66), in(78)}}};
    const auto found =
        squeeze::windows(hole, std::max(3.0 * pipe::read_size("IPS 4", "size")->od, in(12)), in(3));
    return found.size() != 1 ? 0.0 : to_in(end == 0 ? found[0].first : found[0].second);
  };
  constexpr const char* clearance =
      "3 diameters or 12 in, whichever is greater (ASTM F1041 as reported by a GTI/OTD study, "
      "2016), worked by hand";
  ledger.check({.quantity = "window begins, IPS 4, joint 8, squeeze 33, fitting 66 to 78 in",
                .expected = 46.5,
                .tolerance = 1e-6,
                .unit = "in",
                .source = clearance,
                .evidence = derived},
               [=] { return window(0); });
  ledger.check({.quantity = "window ends, the same",
                .expected = 52.5,
                .tolerance = 1e-6,
                .unit = "in",
                .source = clearance,
                .evidence = derived},
               [=] { return window(1); });
  const auto beside = [](int places) {
    const Length clear = 3.0 * pipe::read_size("IPS 8", "size")->od;
    return to_in(squeeze::hole_beside_joint(places, clear, clear, in(3)));
  };
  constexpr const char* laid_out =
      "worked by hand: joint, 25.875 in, squeeze, 25.875 in to each further place, 3 in of tool";
  ledger.check(
      {.quantity = "hole on each side of a new joint, IPS 8, one squeeze and a spare place",
       .expected = 54.75,
       .tolerance = 1e-6,
       .unit = "in",
       .source = laid_out,
       .evidence = derived,
       .independent = false},
      [&] { return beside(2); });
  ledger.check(
      {.quantity = "hole on each side of a new joint, IPS 8, two squeezes and a spare place",
       .expected = 80.625,
       .tolerance = 1e-6,
       .unit = "in",
       .source = laid_out,
       .evidence = derived,
       .independent = false},
      [&] { return beside(3); });
}

}  // namespace bellhole
