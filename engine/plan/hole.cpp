#include "plan/hole.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plan/main_facts.hpp"
#include "procedure/judge.hpp"

namespace bellhole::plan {
namespace {

using network::Network;

std::size_t at(network::Index index) { return static_cast<std::size_t>(index); }

/// Two edges that meet but for the last bits of their conversion.
constexpr double hair_m = 1e-6;

Length outward(Length from, int toward, Length by) {
  return Length::from_si(from.si() - toward * by.si());
}

/// Distance of `station` from `from`, counted away from the work.
Length away(Length from, Length station, int toward) {
  return Length::from_si(toward * (from.si() - station.si()));
}

class Digger {
 public:
  Digger(const Network& network, const Work& work, const procedure::Profile& profile,
         const procedure::Case& in, units::System system)
      : network_(network), work_(work), profile_(profile), in_(in), system_(system) {}

  Hole dig(const std::vector<HoleAsk>& asks) {
    if (asks.empty()) return std::move(hole_);
    const auto row = [&](const char* rule) {
      return profile_.ruling(rule, in_).template as<kinds::Length>();
    };
    hole_.working_room = row("hole.working_room");
    hole_.beside = row("hole.beside");
    hole_.below = row("hole.below");
    hole_.bench = row("hole.bench");
    for (const HoleAsk& ask : asks) {
      hole_.sides.push_back(side_of(ask));
      say_places(ask, hole_.sides.back());
    }
    merge();
    hole_.length = Length();
    for (const HoleSide& side : hole_.sides) {
      const auto& length = side.longest().length;
      if (!length) hole_.length.reset();
      if (hole_.length) hole_.length = std::max(*hole_.length, *length);
    }
    say_rows();
    return std::move(hole_);
  }

 private:
  HoleSide side_of(const HoleAsk& ask) {
    HoleSide side;
    side.shutoff = ask.shutoff;
    side.pipe = ask.place.pipe;
    side.toward = ask.toward;
    side.clearance = ask.place.clearance;
    side.apart = ask.place.apart;
    side.half_width = ask.half_width;
    side.tool = ask.tool;
    const std::vector<Length> places = lay_out(ask.place, ask.toward);
    side.joint = joint_of(ask, places.front());
    if (const auto facts = facts_of_main(network_, side.pipe); facts.size) {
      side.od = facts.od;
      const Length cover = network_.pipes.depth[at(side.pipe)];
      if (hole_.below && std::isfinite(cover.si())) side.depth = cover + facts.od + *hole_.below;
      if (hole_.beside) side.width = facts.od + 2.0 * *hole_.beside;
    }
    if (ask.place.squeezes != Squeezes::two) side.options.push_back(option_of(side, places, 1));
    if (ask.place.squeezes != Squeezes::one) side.options.push_back(option_of(side, places, 2));
    return side;
  }

  /// The end of the work on this main, if the ground between it and what is seen of the innermost
  /// place is less than what is left standing.
  std::optional<Length> joint_of(const HoleAsk& ask, Length innermost) const {
    std::optional<Length> joint;
    for (const Piece& piece : work_.pieces) {
      if (piece.pipe != ask.place.pipe) continue;
      const Length near = ask.toward > 0 ? piece.begin : piece.end;
      const Length off = away(near, innermost, ask.toward);
      if (off.si() < 0.0) continue;
      if (!joint || off < away(*joint, innermost, ask.toward)) joint = near;
    }
    if (!joint) return std::nullopt;
    const Length ground = away(*joint, innermost, ask.toward) - ask.place.clearance;
    if (ground.si() > hole_.bench.value_or(Length()).si() + hair_m) return std::nullopt;
    return joint;
  }

  HoleOption option_of(const HoleSide& side, const std::vector<Length>& places,
                       int squeezes) const {
    HoleOption option;
    option.squeezes = squeezes;
    const auto wanted = static_cast<std::size_t>(squeezes);
    option.fits = places.size() >= wanted;
    option.spare = places.size() > wanted;
    const std::size_t used = std::min(places.size(), wanted + 1);
    const Length half = side.half_width.value_or(Length());
    const Length room = hole_.working_room.value_or(Length());
    const Length begin =
        side.joint ? *side.joint : outward(places.front(), -side.toward, half + room);
    const auto add = [&](HolePlaceKind kind, Length station) {
      option.places.push_back({kind, station, away(begin, station, side.toward)});
    };
    for (std::size_t i = 0; i < used; ++i) {
      const bool spare = option.spare && i == 0;
      if (squeezes == 2 && i + 1 == used && option.fits)
        add(HolePlaceKind::vent, (places[i] + places[i - 1]) * 0.5);
      add(spare ? HolePlaceKind::spare : HolePlaceKind::squeeze, places[i]);
    }
    const Length outermost = places[used - 1];
    if (side.half_width) option.length = away(begin, outermost, side.toward) + half + room;
    const Length reach = std::max(side.clearance, half);
    const Length seen_begin =
        side.joint ? *side.joint : outward(places.front(), -side.toward, reach);
    option.seen = std::max(away(seen_begin, outermost, side.toward) + reach,
                           option.length.value_or(Length()));
    return option;
  }

