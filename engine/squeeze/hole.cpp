// Places for the squeeze in the exposed length, and how much to expose.
#include <fmt/format.h>

#include <algorithm>

#include "squeeze/work.hpp"

namespace bellhole::squeeze {
namespace {

Finding place_finding(Grade grade, std::string says, std::string action) {
  Finding finding;
  finding.rule = "squeeze.place";
  finding.grade = grade;
  finding.says = std::move(says);
  finding.action = std::move(action);
  finding.source = "clearance of the profile, from the squeeze to the near edge";
  finding.evidence = Evidence::company;
  finding.unit_si = kinds::Length::symbol;
  finding.about = "exposed";
  return finding;
}

/// Clearance from the centreline: the greater of so many diameters and a length, and the half-width
/// on top where the profile measures from the tool's edge.
std::optional<Length> clearance_of(const Work& work) {
  const auto diameters = work.ruling("squeeze.clearance_diameters");
  const auto length = work.ruling("squeeze.clearance");
  std::optional<Length> clearance;
  if (diameters.number()) clearance = work.sheet.pipe.size.od * *diameters.number();
  if (length.number())
    clearance = std::max(clearance.value_or(Length()), *length.as<kinds::Length>());
  if (!clearance) {
    work.add(
        procedure::not_set(length, {"clearance", std::nullopt, "profile", "", ""}, work.units));
    return std::nullopt;
  }
  work.add(procedure::caveats(diameters, "profile", work.units));
  work.add(procedure::caveats(length, "profile", work.units));
  const auto from = work.ruling("squeeze.clearance_from");
  if (!from.word())
    work.add(procedure::not_set(from, {"clearance", std::nullopt, "profile", "", ""}, work.units));
  if (from.word() == "tool_edge") {
    if (!work.sheet.half_width) return std::nullopt;
    clearance = *clearance + *work.sheet.half_width;
  }
  return clearance;
}

std::optional<Length> half_width_of(const Work& work) {
  if (work.question.half_width) return work.question.half_width;
  if (work.question.tool && work.question.tool->half_width) return work.question.tool->half_width;
  Finding finding = place_finding(Grade::undecided,
                                  "the tool's half-width along the pipe is not known: whether it "
                                  "fits the exposed length is not looked at",
                                  "measure it: --tool-half-width");
  finding.rule = "tool.half_width";
  finding.about = "tool_half_width";
  finding.source = "the tool's record";
  finding.evidence = Evidence::maker;
  work.add(std::move(finding));
  return std::nullopt;
}

Length middle(const Window& window) {
  return Length::from_si((window.first.si() + window.second.si()) / 2.0);
}

std::optional<Length> best(std::span<const Window> windows) {
  const auto widest = std::ranges::max_element(
      windows, {}, [](const Window& w) { return (w.second - w.first).si(); });
  if (widest == windows.end()) return std::nullopt;
  return middle(*widest);
}

/// Places that must be found; while one or two is open, one.
std::size_t wanted(const Work& work) { return work.sheet.arrangement == Arrangement::two ? 2 : 1; }

void say_places(const Work& work, const Places& places) {
  const auto print = [&](Length length) { return units::print(length, work.units); };
  if (places.windows.empty()) {
    work.add(place_finding(
        Grade::halt,
        fmt::format("no place in the exposed length keeps {} clear on both sides",
                    units::print(*work.sheet.clearance, work.units, units::Toward::up)),
        "expose more pipe, or squeeze elsewhere"));
  } else if (places.fit.size() < wanted(work)) {
    work.add(place_finding(Grade::halt, "the exposed length has no two places for a double squeeze",
                           "expose more pipe, or use two holes"));
  } else if (!places.all_seen) {
    work.add(place_finding(Grade::undecided,
                           fmt::format("every place lies within {} of the end of the exposed "
                                       "length: what is hidden there is not known",
                                       print(*work.sheet.clearance)),
                           "expose more pipe, or have the records settle what lies beyond"));
  }
}

}  // namespace

void find_places(const Work& work) {
  Sheet& sheet = work.sheet;
  sheet.half_width = half_width_of(work);
  sheet.clearance = clearance_of(work);
  if (!sheet.clearance) return;
  const Length half = sheet.half_width.value_or(Length());
  const Length apart = std::max(*sheet.clearance, 2.0 * half);
  const auto expose = [&](int count) { return hole_length(count, apart, *sheet.clearance, half); };
  sheet.hole = HoleLengths{expose(1), expose(2), expose(2), expose(3), std::nullopt};
  if (sheet.half_width) {
    const auto beside = [&](int count) {
      return hole_beside_joint(count, apart, *sheet.clearance, half);
    };
    sheet.hole->beside_joint = {beside(1), beside(2), beside(2), beside(3)};
  }
  if (!work.question.exposed) {
    work.add(place_finding(Grade::undecided,
                           "the exposed length is not given: no place is looked for",
                           "measure it from one end: --exposed 0in:84in --feature joint@8in"));
    return;
  }
  const Hole hole{*work.question.exposed, work.question.features};
  Places places;
  places.windows = windows(hole, *sheet.clearance, half);
  places.seen = seen_windows(hole, places.windows, *sheet.clearance);
  places.at = places.seen.empty() ? best(places.windows) : best(places.seen);
  // Places that show everything within the clearance come first; the others are better than none.
  places.fit = squeeze::places(places.seen, apart);
  places.all_seen = places.fit.size() >= wanted(work);
  const std::size_t shown = sheet.arrangement == Arrangement::one ? 1 : 2;
  if (places.fit.size() < shown) places.fit = squeeze::places(places.windows, apart);
  sheet.places = std::move(places);
  say_places(work, *sheet.places);
}

}  // namespace bellhole::squeeze