  void merge() {
    std::vector<Excavation> all;
    for (std::size_t s = 0; s < hole_.sides.size(); ++s) {
      const HoleSide& side = hole_.sides[s];
      const HoleOption& option = side.longest();
      const Length inner =
          outward(option.places.front().station, -side.toward, option.places.front().at);
      const Length outer = outward(inner, side.toward, option.length.value_or(option.seen));
      all.push_back({side.pipe, {s}, std::min(inner, outer), std::max(inner, outer)});
    }
    std::ranges::sort(all, {}, [](const Excavation& e) { return std::pair(e.pipe, e.begin); });
    const double bench = hole_.bench.value_or(Length()).si() + hair_m;
    for (Excavation& next : all) {
      const bool joins = !hole_.excavations.empty() && hole_.excavations.back().pipe == next.pipe &&
                         (next.begin - hole_.excavations.back().end).si() <= bench;
      if (!joins) {
        hole_.excavations.push_back(std::move(next));
        continue;
      }
      Excavation& last = hole_.excavations.back();
      last.end = std::max(last.end, next.end);
      last.sides.insert(last.sides.end(), next.sides.begin(), next.sides.end());
    }
  }

  void say_places(const HoleAsk& ask, const HoleSide& side) {
    const bool undecided = side.options.size() > 1;
    for (const HoleOption& option : side.options) {
      if (option.fits && option.spare) continue;
      const bool open = undecided && option.squeezes == 2;
      const std::string what =
          option.squeezes == 2 ? "two squeezes with a vent between" : "a squeeze";
      Finding finding{
          .rule = "hole.places",
          .grade = !option.fits ? (open ? Grade::undecided : Grade::halt) : Grade::warn,
          .says =
              option.fits
                  ? fmt::format("at {} there is no spare place beside {}", ask.letter, what)
                  : fmt::format("at {} the free length of main does not hold {}", ask.letter, what),
          .quantity = "free length for the bars' centreline",
          .value_si = (ask.place.window_end - ask.place.window_begin).si(),
          .limit_si = side.apart.si() * (option.fits ? option.squeezes : option.squeezes - 1),
          .unit_si = std::string(kinds::Length::symbol),
          .source = "clearance of the profile, on the map",
          .evidence = Evidence::derived,
          .action = option.fits
                        ? "decide beforehand what is done if it passes gas; never squeeze the same "
                          "place twice"
                        : "squeeze elsewhere, or shut off some other way",
          .about = ask.letter};
      hole_.findings.push_back(std::move(finding));
      break;
    }
    if (side.half_width) return;
    hole_.findings.push_back(
        {.rule = "tool.half_width",
         .grade = Grade::undecided,
         .says = fmt::format("the half-width of the tool at {} is not known: how much is to be dug "
                             "cannot be told",
                             ask.letter),
         .quantity = "half-width of the tool along the pipe",
         .unit_si = std::string(kinds::Length::symbol),
         .source = "the tool's record",
         .evidence = Evidence::maker,
         .action = "measure it and enter half_width in the tools file",
         .about = ask.letter});
  }

  void say_rows() {
    for (const auto& [rule, says] :
         {std::pair("hole.working_room", "room at the ends of the hole, beyond the outermost tool"),
          std::pair("hole.beside", "room beside the pipe"),
          std::pair("hole.below", "room under the pipe"),
          std::pair("hole.bench", "ground left standing between two holes")}) {
      const auto ruling = profile_.ruling(rule, in_);
      if (!ruling.number())
        hole_.findings.push_back(procedure::not_set(
            ruling, {says, std::nullopt, "hole", "decide before digging", ""}, system_));
      else
        append(hole_.findings, procedure::caveats(ruling, "hole", system_));
    }
  }

  const Network& network_;
  const Work& work_;
  const procedure::Profile& profile_;
  const procedure::Case& in_;
  units::System system_;
  Hole hole_;
};

}  // namespace

std::vector<Length> lay_out(const Place& place, int toward) {
  const auto inside = [&](Length station) {
    return station.si() >= place.window_begin.si() - hair_m &&
           station.si() <= place.window_end.si() + hair_m;
  };
  std::vector<Length> list;
  if (place.apart.si() > hair_m) {
    const Length inner = outward(place.station, -toward, place.apart);
    if (inside(inner)) list.push_back(inner);
  }
  constexpr std::size_t two_and_a_spare = 3;
  Length next = place.station;
  while (inside(next) && list.size() < two_and_a_spare) {
    list.push_back(next);
    if (!(place.apart.si() > hair_m)) break;
    next = outward(next, toward, place.apart);
  }
  return list;
}

Hole hole_of(const Network& network, const Work& work, const std::vector<HoleAsk>& asks,
             const procedure::Profile& profile, const procedure::Case& in, units::System system) {
  return Digger(network, work, profile, in, system).dig(asks);
}

}  // namespace bellhole::plan
